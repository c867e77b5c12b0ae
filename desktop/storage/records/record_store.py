"""Signed records in the shop file: appended inside a running transaction, read whole, never changed."""

from collections.abc import Iterator
from itertools import pairwise

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.records.sealed.canonical import NotARecord, read_record
from desktop.core.records.sealed.envelope import Envelope, head_of
from desktop.core.records.sealed.record_line import RecordLine, line_of
from desktop.core.records.sealed.remedies import CHECK
from desktop.core.records.sealed.stored import StoredRow, signature_text
from desktop.storage.database import rows
from desktop.storage.records.record_index import listed, make_list_again, put_in_list
from desktop.storage.records.walked_rows import own_seal, sound_row, walked_lines
from desktop.storage.troubles import DAMAGED

# Texts are taken as bytes: whatever stands there can be read, and is judged by the core.
_COLUMNS = (
    "number, CAST (kind AS BLOB), CAST (content AS BLOB), CAST (previous AS BLOB), CAST (digest AS BLOB), "
    "CAST (signatures AS BLOB)"
)
_PAGE = 100
_LEAST = -(2**63)
_MOST = 2**63 - 1
PROOF = "SELECT 1 FROM envelope WHERE number = ? AND digest = ?"
"""Finds a row when a sealed record stands in the file."""


class RecordFile:
    """The signed records of an open shop file, inside a transaction or outside of one.

    Reading one judges its form and its seal. What is looked for is looked for in all of them, each with its seal and
    its place behind the one before it, and never in the list alone. Signatures are judged by whoever has the keys.
    """

    def __init__(self, db: Database, shop_id: str) -> None:
        self._db = db
        self._shop_id = shop_id

    def stored(self, start: int = _LEAST) -> Iterator[StoredRow]:
        """Give the rows from a number on, in their order, whatever stands in them; nothing is held open meanwhile.

        Raise Refusal when the file is so damaged that they have no order.
        """
        sql = f"SELECT {_COLUMNS} FROM envelope WHERE number >= ? ORDER BY number LIMIT ?"  # noqa: S608 - from this file
        while page := rows(self._db, sql, start, _PAGE):
            # In a damaged file rows may lead back to earlier ones, and would be given for ever.
            if any(number <= before for before, number in pairwise([start - 1, *(row[0] for row in page)])):
                raise Refusal(DAMAGED)
            for row in page:
                yield StoredRow(row[0], *(column or b"" for column in row[1:]))
            if page[-1][0] == _MOST:
                return
            start = page[-1][0] + 1

    def envelopes(self, start: int = 1) -> Iterator[Envelope]:
        """Give the sealed records from a number on. Raise Refusal at one that is not as it was kept."""
        return map(_sound, self.stored(start))

    def envelope(self, number: int) -> Envelope | None:
        """Return one sealed record; None when there is none. Raise Refusal when it is not as it was kept."""
        first = next(self.stored(number), None) if 0 < number <= _MOST else None
        return _sound(first) if first and first.number == number else None

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        [(number,)] = rows(self._db, "SELECT max(number) FROM envelope")
        return self.envelope(number) if number is not None else None

    def envelopes_about(self, order: int) -> tuple[Envelope, ...]:
        """Return the sealed records about an order and its cards, and those about one of them, the oldest first."""
        own = {line.number for line in self.agreed_lines() if line.order == order}
        return tuple(
            self._there(line.number)
            for line in self.agreed_lines()
            if line.number in own or own.intersection(line.about)
        )

    def envelopes_about_people(self) -> tuple[Envelope, ...]:
        """Return the sealed records that say who people are and by which keys they sign, the oldest first."""
        return tuple(self._there(line.number) for line in self.agreed_lines() if line.kind in _PEOPLE)

    def lines(self) -> tuple[RecordLine, ...]:
        """Return the list of records as it stands, the oldest first; nothing is held against it here."""
        return listed(self._db)

    def agreed_lines(self) -> tuple[RecordLine, ...]:
        """Return the line of every record, made from its bytes, the oldest first.

        Raise Refusal when a record is not as it was kept or missing, and when the list does not agree.
        """
        return walked_lines(self._db, self._shop_id, self.stored)

    def append(self, envelope: Envelope) -> RecordLine:
        """Keep a sealed record behind the last one, inside a running transaction; return its line in the list.

        Raise ValueError for one that does not follow it or does not fit its own seal, NotARecord for what is none.
        """
        if not self._db.conn.in_transaction:
            raise ValueError("a record is appended inside a transaction")
        last = self.last_envelope()
        follows = (last.number + 1 if last else 1, head_of(self._shop_id, last))
        if (envelope.number, envelope.previous) != follows or own_seal(envelope) != envelope.digest:
            raise ValueError("this record does not follow the last one")
        record = read_record(envelope.content)
        if record.kind != envelope.kind:
            raise ValueError("a record is kept as what it is")
        self._db.execute(
            "INSERT INTO envelope (number, kind, content, previous, digest, signatures) VALUES (?, ?, ?, ?, ?, ?)",
            (
                envelope.number,
                envelope.kind,
                envelope.content,
                envelope.previous,
                envelope.digest,
                signature_text(envelope.signatures),
            ),
        )
        line = line_of(envelope, record)
        put_in_list(self._db, line)
        return line

    def rebuild(self) -> None:
        """Drop the list of records and make it again from the sealed records, inside a running transaction."""
        make_list_again(self._db, (line_of(one, read_record(one.content)) for one in self.envelopes()))

    def _there(self, number: int) -> Envelope:
        found = self.envelope(number)
        if found is None:
            raise Refusal(f"Record {number} is missing. {CHECK}")
        return found


_PEOPLE = frozenset(PEOPLE_KINDS)


def _sound(row: StoredRow) -> Envelope:
    envelope = sound_row(row)
    try:
        read_record(row.content)
    except NotARecord as trouble:
        raise Refusal(f"Record {row.number} was changed after it was signed and cannot be read. {CHECK}") from trouble
    return envelope
