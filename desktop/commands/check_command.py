"""``sparkwright check FILE``: work a readings file out and say what was found."""

import sys
from pathlib import Path

import click

from desktop import assembly
from desktop.commands.plain_result import lines_of
from desktop.core.rules.rulebook import nothing_stops
from desktop.files.results import as_json


@click.command("check")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "json_asked", is_flag=True, help="Print JSON. The default when not at a terminal.")
def command(file: Path, *, json_asked: bool) -> int:
    """Work out FILE, a readings file: status 0 when nothing stops, 1 when something does, 2 when it cannot be read."""
    checked = assembly.check_place(file)
    if json_asked or not sys.stdout.isatty():
        text = as_json(checked.worked, checked.findings)
    else:
        text = "\n".join(lines_of(checked.worked, checked.findings))
    click.echo(text.encode("utf-8"))
    return 0 if nothing_stops(checked.findings) else 1
