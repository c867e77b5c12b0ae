"""Whether what was signed about an order could be signed one after the other: each word answers the one before it."""

from collections.abc import Iterator
from datetime import datetime

from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.record import Record, RecordKind
from desktop.core.records.sealed.record_line import RecordLine

_OF_CARD = (RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED, RecordKind.CARD_RETURNED)
_ENDS = (RecordKind.APPROVED, RecordKind.NOT_APPROVED, RecordKind.VOID)
_INSPECTS = (RecordKind.CARD_ACCEPTED, RecordKind.CARD_RETURNED)


class OrderWalk:
    """The last word on each card and the end of each order, as the records so far say them."""

    def __init__(self) -> None:
        self._cards: dict[int, dict[int, RecordLine]] = {}
        self._ends: dict[int, int] = {}

    def take(self, line: RecordLine, record: Record, book: KeyBook) -> Iterator[str]:
        """Take the next record; say why it cannot come here, in words that follow its name.

        ``book`` holds what the records before it say of people.
        """
        kind = record.kind
        if not line.order or kind not in (*_OF_CARD, *_ENDS):
            return
        if line.order in self._ends:
            yield f"comes after record {self._ends[line.order]}, with which the order had ended"
        cards = self._cards.setdefault(line.order, {})
        before = cards.get(line.card)
        if kind is RecordKind.CARD_SUBMITTED:
            yield from _submitted(before)
        elif kind in _INSPECTS:
            yield from _inspected(line, record, before, book)
        elif kind is RecordKind.APPROVED:
            yield from _approved(line, cards)
        if kind in _OF_CARD:
            cards[line.card] = line
        else:
            self._ends.setdefault(line.order, line.number)


def _submitted(before: RecordLine | None) -> Iterator[str]:
    if before is not None and before.kind != RecordKind.CARD_RETURNED:
        yield f"submits a card that record {before.number} had not returned"


def _inspected(line: RecordLine, record: Record, before: RecordLine | None, book: KeyBook) -> Iterator[str]:
    if before is None:
        return  # it answers nothing: that is said already
    if before.number not in line.about:
        yield f"does not answer record {before.number}, the last word on the card before it"
    if record.kind is RecordKind.CARD_ACCEPTED and before.person == line.person:
        others = book.able(datetime.fromisoformat(record.at).date(), line.person, line.number)
        if others:
            there = others[0].name
            yield f"accepts what its signer had submitted, and nobody inspects their own work: there was {there}"
        elif record.section("Reason") is None:
            yield "accepts what its signer had submitted, without a reason for the recheck"


def _approved(line: RecordLine, cards: dict[int, RecordLine]) -> Iterator[str]:
    for card, last in sorted(cards.items()):
        if last.kind != RecordKind.CARD_ACCEPTED:
            yield f"approves the order, and record {last.number} was the last word on card {card}: {last.kind}"
        elif last.number not in line.about:
            yield f"does not answer record {last.number}, with which card {card} was accepted"
