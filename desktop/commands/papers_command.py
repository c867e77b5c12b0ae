"""``sparkwright papers``: the kinds of paper, a line each."""

import click

from desktop.usecases.papers.kinds import KINDS


@click.command("papers")
def command() -> None:
    """List the kinds of paper that a shop prints; 'sparkwright paper' prints one."""
    width = max(len(kind.name) for kind in KINDS)
    for kind in KINDS:
        click.echo(f"{kind.name:<{width}}  {kind.says}")
