"""A shop's own folder of cards and jobs: its TOML files and nothing outside it."""

from pathlib import Path
from stat import S_ISREG

from desktop.core.errors import Refusal
from desktop.files.toml_faults import shown
from desktop.files.toml_text import MOST_BYTES

JOBS_FILE = "jobs.toml"
"""The file of a shop's own jobs; every other TOML file of the folder is a card."""
MOST_FILES = 200
"""Most TOML files of a folder."""


def texts_in(folder: Path) -> tuple[tuple[str, bytes], ...]:
    """Return name and bytes of each TOML file of a folder, by name; none where there is no folder.

    Folders inside it are not looked into. Raise Refusal for a link that leads out of it, for something named like a
    TOML file that is no file, for one larger than 256 KiB, for more than 200 of them, and for a folder that cannot
    be read.
    """
    if not folder.exists():
        return ()
    try:
        inside = folder.resolve(strict=True)
        places = sorted(place for place in inside.iterdir() if place.name.lower().endswith(".toml"))
    except OSError as trouble:
        raise Refusal(f"{folder}: cannot be read: {trouble.strerror}. Check the name and the rights.") from trouble
    if len(places) > MOST_FILES:
        raise Refusal(f"{folder}: {len(places)} TOML files, and {MOST_FILES} is the most. Take some out.")
    return tuple((_visible(place), _bytes(place, inside)) for place in places)


def _visible(place: Path) -> str:
    return place.name if place.name.isprintable() else shown(place.name)


def _bytes(place: Path, inside: Path) -> bytes:
    name = _visible(place)
    try:
        target = place.resolve(strict=True)
        if target.parent != inside:
            raise Refusal(f"{name}: this is a link that leads out of the folder. Put the file itself there.")
        if not S_ISREG(target.stat().st_mode):
            raise Refusal(f"{name}: this is not a file. Only files of cards and jobs may end in .toml here.")
        with target.open("rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except (OSError, RuntimeError) as trouble:
        said = (trouble.strerror if isinstance(trouble, OSError) else None) or "the link leads to itself"
        raise Refusal(f"{name}: cannot be read: {said}. Check the file and the rights.") from trouble
