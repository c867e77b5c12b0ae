"""``sparkwright demo``: three invented jobs, worked out, printed, and shown where there is a screen."""

import os
import sys
from pathlib import Path

import click

from desktop.commands.screen import has_screen
from desktop.demo import run_demo, shown_card


@click.command("demo")
@click.option(
    "--paper",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("sparkwright-papers"),
    show_default=True,
    help="The folder for the printed cards; made when it is not there.",
)
def command(folder: Path) -> int:
    """Work out three invented jobs, print their cards, say what was found; open the first where there is a screen."""
    for line in run_demo(folder):
        click.echo(line)
    if not has_screen(os.environ, sys.platform):
        return 0
    from desktop.app import open_with  # noqa: PLC0415 - late: only here is a window wanted

    return open_with(*shown_card())
