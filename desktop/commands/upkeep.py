"""What the commands about copies have in common: a line of progress, and a secret that is not shown."""

import sys

import click

from desktop.core.errors import Refusal

_WIDTH = 20


class Progress:
    """One line on standard error that grows while it is looked at; nothing where nobody looks."""

    def __init__(self) -> None:
        self._shown = -1

    def __call__(self, done: int, of: int) -> bool:
        """Show how far it is. It is stopped with the keys that stop a program."""
        part = done * _WIDTH // of if of else self._shown
        if part != self._shown and sys.stderr.isatty():
            self._shown = part
            click.echo(f"\r[{'=' * part:<{_WIDTH}}]", err=True, nl=part == _WIDTH)
        return True


def hidden_secret() -> str:
    """Ask for a secret at the terminal without showing it; from a pipe, take its first line."""
    if sys.stdin.isatty():
        secret: str = click.prompt("Secret of the records keeper", hide_input=True, err=True)
        return secret
    line = sys.stdin.readline()
    if not line:
        raise Refusal("A restore asks for the secret of a records keeper, and none was given. Type it at a terminal.")
    return line.rstrip("\r\n")
