"""The rows of the signed records, each looked at by itself and behind the one before it, and the list held to them.

Nothing of what somebody signed is found through the list alone: a line that is missing there would hide a record. So
the lines are made from the rows. A row that was looked at is not taken apart again while its bytes are the same.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from weakref import WeakKeyDictionary

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.canonical import NotARecord
from desktop.core.records.sealed.envelope import Envelope, head_of, seal_of
from desktop.core.records.sealed.record_line import RecordLine, line_in
from desktop.core.records.sealed.remedies import CHECK, REMAKE
from desktop.core.records.sealed.stored import StoredRow, envelope_of
from desktop.storage.database import rows
from desktop.storage.records.record_index import listed

Mark = tuple[int, int, bytes]
"""Tells one state of the rows from another: commits of other connections, the last number and its seal."""
Rows = Callable[[], Iterator[StoredRow]]
Known = tuple[int, RecordLine, str, str]
"""A hash of a row's bytes, its line, the seal before it and its own."""


@dataclass(slots=True)
class _Walk:
    """The rows as they were walked last."""

    mark: Mark | None = None
    lines: tuple[RecordLine, ...] = ()
    known: dict[int, Known] = field(default_factory=dict)


_WALKS: WeakKeyDictionary[Database, _Walk] = WeakKeyDictionary()


def walked_lines(db: Database, shop_id: str, stored: Rows) -> tuple[RecordLine, ...]:
    """Return the line of every row, made from its bytes, the oldest first.

    Raise Refusal for a row that does not fit its seal, does not follow the one before it or is missing, and for a list
    that says something else than the rows.
    """
    walk = _WALKS.setdefault(db, _Walk())
    mark = _mark(db)
    if walk.mark is None or walk.mark != mark:
        walk.mark = None
        walk.lines = tuple(_walked(walk.known, head_of(shop_id, None), stored()))
        walk.mark = mark
    refuse_other_list(db, walk.lines)
    return walk.lines


def refuse_other_list(db: Database, lines: tuple[RecordLine, ...]) -> None:
    """Raise Refusal when the list of records does not say what the rows say."""
    found = listed(db)
    if found == lines:
        return
    gone = {line.number for line in found} - {line.number for line in lines}
    if gone and max(gone) > len(lines) and not {line.number for line in lines} - {line.number for line in found}:
        raise Refusal(f"Record {min(gone)} is missing: the list of records names it. {CHECK}")
    raise Refusal(f"The list of signed records does not agree with the records themselves. {REMAKE}.")


def sound_row(row: StoredRow) -> Envelope:
    """Return the sealed record of a row. Raise Refusal for one that is none, and for one that does not fit its seal."""
    try:
        envelope = envelope_of(row)
    except NotARecord as trouble:
        raise _unreadable(row.number) from trouble
    if own_seal(envelope) != envelope.digest:
        raise Refusal(f"Record {row.number} does not fit its record seal: it was changed after signing. {CHECK}")
    return envelope


def own_seal(envelope: Envelope) -> str:
    """Return the seal that the parts of a sealed record give."""
    return seal_of(envelope.number, envelope.kind, envelope.content, envelope.previous, envelope.signatures)


def _mark(db: Database) -> Mark:
    [(commits,)] = rows(db, "PRAGMA data_version")
    last = rows(db, "SELECT number, CAST (digest AS BLOB) FROM envelope ORDER BY number DESC LIMIT 1")
    number, seal = last[0] if last else (0, b"")
    return commits, number, seal


def _walked(known: dict[int, Known], head: str, stored: Iterator[StoredRow]) -> Iterator[RecordLine]:
    for place, row in enumerate(stored, 1):
        if row.number != place:
            raise Refusal(f"Record {place} is missing, and record {row.number} stands in its place. {CHECK}")
        mark = hash(row)
        found = known.get(place)
        if found is None or found[0] != mark:
            envelope = sound_row(row)
            found = known[place] = (mark, _line(envelope), envelope.previous, envelope.digest)
        _, line, previous, own = found
        if previous != head:
            raise Refusal(f"Record {place} does not follow the record before it: one of the two was changed. {CHECK}")
        head = own
        yield line


def _line(envelope: Envelope) -> RecordLine:
    try:
        line = line_in(envelope)
    except NotARecord as trouble:
        raise _unreadable(envelope.number) from trouble
    if line.kind != envelope.kind:
        raise Refusal(f"Record {envelope.number} is kept as something else than it was signed as. {CHECK}")
    return line


def _unreadable(number: int) -> Refusal:
    return Refusal(f"Record {number} was changed after it was signed and cannot be read. {CHECK}")
