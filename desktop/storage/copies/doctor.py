"""What can be said of a shop file by looking at it: settings, form, pages, records, room, place, and its copies."""

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import shown
from desktop.core.records.sealed.signatures import Verifies
from desktop.storage.copies.closed_file import form_of, holds, page_faults, reading, schema_faults
from desktop.storage.copies.known_copies import newest_known
from desktop.storage.database import open_database, rows
from desktop.storage.last_time import to_look_at
from desktop.storage.places import LEAST_FREE, Surroundings, refuse_place
from desktop.storage.records.record_store import RecordFile
from desktop.storage.steps.migrations import LATEST
from desktop.usecases.records.checking.health import Line, Word
from desktop.usecases.records.checking.last_time import LastTime, is_all_kept, last_time_words
from desktop.usecases.records.copies.copy_ports import Holds, never_stops

OLDEST_COPY = timedelta(days=7)
"""The age from which on a copy that lacks something is worth a look."""
_SETTINGS = (
    ("journal mode", "journal_mode", "delete", "delete"),
    ("synchronous", "synchronous", 3, "extra"),
    ("foreign keys", "foreign_keys", 1, "on"),
    ("recursive triggers", "recursive_triggers", 1, "on"),
)
_MOST_NAMED = 3
_MEGABYTE = 1_000_000


def _free_at(folder: Path) -> int:
    return shutil.disk_usage(folder).free


def look_over(
    shop: Path, around: Surroundings, now: datetime, verifies: Verifies, free: Callable[[Path], int] = _free_at
) -> tuple[Line, ...]:
    """Return what was found, a line a thing. It reads the whole file and changes nothing that somebody wrote.

    Raise Refusal when the file cannot be read at all: it is not there, another program's, a newer one, or damaged at
    its beginning. ``free`` tells the bytes that are free where a folder lies.
    """
    place = _place_line(shop, around)
    with reading(shop, never_stops, plays_back=os.access(shop, os.W_OK)) as db:
        form = form_of(db, shop)
        schema, pages = schema_faults(db, form), page_faults(db)
        found = holds(db, shop, form, verifies)
        lists = tuple(_lists_lines(db, found))
        left = to_look_at(db, around.state, found.shop_id, shop) if around.state else ()
    return (
        Line(Word.OK, "shop", f"{found.shop_name}: {found.orders} orders, {found.changes} changes of them"),
        *_settings_lines(shop, form),
        _form_line(form),
        _faults_line("tables and guards", schema, "all there, as they were made"),
        _faults_line("quick check", pages, "pages and references are sound"),
        _chain_line(found),
        *lists,
        _free_line(free(shop.resolve().parent)),
        place,
        _copy_line(found, around.state, now),
        *_last_time_lines(left),
    )


def _place_line(shop: Path, around: Surroundings) -> Line:
    """Look at where the file lies. Raise Refusal for what is no file, or an empty one."""
    try:
        refuse_place(shop, around)
    except Refusal as refusal:
        if not shop.is_file() or not shop.stat().st_size:
            raise
        return Line(Word.WRONG, "place", refusal.sentence)
    return Line(Word.OK, "place", f"{shop.resolve().parent}: a disk of this machine")


def _settings_lines(shop: Path, form: int) -> Iterator[Line]:
    if form < LATEST:
        yield Line(
            Word.LOOK, "settings", "not asked for: the file is brought to its newest form first, when it is opened"
        )
        return
    try:
        with closing(open_database(shop)) as db:
            for what, name, wanted, words in _SETTINGS:
                value = _setting(db, name)
                word = Word.OK if value == wanted else Word.WRONG
                yield Line(word, what, words if value == wanted else f"{value}, and should be {words}")
    except Refusal as refusal:
        yield Line(Word.WRONG, "settings", refusal.sentence)


def _setting(db: Database, name: str) -> object:
    [(value,)] = rows(db, f"PRAGMA {name}")
    return value


def _form_line(form: int) -> Line:
    if form == LATEST:
        return Line(Word.OK, "form of the file", f"{form}, the newest")
    return Line(Word.LOOK, "form of the file", f"{form}; it becomes {LATEST} when it is opened. Copy it first")


def _faults_line(what: str, faults: tuple[str, ...], sound: str) -> Line:
    if not faults:
        return Line(Word.OK, what, sound)
    more = f"; and {len(faults) - _MOST_NAMED} more" if len(faults) > _MOST_NAMED else ""
    return Line(Word.WRONG, what, f"{'; '.join(faults[:_MOST_NAMED])}{more}. Restore the newest copy that is sound")


def _chain_line(found: Holds) -> Line:
    chain = found.chain
    sound = f"{chain.records} records, sound; record seal {shown(chain.seal)}"
    return _faults_line("signed records", tuple(fault.rstrip(".") for fault in chain.faults), sound)


def _lists_lines(db: Database, found: Holds) -> Iterator[Line]:
    """Hold the list of records against the records; nothing is said of it where these are not sound themselves."""
    if found.chain.faults or not found.chain.records:
        return
    try:
        lines = RecordFile(db, found.shop_id).agreed_lines()
    except Refusal as refusal:
        yield Line(Word.WRONG, "list of records", refusal.sentence.rstrip("."))
    else:
        yield Line(Word.OK, "list of records", f"{len(lines)} lines, as the records say")


def _free_line(left: int) -> Line:
    said = f"{left // _MEGABYTE} MB"
    if left < LEAST_FREE:
        return Line(Word.LOOK, "free space", f"{said}, and {LEAST_FREE // _MEGABYTE} MB should be. Make room")
    return Line(Word.OK, "free space", said)


def _last_time_lines(left: tuple[LastTime, ...]) -> Iterator[Line]:
    if left:
        yield Line(Word.OK if is_all_kept(left) else Word.LOOK, "last time", last_time_words(left).rstrip("."))


def _copy_line(found: Holds, state: Path | None, now: datetime) -> Line:
    known = newest_known(state, found.shop_id) if state else None
    if known is None:
        return Line(
            Word.LOOK, "newest copy", "none that this machine knows of. Make one: sparkwright back-up SHOP PLACE"
        )
    age = now - known.made_at
    days = age.days
    said = f"{known.place}, made {known.made_at:%Y-%m-%d %H:%M}, {days} {'day' if days == 1 else 'days'} old"
    if age < timedelta(0):
        return Line(Word.LOOK, "newest copy", f"{known.place}: made after now. Look at the clock of this machine")
    if not known.place.is_file():
        return Line(Word.LOOK, "newest copy", f"{said}: it is not there now")
    fewer = (found.changes - known.changes, found.chain.records - known.records)
    if max(fewer) <= 0:
        return Line(Word.OK, "newest copy", f"{said}; nothing was done since")
    lacks = f"{said}; {fewer[0]} changes and {fewer[1]} records were made since"
    return Line(Word.LOOK if age > OLDEST_COPY else Word.OK, "newest copy", lacks)
