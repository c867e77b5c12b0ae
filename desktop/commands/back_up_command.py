"""``sparkwright back-up SHOP PLACE``: a copy of a shop file, read back whole."""

from pathlib import Path

import click

from desktop import copy_assembly, shop_assembly
from desktop.commands.upkeep import Progress
from desktop.usecases.records.copies.backup import back_up, copy_words


@click.command("back-up")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("place", type=click.Path(path_type=Path))
def command(shop: Path, place: Path) -> None:
    """Copy SHOP into PLACE, a folder or a new file, and read the copy back. Nothing is ever overwritten.

    In a folder the copy gets the shop's name, the day and the time. Windows may be open on SHOP meanwhile.
    """
    made = back_up(copy_assembly.copy_desk(), shop_assembly.SystemClock(), shop, place, Progress())
    click.echo(copy_words(made))
