"""The seal at the end of a copy: what every page of it was when it was made, so that any change of it is seen.

The database below it has no check sums of its own: a bit that flips in a text passes every check of SQLite. SQLite does
not read behind the pages that its header counts, so the file opens as it is. Behind the pages stand, in ASCII::

    sparkwright copy 1
    <pages> <bytes of a page> <time>
    <16 digits of the SHA-256 of each page, one after the other>
    <bytes from the first sign of the seal to the end of the file, 12 digits> <SHA-256 of everything before it>
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import IO

from desktop.core.errors import Refusal
from desktop.usecases.records.copies.copy_ports import BadCopy, Pace, Sabotage

_MAGIC = b"sparkwright copy 1\n"
_BEGINS = b"SQLite format 3\0"
_HEADER = 100
_SMALLEST_PAGE = 512
_END = re.compile(rb"(\d{12}) ([0-9a-f]{64})\n")
_END_BYTES = 12 + 1 + 64 + 1
_HEAD = re.compile(rb"sparkwright copy 1\n(\d{1,10}) (\d{3,5}) ([0-9T:+\-]{1,40})\n")
_MOST_HEAD = 120
_DIGITS = 16
_CHUNK = 256
_CONTENT = "Take another copy."


@dataclass(frozen=True, slots=True)
class Database:
    """What the header of a database file says: its pages and their bytes, and whether it may be believed."""

    pages: int
    page_bytes: int
    is_whole: bool

    @property
    def size(self) -> int:
        """The bytes of all pages."""
        return self.pages * self.page_bytes


@dataclass(frozen=True, slots=True)
class CopySeal:
    """A copy whose seal holds: the bytes of its database, and when it was made."""

    size: int
    made_at: str | None


def database_of(head: bytes) -> Database | None:
    """Return what the first bytes of a file say of its database; None for a file that is none."""
    if len(head) < _HEADER or not head.startswith(_BEGINS):
        return None
    written = int.from_bytes(head[16:18], "big")
    page = 65536 if written == 1 else written
    if page < _SMALLEST_PAGE:
        return None
    return Database(int.from_bytes(head[28:32], "big"), page, head[24:28] == head[92:96])


def seal(place: Path, made_at: str, pace: Pace) -> None:
    """Write the seal behind the pages of a finished copy. Raise Refusal when stopped, OSError for the disk."""
    with place.open("r+b") as file:
        database = database_of(file.read(_HEADER))
        if database is None or place.stat().st_size != database.size:
            raise Refusal("The copy is not what was written. Look whether the disk is sound, then do it again.")
        file.seek(0)
        whole, digits = sha256(), []
        for number in range(database.pages):
            page = file.read(database.page_bytes)
            whole.update(page)
            digits.append(sha256(page).hexdigest()[:_DIGITS])
            go_on(pace, number, database.pages)
        text = _MAGIC + f"{database.pages} {database.page_bytes} {made_at}\n".encode("ascii")
        text += "".join(digits).encode("ascii") + b"\n"
        text += b"%012d " % (len(text) + _END_BYTES)
        whole.update(text)
        file.write(text + whole.hexdigest().encode("ascii") + b"\n")


def look_at(place: Path, pace: Pace, named: Path | None = None) -> CopySeal:
    """Read a copy whole and return its seal. Raise BadCopy, with what became of it, unless the seal holds.

    ``named`` is the name by which the refusal calls it, where it is looked at in another place.
    """
    size = place.stat().st_size
    named = named or place
    if not size:
        raise BadCopy(Sabotage.EMPTY, f"{named} is empty: nothing was copied into it. {_CONTENT}")
    with place.open("rb") as file:
        head = file.read(_HEADER)
        database = database_of(head)
        file.seek(max(0, size - _END_BYTES))
        end = _END.fullmatch(file.read(_END_BYTES))
        begins = size - int(end[1]) if end else -1
        file.seek(max(0, begins))
        says = _HEAD.match(file.read(_MOST_HEAD)) if end and begins > 0 else None
        if end is None or says is None:
            raise _without_seal(place, named, size, head, database)
        pages, page_bytes = int(says[1]), int(says[2])
        file.seek(begins + says.end())
        digits = file.read(max(0, size - _END_BYTES - begins - says.end() - 1)).decode("ascii", "replace")
        wrong, whole = _compare(file, (pages, page_bytes, begins), digits, pace)
    if whole == end[2].decode("ascii") and not wrong and begins == pages * page_bytes:
        return CopySeal(begins, says[3].decode("ascii"))
    if wrong > 1:
        raise BadCopy(
            Sabotage.HALF,
            f"{named} is half copied, or was worked in: {wrong} of its {pages} pages are not those that were written. "
            f"{_CONTENT}",
        )
    raise BadCopy(
        Sabotage.CHANGED,
        f"{named} was changed after it was made: one place in it is not as it was written. {_CONTENT}",
    )


def plain_size(place: Path, named: Path) -> int:
    """Return the bytes of the database in a file without a seal. Raise BadCopy when they are not all there."""
    size = place.stat().st_size
    with place.open("rb") as file:
        head = file.read(_HEADER)
    database = database_of(head)
    if database is None or not database.is_whole or size < database.size or not database.pages:
        raise _without_seal(place, named, size, head, database)
    return database.size


def go_on(pace: Pace, done: int, of: int) -> None:
    """Say how far it is, now and then; raise Refusal when somebody wants to stop."""
    if done % _CHUNK == 0 and not pace(done, of):
        raise Refusal("Stopped. Nothing was changed, and no copy was made.")


def _without_seal(place: Path, named: Path, size: int, head: bytes, database: Database | None) -> BadCopy:
    """Say what became of a file whose end is no seal."""
    if database is None and not _BEGINS.startswith(head[: len(_BEGINS)]):
        return BadCopy(Sabotage.STRANGE, f"{named} is no copy of a shop: another program wrote it, or it is damaged.")
    if database is None or size < database.size:
        of = f" of {database.size}" if database else ""
        return BadCopy(Sabotage.CUT, f"{named} is cut short: only {size}{of} bytes of it are there. {_CONTENT}")
    with place.open("rb") as file:
        file.seek(database.size)
        behind = file.read(_MOST_HEAD)
        file.seek(max(0, size - _SMALLEST_PAGE))
        is_blank = not any(file.read())
    if size == database.size:
        return BadCopy(
            Sabotage.UNSEALED,
            f"{named} bears no seal of a copy: back-up did not make it, or its end is missing. "
            "--unsealed takes it after everything else was checked.",
        )
    if is_blank:
        return BadCopy(Sabotage.HALF, f"{named} is half copied: it ends in blank space. {_CONTENT}")
    if _ends_too_soon(behind, size, database):
        return BadCopy(Sabotage.CUT, f"{named} is cut short: the end of its seal is missing. {_CONTENT}")
    return BadCopy(Sabotage.CHANGED, f"{named} was changed after it was made: its end is not as it was. {_CONTENT}")


def _ends_too_soon(behind: bytes, size: int, database: Database) -> bool:
    """Tell whether what stands behind the pages is the beginning of a seal, and only that."""
    if not _MAGIC.startswith(behind[: len(_MAGIC)]):
        return False
    says = _HEAD.match(behind)
    if says is None:
        return len(behind) < _MOST_HEAD
    return size < database.size + says.end() + database.pages * _DIGITS + 1 + _END_BYTES


def _compare(file: IO[bytes], form: tuple[int, int, int], digits: str, pace: Pace) -> tuple[int, str]:
    """Return how many pages are not those of the seal, and the SHA-256 of everything before the last digits."""
    pages, page_bytes, begins = form
    whole, wrong = sha256(), 0
    file.seek(0)
    for number, page in enumerate(_pages(file, begins, page_bytes)):
        whole.update(page)
        wrong += digits[number * _DIGITS : (number + 1) * _DIGITS] != sha256(page).hexdigest()[:_DIGITS]
        go_on(pace, number, pages)
    text = file.read()
    whole.update(text[: -_END_BYTES + 13])
    return wrong, whole.hexdigest()


def _pages(file: IO[bytes], size: int, page_bytes: int) -> Iterator[bytes]:
    left = size
    while left > 0:
        page = file.read(min(page_bytes, left))
        if not page:
            return
        left -= len(page)
        yield page
