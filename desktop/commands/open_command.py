"""``sparkwright open [FILE]``: a readings file, a shop or an empty card in a window."""

import os
import sys
from pathlib import Path

import click

from desktop.assembly import typed_at
from desktop.commands.screen import could_show_window
from desktop.core.errors import Refusal
from desktop.shop_assembly import is_shop_file


@click.command("open")
@click.argument("file", type=click.Path(path_type=Path), required=False)
def command(file: Path | None) -> int:
    """Open FILE, a readings file or a shop file, in a window; without one, the shop that was open last.

    The first time there is none: then three questions make one.
    """
    if not could_show_window(os.environ, sys.platform):
        raise Refusal("There is no screen: neither DISPLAY nor WAYLAND_DISPLAY is set. Use check and print.")
    if file is not None and is_shop_file(file):
        from desktop.shop_windows import open_shop_window  # noqa: PLC0415 - late: only here is a window wanted

        return open_shop_window(file)
    if file is None:
        from desktop.demo.shop import build_shop  # noqa: PLC0415 - the same
        from desktop.shop_windows import open_where_one_was  # noqa: PLC0415 - the same

        return open_where_one_was(lambda place, pace: build_shop(place, pace=pace))
    typed_at(file)  # a file that cannot be used is refused before a window opens
    from desktop.app import open_window  # noqa: PLC0415 - late: only here is a window wanted

    return open_window(file)
