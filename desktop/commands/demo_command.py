"""``sparkwright demo``: three invented jobs, worked out and printed."""

from pathlib import Path

import click

from desktop.demo import run_demo


@click.command("demo")
@click.option(
    "--paper",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("sparkwright-papers"),
    show_default=True,
    help="The folder for the printed cards; made when it is not there.",
)
def command(folder: Path) -> None:
    """Work out three invented jobs, print their cards, and say what was found."""
    for line in run_demo(folder):
        click.echo(line)
