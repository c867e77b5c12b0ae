"""``sparkwright demo``: three invented jobs worked out and printed, or an invented shop in a file of its own."""

import os
import sys
from pathlib import Path

import click

from desktop.commands.screen import has_screen
from desktop.demo import run_demo, shown_card

PAPERS = Path("sparkwright-papers")


@click.command("demo")
@click.option(
    "--shop",
    "shop",
    type=click.Path(path_type=Path),
    help="Build the invented shop in this new file, and open no window.",
)
@click.option(
    "--paper",
    "folder",
    type=click.Path(path_type=Path),
    help=f"The folder for the printed cards; made when it is not there. Without --shop: {PAPERS}.",
)
def command(shop: Path | None, folder: Path | None) -> int:
    """Work out three invented jobs, print their cards, say what was found; open the first where there is a screen.

    With --shop, build a whole invented shop instead: people with their secrets, three years of visits, an order in
    every state, everything signed. It never writes over a file, and is the same each time.
    """
    if shop is not None:
        return _build(shop, folder)
    for line in run_demo(folder or PAPERS):
        click.echo(line)
    if not has_screen(os.environ, sys.platform):
        return 0
    from desktop.app import open_with  # noqa: PLC0415 - late: only here is a window wanted

    return open_with(*shown_card())


def _build(place: Path, papers: Path | None) -> int:
    from desktop.demo.shop import account, build_shop  # noqa: PLC0415 - late: the three jobs need no shop

    for line in account(build_shop(place, papers), place, papers):
        click.echo(line)
    return 0
