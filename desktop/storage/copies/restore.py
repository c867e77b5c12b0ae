"""Taking a copy out again: verified beside the shop file first, and only then put in its place.

What is verified is the very file that is put in place, not only the copy that it was read from. The present file is
kept aside under a name of its own; nothing is erased.
"""

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.signatures import Verifies
from desktop.storage.copies.backup import disk_troubles, rename_new, sync_file, sync_folder
from desktop.storage.copies.closed_file import (
    FIRST_WITH_RECORDS,
    LastWork,
    form_of,
    has_record,
    has_work,
    holds,
    last_work,
    page_faults,
    reading,
    schema_faults,
)
from desktop.storage.copies.copy_seal import go_on, look_at, plain_size
from desktop.storage.open_shops import mark_open
from desktop.storage.places import Surroundings, refuse_new_place
from desktop.usecases.records.copies.copy_ports import BadCopy, Holds, Pace, Sabotage

_AT_ONCE = 1 << 20
_MOST_NAMES = 1000
_BESIDE = ("-journal", "-wal", "-shm")
_SOUND = "Take another copy."


class PreparedFile:
    """A verified copy beside the shop file, under a name of its own. See ``PreparedCopy`` of the ports."""

    def __init__(self, place: Path, shop: Path, made_at: str | None, found: Holds) -> None:
        self.place = place
        self.made_at = made_at
        self.holds = found
        self.present: Holds | None = None
        self.why_unknown: str | None = None
        self.is_ancestor = True
        self._shop = shop

    def compare(self, last: LastWork, verifies: Verifies, pace: Pace) -> None:
        """Look at the present file, and whether the last change and record of the copy stand in it too."""
        if not os.path.lexists(self._shop):
            return
        if os.path.lexists(f"{self._shop}-wal"):
            self.why_unknown = f"another program has {self._shop} open, or left it unfinished"
            return
        try:
            with reading(self._shop, pace, plays_back=True) as db:
                form = form_of(db, self._shop)
                self.present = holds(db, self._shop, form, verifies)
                self.is_ancestor = has_work(db, last) and self._has_last_record(db, form)
        except Refusal as refusal:
            self.why_unknown = refusal.sentence

    def put_in_place(self, now: datetime) -> Path | None:
        """Put it where the shop file lies; return where the present one is kept aside, None when there was none."""
        folder = self._shop.absolute().parent
        with disk_troubles(folder):
            sync_file(self.place)
            aside = self._free_name(now) if os.path.lexists(self._shop) else None
            try:
                if aside:
                    _move(self._shop, aside)
                rename_new(self.place, self._shop)
            except OSError:
                if aside and not os.path.lexists(self._shop):
                    _move(aside, self._shop)
                raise
            sync_folder(folder)
        return aside

    def _has_last_record(self, db: Database, form: int) -> bool:
        chain = self.holds.chain
        return not chain.records or (form >= FIRST_WITH_RECORDS and has_record(db, chain))

    def _free_name(self, now: datetime) -> Path:
        for number in range(1, _MOST_NAMES):
            again = f" ({number})" if number > 1 else ""
            name = f"{self._shop.stem} kept aside {now:%Y-%m-%d %H%M%S}{again}{self._shop.suffix}"
            if not os.path.lexists(self._shop.with_name(name)):
                return self._shop.with_name(name)
        raise Refusal(f"No name is left to keep {self._shop} aside. Take older files out of its folder.")


def _move(old: Path, new: Path) -> None:
    """Rename a shop file with all that belongs to it: a journal left behind would be played back into another file."""
    for end in (*_BESIDE, ""):
        if os.path.lexists(f"{old}{end}"):
            rename_new(Path(f"{old}{end}"), Path(f"{new}{end}"))


@contextmanager
def prepare_copy(
    copy: Path, shop: Path, pace: Pace, verifies: Verifies, around: Surroundings, *, unsealed: bool
) -> Iterator[PreparedFile]:
    """Verify a copy and lay it beside the shop file; at the end it is gone unless it was put in place.

    Raise BadCopy with what became of the copy, and Refusal while a window has the shop open or the place is none for a
    shop file. Nothing is overwritten here. ``unsealed`` takes a file without a copy's seal, after every other check.
    """
    _refuse_copy(copy, shop)
    temporary = shop.absolute().with_name(f".{uuid.uuid4().hex}.part")
    refuse_new_place(temporary, around)
    with disk_troubles(temporary.parent):
        _seal_of(copy, copy, pace, unsealed=unsealed)
        try:
            _write(copy, temporary, pace)
            size, made_at = _seal_of(temporary, copy, pace, unsealed=unsealed)
            os.truncate(temporary, size)
            found, last = _look_inside(temporary, copy, pace, verifies)
            prepared = PreparedFile(temporary, shop, made_at, found)
            # A window has the shop open from another place than the copy: that is what this looks for.
            mark = mark_open(around.state, found.shop_id, copy) if around.state else None
            try:
                prepared.compare(last, verifies, pace)
                yield prepared
            finally:
                if mark:
                    mark.take_away()
        finally:
            for end in ("", *_BESIDE):
                with suppress(OSError):
                    Path(f"{temporary}{end}").unlink(missing_ok=True)


def _refuse_copy(copy: Path, shop: Path) -> None:
    if not copy.is_file():
        raise Refusal(f"{copy} is no file that can be read. Name a copy that back-up made.")
    if shop.is_dir():
        raise Refusal(f"{shop} is a folder. Name the shop file in it, or a new one.")
    if shop.exists() and copy.samefile(shop):
        raise Refusal(f"{copy} is the shop file itself. Name a copy of it.")


def _seal_of(place: Path, named: Path, pace: Pace, *, unsealed: bool) -> tuple[int, str | None]:
    """Return the bytes of the database in a copy, and when it was made."""
    try:
        found = look_at(place, pace, named)
    except BadCopy as bad:
        if bad.kind is not Sabotage.UNSEALED or not unsealed:
            raise
        if any(os.path.lexists(f"{named}{end}") for end in _BESIDE):
            raise BadCopy(
                Sabotage.HALF, f"{named} was copied while somebody worked in it: a journal lies beside it. {_SOUND}"
            ) from bad
        return plain_size(place, named), None
    return found.size, found.made_at


def _write(copy: Path, temporary: Path, pace: Pace) -> None:
    of = copy.stat().st_size
    with copy.open("rb") as old, temporary.open("xb") as new:
        done = 0
        while piece := old.read(_AT_ONCE):
            go_on(pace, 0, of)
            new.write(piece)
            done += len(piece)
    sync_file(temporary)


def _look_inside(temporary: Path, copy: Path, pace: Pace, verifies: Verifies) -> tuple[Holds, LastWork]:
    """Return what a copy holds, and its last change. Raise BadCopy unless tables, pages and records are sound."""
    try:
        with reading(temporary, pace, is_private=True) as db:
            form = form_of(db, copy)
            faults = schema_faults(db, form) or page_faults(db)
            if not faults:
                found = holds(db, copy, form, verifies)
                faults, last = found.chain.faults, last_work(db)
    except BadCopy:
        raise
    except Refusal as refusal:
        raise BadCopy(Sabotage.CHANGED, f"{copy} cannot be taken. {refusal.sentence}") from refusal
    if faults:
        raise BadCopy(Sabotage.CHANGED, f"{copy} is not sound: {faults[0]}. {_SOUND}")
    return found, last
