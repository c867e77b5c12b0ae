"""Writing a finished paper to a place, whole or not at all."""

from pathlib import Path

from desktop.core.errors import Refusal


def write_paper(place: Path, data: bytes) -> None:
    """Write bytes to a file in one step; an older file of that name is replaced. Raise Refusal when it cannot be."""
    try:
        if place.exists() and not place.is_file():
            raise Refusal(f"{place}: this place is not a file. Name a file.")
        part = place.with_name(f".{place.name}.part")
        try:
            part.write_bytes(data)
            part.replace(place)
        finally:
            part.unlink(missing_ok=True)
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) and trouble.strerror else "its name cannot be used"
        raise Refusal(f"{place}: cannot be written: {reason}. Choose another place.") from trouble


def make_folder(place: Path) -> None:
    """Make a folder for papers, with those above it; one that is there is used."""
    try:
        place.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) and trouble.strerror else "its name cannot be used"
        raise Refusal(f"{place}: the folder cannot be made: {reason}. Choose another place.") from trouble
