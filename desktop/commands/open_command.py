"""``sparkwright open [FILE]``: the card in a window."""

import os
import sys
from pathlib import Path

import click

from desktop.assembly import typed_at
from desktop.commands.screen import could_show_window
from desktop.core.errors import Refusal


@click.command("open")
@click.argument("file", type=click.Path(path_type=Path), required=False)
def command(file: Path | None) -> int:
    """Open the card page, with the readings of FILE or empty."""
    if not could_show_window(os.environ, sys.platform):
        raise Refusal("There is no screen: neither DISPLAY nor WAYLAND_DISPLAY is set. Use check and print.")
    if file is not None:
        typed_at(file)  # a file that cannot be used is refused before a window opens
    from desktop.app import open_window  # noqa: PLC0415 - late: only here is a window wanted

    return open_window(file)
