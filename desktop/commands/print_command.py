"""``sparkwright print FILE -o CARD.pdf``: the task card of a readings file on paper."""

from pathlib import Path

import click

from desktop import assembly
from desktop.usecases.ports import PaperSize


@click.command("print")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("-o", "--output", "out", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
@click.option("--blank", is_flag=True, help="Leave the readings empty, with limits and targets beside the boxes.")
@click.option("--size", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="Paper size.")
def command(file: Path, out: Path, size: PaperSize, *, blank: bool) -> None:
    """Print the task card of FILE, a readings file. Status 0 once written, 2 for a file or place that cannot be used.

    A card on which something stops is printed too: the paper says so.
    """
    assembly.print_place(file, out, size, blank=blank)
