"""What the signed records say of orders, cards and people, held against what is kept of them besides."""

from collections.abc import Iterator
from datetime import date, datetime

from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.keys.key_book import Standing
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.chain import Problem, Taken, odd_record
from desktop.core.records.sealed.draft_seal import LABEL, draft_seal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.usecases.records.checking.signed_moves import SignedMoves

_CARD_STATES = {
    RecordKind.CARD_SUBMITTED: (OrderState.FOR_INSPECTION,),
    RecordKind.CARD_ACCEPTED: (OrderState.ACCEPTED,),
    RecordKind.CARD_RETURNED: (OrderState.IN_WORK,),
}
_ENDINGS = {
    RecordKind.APPROVED: (OrderState.APPROVED, OrderState.CLOSED),
    RecordKind.NOT_APPROVED: (OrderState.NOT_APPROVED, OrderState.CLOSED),
    RecordKind.VOID: (OrderState.VOID,),
}
_SIGNED_CARD = (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)
_TRUSTED = (Right.INSPECTOR, Right.AUTHORISED, Right.RECORDS)


class SignedState:
    """The last word of the records on each order, card and person; taken in their order."""

    def __init__(self) -> None:
        self._cards: dict[tuple[int, int], Taken] = {}
        self._orders: dict[int, Taken] = {}
        self._seals: dict[tuple[int, int], tuple[RecordLine, str]] = {}
        self._people: dict[int, RecordLine] = {}
        self._moves = SignedMoves()
        self._day: date | None = None

    def take(self, taken: Taken) -> None:
        """Take the next record."""
        line, record = taken.line, taken.record
        self._moves.take(taken)
        self._day = datetime.fromisoformat(line.at).date()
        if record.kind in PEOPLE_KINDS:
            self._people[line.number] = line
        if record.kind in _CARD_STATES:
            self._cards[line.order, line.card] = taken
        elif record.kind in _ENDINGS:
            self._orders[line.order] = taken
        else:
            return
        said = [row.text for section in record.sections for row in section.rows if row.label == LABEL]
        if said:
            self._seals[line.order, line.card] = (line, said[-1])
        elif record.kind is RecordKind.CARD_RETURNED:
            self._seals.pop((line.order, line.card), None)

    def order_problems(self, order: WorkOrder) -> Iterator[str | Problem]:
        """Say where an order as kept is not what was signed of it; text alone for what no record is about."""
        signed = self._orders.get(order.number)
        allowed = _ENDINGS[signed.record.kind] if signed else (None,)
        if signed and order.ending not in allowed:
            yield odd_record(signed.line, f"and the order is kept as {order.state}")
        if not signed and order.ending and not self._moves.was_so_before(order, order.ending):
            yield f"Order {order.number} is kept as {order.ending}, and no record says who signed that."
        if signed and order.ending in allowed:
            yield from self._seal_problem(order, order.number, 0)
        yield from self._moves.problems(order)
        for card in order.cards:
            yield from self._card_problems(order, card)
        there = {card.number for card in order.cards}
        for (number, card_number), taken in self._cards.items():
            if number == order.number and card_number not in there:
                yield odd_record(taken.line, "and the order has no such card")

    def lost_orders(self, there: set[int]) -> Iterator[Problem]:
        """Say which records are about orders that are not there."""
        for taken in (*self._cards.values(), *self._orders.values()):
            if taken.line.order not in there:
                yield odd_record(taken.line, "and there is no such order")

    def unsigned(self, order: WorkOrder) -> Iterator[str]:
        """Say what of an order was done before the shop signed its first record: that is no fault."""
        signed = order.number in self._orders or any(number == order.number for number, _ in self._cards)
        done = order.ending or any(card.state in _SIGNED_CARD for card in order.cards)
        if not signed and done and self._moves.was_before(order):
            yield f"Order {order.number} is kept as {order.state}; that was before the first record was signed."

    def people_problems(self, standings: tuple[Standing, ...], roster: tuple[Person, ...]) -> Iterator[Problem]:
        """Say who stands on the roster as somebody else than they were enrolled as."""
        there = {person.id: person for person in roster}
        for one in standings:
            line = self._people[one.number]
            person = there.get(one.person.id)
            if person is None:
                yield odd_record(line, "and that person is not on the roster")
            elif person_section(person) != person_section(one.person):
                yield odd_record(line, "and the roster says something else of them: name, certificate, rights or days")

    def strangers(self, standings: tuple[Standing, ...], roster: tuple[Person, ...]) -> Iterator[str]:
        """Say who stood on the roster at the newest record with a right that counts, and was never enrolled."""
        enrolled = {one.person.id for one in standings}
        for person in roster:
            rights = [right for right in person.rights if right in _TRUSTED]
            is_here = self._day is not None and person.is_here(self._day)
            if rights and is_here and person.id not in enrolled:
                yield (
                    f"{person.name} ({person.id}) stands on the roster as {' and '.join(rights)}, and no record enrols "
                    "them. Nothing is signed by them; look whether they belong on it."
                )

    def _card_problems(self, order: WorkOrder, card: OrderCard) -> Iterator[str | Problem]:
        signed = self._cards.get((order.number, card.number))
        if signed is None:
            if card.state in _SIGNED_CARD and not self._moves.was_so_before(order, card.state, card.number):
                yield (
                    f"Card {card.number} of order {order.number} is kept as {card.state}, "
                    "and no record says who signed that."
                )
        elif card.state not in _CARD_STATES[signed.record.kind]:
            yield odd_record(signed.line, f"and the card is kept as {card.state}")
        elif card.state in _SIGNED_CARD:
            yield from self._seal_problem(card, order.number, card.number)

    def _seal_problem(self, draft: WorkOrder | OrderCard, order: int, card: int) -> Iterator[Problem]:
        line, seal = self._seals.get((order, card), (None, ""))
        if line is not None and draft_seal(draft) != seal:
            yield odd_record(line, "and what is kept on the work order is not what was signed")
