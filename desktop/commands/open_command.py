"""``sparkwright open [FILE]``: the card in a window."""

from pathlib import Path

import click


@click.command("open")
@click.argument("file", type=click.Path(path_type=Path), required=False)
def command(file: Path | None) -> int:
    """Open the card page, with the readings of FILE or empty."""
    from desktop.app import open_window  # noqa: PLC0415 - late: only here is a window wanted

    return open_window(file)
