"""Which shops are open on this machine: a copy of one is not opened beside it, or work would go on in both.

Each window writes a small file into the user's folder, under the shop's id, and holds a lock on it while it lives. A
file whose lock can be taken belongs to nobody any more: the machine drops the lock of a process that was killed.
"""

import json
import os
import re
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from desktop.core.errors import Refusal

_FOLDER = "open-shops"
_SHOP_ID = re.compile(r"[0-9a-z]{1,64}")
Entry = dict[str, str | int]


def refuse_strange_id(shop_id: object, place: Path) -> None:
    """Raise Refusal for an id that this program does not give; in a damaged file it may be no text at all.

    The machine's notes of a shop lie in a folder of that name: another program's word for it must not lead elsewhere.
    """
    if not isinstance(shop_id, str) or not _SHOP_ID.fullmatch(shop_id):
        raise Refusal(f"{place} is damaged: its shop has no id that this program gave. Restore the newest backup.")


class OpenMark:
    """Says to other windows that a shop is open here, until it is taken away."""

    def __init__(self, place: Path, file: IO[bytes]) -> None:
        self._place = place
        self._file = file

    def take_away(self) -> None:
        """Say that the shop is closed here; a second time does nothing."""
        if not self._file.closed:
            self._place.unlink(missing_ok=True)
            self._file.close()


def mark_open(state: Path, shop_id: str, place: Path) -> OpenMark:
    """Write down that a shop is open from a place. Raise Refusal when it is open from another one.

    The same file through another path is no copy. The mark is written before others are looked for: of two windows that
    open two copies at once, at least one sees the other.
    """
    refuse_strange_id(shop_id, place)
    folder = state / _FOLDER / shop_id
    here = place.resolve()
    found = here.stat()
    entry: Entry = {"path": str(here), "device": found.st_dev, "inode": found.st_ino, "process": os.getpid()}
    try:
        mark = _write(folder, entry)
        other = next((one for one in _others(folder, mark) if not _is_same(one, entry)), None)
    except OSError as trouble:
        raise Refusal(
            f"Open shops cannot be written down in {state}: {trouble.strerror}. Make it writable."
        ) from trouble
    if other is not None:
        mark.take_away()
        raise Refusal(
            f"A copy of this shop is open already: {other['path']}. Close that one first, or go on working there."
        )
    return mark


def _write(folder: Path, entry: Entry) -> OpenMark:
    folder.mkdir(parents=True, exist_ok=True)
    name = uuid.uuid4().hex
    new, place = folder / f"{name}.new", folder / f"{name}.open"
    file = new.open("xb")
    try_lock(file)  # nobody else knows the file yet
    file.write(json.dumps(entry).encode())
    file.flush()
    new.rename(place)
    return OpenMark(place, file)


def _others(folder: Path, mine: OpenMark) -> Iterator[Entry]:
    for place in sorted(folder.glob("*.open")):
        if place == mine._place:  # noqa: SLF001 - the same file
            continue
        try:
            file = place.open("r+b")
        except FileNotFoundError:
            continue  # it was closed just now
        with file:
            if try_lock(file):
                place.unlink(missing_ok=True)
            else:
                yield json.loads(file.read())


def _is_same(one: Entry, other: Entry) -> bool:
    return (one["device"], one["inode"]) == (other["device"], other["inode"])


if sys.platform == "win32":  # pragma: no cover - another system

    def try_lock(file: IO[bytes]) -> bool:
        """Take the lock of a file, far behind its end, where it keeps nobody from reading; False when it is taken."""
        import msvcrt  # noqa: PLC0415 - there only

        at = file.tell()
        file.seek(1 << 30)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            file.seek(at)
        return True

else:
    import fcntl

    def try_lock(file: IO[bytes]) -> bool:
        """Take the lock of a file; False when it is taken. It belongs to this handle, not to the whole process."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
