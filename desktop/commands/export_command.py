"""``sparkwright export SHOP FOLDER``: the signed records in a new folder, for anybody to read and check."""

from pathlib import Path

import click

from desktop import shop_assembly
from desktop.commands.order_numbers import order_number
from desktop.commands.upkeep import Progress
from desktop.core.records.record import visible
from desktop.usecases.ports import PaperSize
from desktop.usecases.records.copies.export import exported_words


@click.command("export")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--order", default="", help="Only the records about this order, such as W-0001, and those about people.")
@click.option("--size", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="Paper size.")
def command(shop: Path, folder: Path, order: str, size: PaperSize) -> int:
    """Write the signed records of SHOP into FOLDER, a new or empty one, with a program that checks them.

    Status 0 when all is sound, 1 when the records are taken out and not all of them are sound, 2 when nothing is.
    """
    done = shop_assembly.export_place(shop, folder, order_number(order) if order else 0, size, Progress())
    lines = [visible(problem.sentence) for problem in done.verified.problems]
    click.echo("\n".join([*lines, exported_words(folder, done)]).encode("utf-8"))
    return 0 if done.verified.is_sound else 1
