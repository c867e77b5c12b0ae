"""A name that was typed for a shop file, looked at before anything waits for it."""

from pathlib import Path

from desktop.core.errors import Refusal


def refuse_no_file(place: Path) -> None:
    """Raise Refusal, with the name, for what is no file that could be read whole: nothing, a folder, a pipe."""
    if not place.exists():
        raise Refusal(f"{place} cannot be opened: there is no such file. Look at its name and its folder.")
    if place.is_dir():
        raise Refusal(f"{place} is a folder. Name the shop file in it.")
    if not place.is_file():
        raise Refusal(f"{place} is no file that can be read whole. Name a shop file.")
