"""``sparkwright doctor SHOP``: how a shop file and the machine around it stand, on one page."""

from pathlib import Path

import click

from desktop.copy_assembly import doctor_page, remade
from desktop.usecases.records.checking.health import is_sound, page


@click.command("doctor")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--remake-lists", "remake", is_flag=True, help="First make the lists again from what they list.")
def command(shop: Path, *, remake: bool) -> int:
    """Look SHOP over: status 0 when it is sound, 1 when something is to be mended, 2 when it cannot be read.

    Each line begins with ok, look or wrong. With --remake-lists the lists of records and of work orders are first made
    again from the records and the orders themselves; nothing that somebody wrote or signed is changed.
    """
    if remake:
        records, orders = remade(shop)
        click.echo(f"The lists were made again: {records} records, {orders} work orders.")
    lines = doctor_page(shop)
    for line in page(lines):
        click.echo(line)
    return 0 if is_sound(lines) else 1
