"""``sparkwright doctor SHOP``: how a shop file and the machine around it stand, on one page."""

from pathlib import Path

import click

from desktop.commands.upkeep import doctor_page
from desktop.usecases.records.checking.health import is_sound, page


@click.command("doctor")
@click.argument("shop", type=click.Path(path_type=Path))
def command(shop: Path) -> int:
    """Look SHOP over: status 0 when it is sound, 1 when something is to be mended, 2 when it cannot be read.

    Each line begins with ok, look or wrong.
    """
    lines = doctor_page(shop)
    for line in page(lines):
        click.echo(line)
    return 0 if is_sound(lines) else 1
