"""TOML from strangers: read with limits, so that no file can take the machine down."""

import re
import tomllib
from pathlib import Path
from stat import S_ISREG
from typing import Any

from desktop.core.errors import Refusal

# A string that never ends reaches to the end of the text, so that no text is looked through twice.
_STRINGS_AND_COMMENTS = re.compile(
    r'''"""(?:\\.|[^\\])*?(?:"""|\\?\Z)|'''
    r"""'{3}.*?(?:'{3}|\Z)|"""
    r""""(?:\\[^\n]|[^"\\\n])*"?|'[^'\n]*'?|#[^\n]*""",
    re.DOTALL,
)
_BETWEEN_NAMES = re.compile(r"[\n=,\[\]{}]")
_BRACKETS = re.compile(r"[\[\]{}]")

MOST_BYTES = 256 * 1024
MOST_KEYS_DEEP = 8


def read_file(place: Path) -> bytes:
    """Return the bytes of a regular file of at most 256 KiB; raise Refusal for anything else."""
    try:
        if not S_ISREG(place.stat().st_mode):
            raise Refusal(f"{place}: this is not a file. Name a readings file.")
        with place.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) and trouble.strerror else "its name cannot be used"
        raise Refusal(f"{place}: cannot be read: {reason}. Check the name and the rights.") from trouble
    return data


def read_toml(data: bytes) -> dict[str, Any]:
    """Parse UTF-8 TOML of at most 256 KiB and at most 8 keys deep; raise Refusal otherwise.

    Size and depth are looked at before parsing: the parser recurses, and a long dotted key takes all memory.
    """
    if len(data) > MOST_BYTES:
        raise Refusal("the file is larger than 256 KiB. Check that it is the right one.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise Refusal(f"the file is not UTF-8 text (byte {trouble.start + 1}). Save it as UTF-8.") from trouble
    if deepest(text) > MOST_KEYS_DEEP:
        raise Refusal(
            f"keys or brackets stand more than {MOST_KEYS_DEEP} deep. Such a file is not one of this program's."
        )
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise Refusal(f"the file is not valid TOML: {trouble}.") from trouble
    except (ValueError, RecursionError) as trouble:
        raise Refusal("the file is not valid TOML: a number is too long or brackets stand too deep.") from trouble


def deepest(text: str) -> int:
    """Tell how deep a TOML text goes: the most names in one dotted key, or the most brackets and braces open at once.

    Nothing is parsed: strings and comments are blanked out first, then signs are counted.
    """
    bare = _STRINGS_AND_COMMENTS.sub("_", text)
    names = max(run.count(".") + 1 for run in _BETWEEN_NAMES.split(bare))
    open_now = open_most = 0
    for bracket in _BRACKETS.findall(bare):
        open_now = open_now + 1 if bracket in "[{" else max(0, open_now - 1)
        open_most = max(open_most, open_now)
    return max(names, open_most)
