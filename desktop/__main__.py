"""The command ``sparkwright``, and ``python -m desktop``."""

import sys

import click

from desktop.commands import Commands
from desktop.core.errors import Refusal

COULD_NOT = 2


def main() -> None:
    """Run one command. Whatever cannot be used ends with status 2 and one line on standard error."""
    try:
        status = Commands().main(prog_name="sparkwright", standalone_mode=False)
    except (Refusal, click.ClickException) as trouble:
        sentence = trouble.sentence if isinstance(trouble, Refusal) else trouble.format_message()
        print(f"sparkwright: {_one_line(sentence)}", file=sys.stderr)  # noqa: T201 - a command line prints
        status = COULD_NOT
    except OSError as trouble:
        print(f"sparkwright: the result cannot be written: {trouble.strerror}.", file=sys.stderr)  # noqa: T201 - the same
        status = COULD_NOT
    except click.Abort:
        status = COULD_NOT
    sys.exit(status if isinstance(status, int) else 0)


def _one_line(sentence: str) -> str:
    return " ".join(sentence.split())


if __name__ == "__main__":
    main()
