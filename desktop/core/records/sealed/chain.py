"""The chain of a shop's records, walked once from the first to the last: everything that is not as it was signed."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.kinds import row_of
from desktop.core.records.record import Record
from desktop.core.records.sealed.canonical import NotARecord, read_record
from desktop.core.records.sealed.envelope import Envelope, head_of, seal_of
from desktop.core.records.sealed.order_walk import OrderWalk
from desktop.core.records.sealed.record_line import RecordLine, line_of, record_name
from desktop.core.records.sealed.signatures import Verifies, signature_troubles
from desktop.core.records.sealed.stored import StoredRow, envelope_of
from desktop.core.records.subjects import place_of

_MOST_NAMED = 50
"""Missing records that are named one by one; more of them in one gap are said together."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that is not as it should be, in a sentence; ``number`` is 0 when no one record is meant.

    ``names`` are kind, subject and signer of the record, as far as they can still be read.
    """

    number: int
    sentence: str
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Taken:
    """A record that could be read, sound or not."""

    envelope: Envelope
    record: Record
    line: RecordLine


class ChainWalk:
    """One walk over the rows of a shop, in the order of their numbers.

    ``seals`` are the seals of the rows as they stand, with their numbers; 0 is that of the shop before its first one.
    ``listed`` are the lines of the list of records: they name what cannot be read any more, and are believed nothing
    else. ``problems`` says what is not sound, ``notes`` what is only worth knowing.
    """

    def __init__(self, shop_id: str, verifies: Verifies, listed: Mapping[int, RecordLine] | None = None) -> None:
        self.problems: list[Problem] = []
        self.notes: list[Problem] = []
        self.book = KeyBook()
        self.count = 0
        self.head = head_of(shop_id, None)
        self.seals = {self.head: 0}
        self._shop_id = shop_id
        self._verifies = verifies
        self._listed = listed or {}
        self._last = 0
        self._lines: dict[int, tuple[str, RecordLine]] = {}
        self._orders = OrderWalk()
        self._at: datetime | None = None

    def take(self, row: StoredRow) -> Taken | None:
        """Look at the next row; return its record, None when it cannot be read."""
        self.count += 1
        before, self.head = self.head, row.digest.decode("ascii", "replace")
        taken = _taken(row)
        names = taken.line.names if taken else ()
        follows = self._look_at_number(row.number, names)
        if taken is None:
            self._say(row.number, "cannot be read: what is kept of it is not what was signed")
            return None
        sealed = _seal(taken.envelope)
        self.seals[sealed] = row.number
        for words in self._troubles(taken, sealed, before if follows else None):
            self._say(row.number, words, names)
        self._lines[row.number] = (taken.envelope.digest, taken.line)
        self._look_at_clock(taken.line)
        return taken

    def end(self) -> None:
        """Say what the list of records still names after the last row."""
        self._say_missing(self._last + 1, max(self._listed, default=0))

    def _troubles(self, taken: Taken, sealed: str, before: str | None) -> Iterator[str]:
        envelope, record = taken.envelope, taken.record
        if sealed != envelope.digest:
            yield "does not fit its record seal: it was changed after it was signed"
        if before is not None and envelope.previous != before:
            yield "does not follow the record before it: one of the two was changed, moved or made again"
        if envelope.kind != record.kind:
            yield f'is kept as "{envelope.kind}" and was signed as something else'
        if record.shop_id != self._shop_id:
            yield "was signed in another shop"
        yield from signature_troubles(envelope, record, self._shop_id, self.book, self._verifies)
        yield from self._about(record)
        yield from self._orders.take(taken.line, record, self.book)
        if trouble := self.book.take(envelope.number, record):
            yield trouble

    def _about(self, record: Record) -> Iterator[str]:
        row = row_of(record.kind)
        answered = not row.answers
        own = place_of(record.subject)
        for about in record.about:
            digest, line = self._lines.get(about.number, ("", None))
            if line is None or digest != about.digest:
                yield f"names record {about.number} by a record seal that no such record has"
                continue
            same = line.order == own.order and (not row.same_card or line.card == own.card)
            answered = answered or (line.kind in row.answers and same)
        if not answered:
            yield f"answers no record of the kind that it must: {' or '.join(row.answers[:2])}"

    def _look_at_number(self, number: int, names: tuple[str, ...]) -> bool:
        """Say what is missing before a number; tell whether it is the next one."""
        if number <= self._last:
            self._say(number, "was put in: records count from 1, each number once", names)
            return False
        expected, self._last = self._last + 1, number
        self._say_missing(expected, number - 1)
        return number == expected

    def _say_missing(self, first: int, last: int) -> None:
        if first > last:
            return
        named = [number for number in sorted(self._listed) if first <= number <= last][:_MOST_NAMED]
        for number in named:
            self._say(number, "is missing: it was taken out of the file, or the file was cut")
        rest = last - first + 1 - len(named)
        if rest > 0:
            which = f"Record {first} is" if rest == 1 and not named else f"Of the records {first} to {last}, {rest} are"
            self.problems.append(Problem(first, f"{which} missing from the file, and nothing names what was signed."))

    def _look_at_clock(self, line: RecordLine) -> None:
        at = datetime.fromisoformat(line.at)
        if self._at is not None and at < self._at:
            words = f"the clock went back, from {self._at.isoformat()} to {line.at}"
            self.notes.append(Problem(line.number, f"{record_name(line.number, line.names)}: {words}.", line.names))
        self._at = at

    def _say(self, number: int, words: str, names: tuple[str, ...] = ()) -> None:
        listed = self._listed.get(number)
        known = names or (listed.names if listed else ())
        self.problems.append(Problem(number, f"{record_name(number, known)}, {words}.", known))


def _taken(row: StoredRow) -> Taken | None:
    try:
        envelope, record = envelope_of(row), read_record(row.content)
    except NotARecord:
        return None
    return Taken(envelope, record, line_of(envelope, record))


def _seal(one: Envelope) -> str:
    return seal_of(one.number, one.kind, one.content, one.previous, one.signatures)


def odd_record(line: RecordLine, words: str) -> Problem:
    """Return a problem that names a record; ``words`` follow the name."""
    return Problem(line.number, f"{record_name(line.number, line.names)}, {words}.", line.names)


def check_chain(
    rows: Iterable[StoredRow], shop_id: str, verifies: Verifies, listed: Mapping[int, RecordLine] | None = None
) -> ChainWalk:
    """Walk the rows of a shop from the first to the last, and return the walk at its end."""
    walk = ChainWalk(shop_id, verifies, listed)
    for row in rows:
        walk.take(row)
    walk.end()
    return walk
