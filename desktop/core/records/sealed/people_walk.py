"""Who the people of a shop are: one strict reading of the records that say it, every signature looked at."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from desktop.core.errors import Refusal
from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.records.sealed.remedies import CHECK
from desktop.core.records.sealed.signatures import Verifies, signature_troubles

_MOST_BOOKS = 4
"""Readings that are kept: the same records give the same people, and a signature asks several times."""


def people_in_records(envelopes: Sequence[Envelope], shop_id: str, verifies: Verifies) -> KeyBook:
    """Return who everybody is by the records about people, given in their order; the book is the caller's own.

    Raise Refusal, and say nothing of anybody, when one of them could not be signed so.
    """
    return book_of(tuple(envelopes), shop_id, _Same(verifies)).copy()


@dataclass(frozen=True, slots=True, eq=False)
class _Same:
    """Whoever looks at signatures, told from another by being the same one."""

    verifies: Verifies

    def __hash__(self) -> int:
        return id(self.verifies)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.verifies is self.verifies


@lru_cache(_MOST_BOOKS)
def book_of(envelopes: tuple[Envelope, ...], shop_id: str, same: _Same) -> KeyBook:
    """Return that book, shared by everybody who asks the same: it is copied before it takes more."""
    book = KeyBook()
    for envelope in envelopes:
        record = read_record(envelope.content)
        troubles = [
            *(("was signed in another shop",) if record.shop_id != shop_id else ()),
            *signature_troubles(envelope, record, shop_id, book, same.verifies),
        ]
        if trouble := book.take(envelope.number, record):
            troubles.append(trouble)
        if troubles:
            raise Refusal(
                f"Record {envelope.number} {troubles[0]}. It says who somebody is, so nothing is signed, and no record "
                f"shown, before that is cleared up. {CHECK}"
            )
    return book
