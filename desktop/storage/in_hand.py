"""The note of what is just being kept: a small file for each open shop file of a process, in the user's folder.

It is written before the shop file is, and goes away when the shop file is closed. One that nobody holds any more was
left by a process that did not end by itself. It is written over in place, in one piece with its own digest: a note that
was cut by a power failure is known for one. Nobody is kept from working by a note that cannot be written.
"""

import os
import uuid
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from json import dumps, loads
from pathlib import Path
from typing import IO

from desktop.core.errors import Refusal
from desktop.core.shop.stamp import Stamp
from desktop.storage.open_shops import refuse_strange_id, try_lock
from desktop.usecases.records.checking.last_time import InHand

_FOLDER = "in-hand"
_NEW, _NOTE, _TOLD = ".new", ".note", ".told"
_BYTES = 4096
"""Of a note: what a disk writes in one piece or not at all, on most of them."""
_MOST_WORDS = 200
_MOST_ID = 100


@dataclass(frozen=True, slots=True)
class Left:
    """A note that a process left behind; ``hand`` is None when it cannot be read, ``shop`` is its shop file then."""

    place: Path
    shop: str
    hand: InHand | None

    def set_told(self) -> Path:
        """Say that it was told, and return where it stays until the window that told it is closed."""
        told = self.place.with_suffix(_TOLD)
        with suppress(OSError):
            self.place.rename(told)
        return told


class HandNote:
    """The note of one open shop file."""

    def __init__(self, state: Path, shop_id: str, shop: Path) -> None:
        self._folder = state / _FOLDER / shop_id
        self._shop = _name_of(shop)
        self._file: IO[bytes] | None = None
        self._place: Path | None = None

    def write(self, hand: InHand) -> None:
        """Write down what is going to be kept, in the place of what was. Without room for it there is no note."""
        try:
            data = _written(hand, self._shop)
            if self._file is None:
                self._begin(data)
            else:
                self._file.seek(0)
                self._file.write(data)
            os.fsync(self._file.fileno() if self._file else -1)
        except (OSError, ValueError):
            self.take_away()  # a note of something before this would tell what is not so

    def take_away(self) -> None:
        """Take the note away: the shop file is closed, and whatever was kept was told."""
        file, place, self._file, self._place = self._file, self._place, None, None
        with suppress(OSError):
            if place is not None:
                place.unlink(missing_ok=True)
        if file is not None:
            file.close()

    def _begin(self, data: bytes) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        name = uuid.uuid4().hex
        new = self._folder / f"{name}{_NEW}"
        self._file = new.open("x+b", buffering=0)
        self._place = new
        try_lock(self._file)  # nobody else knows the file yet
        self._file.write(data)
        self._place = new.rename(self._folder / f"{name}{_NOTE}")


def left_behind(state: Path, shop_id: str, shop: Path, *, is_told: bool = False) -> Iterator[Left]:
    """Give the notes about a shop file that were left by processes that are gone; none is taken away.

    Those that were told and are still there are given where ``is_told`` asks for them, and no others.
    """
    try:
        refuse_strange_id(shop_id, shop)
        places = sorted((state / _FOLDER / shop_id).glob(f"*{_TOLD if is_told else _NOTE}"))
    except (OSError, Refusal):
        return
    for place in places:
        found = _looked_at(place)
        if found is not None and found.shop in ("", _name_of(shop)):
            yield found


def _looked_at(place: Path) -> Left | None:
    """Read a note; None for one whose process lives."""
    try:
        with place.open("r+b") as file:
            if not try_lock(file):
                return None
            data = file.read(_BYTES + 1)
    except OSError:
        return None
    try:
        digest, _, text = data.rstrip().partition(b"\n")
        if len(data) != _BYTES or sha256(text).hexdigest().encode() != digest:
            return Left(place, "", None)
        table = loads(text)
        at = Stamp("", datetime.fromisoformat(table["at"])).at
        hand = InHand(table["what"], table["by"], at, table["request"], int(table["record"]), table["seal"])
        return Left(place, table["shop"], hand)
    except (ValueError, TypeError, KeyError, RecursionError):
        return Left(place, "", None)


def _written(hand: InHand, shop: str) -> bytes:
    """Return a note. ValueError for one that is too long."""
    if len(hand.request) > _MOST_ID:
        raise ValueError("a request with a long name")
    table = {
        "shop": shop,
        "what": _short(hand.what),
        "by": _short(hand.by),
        "at": hand.at.isoformat(timespec="seconds"),
        "request": hand.request,
        "record": hand.record,
        "seal": hand.seal,
    }
    text = dumps(table).encode()
    data = sha256(text).hexdigest().encode() + b"\n" + text
    if len(data) > _BYTES:
        raise ValueError("a note that is too long")
    return data.ljust(_BYTES)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _MOST_WORDS else f"{text[: _MOST_WORDS - 4]} ..."


def _name_of(shop: Path) -> str:
    """Return what stands in a note for the path of a shop file, however long that is."""
    return sha256(os.fsencode(shop.resolve())).hexdigest()
