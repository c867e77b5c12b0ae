"""The moves that stand on a work order, held against the records: who moved it, when, and on which card."""

from collections.abc import Iterator

from desktop.core.records.record import RecordKind, time_text, visible
from desktop.core.records.sealed.before_signing import is_as_before, said_before, signed_moves
from desktop.core.records.sealed.chain import Problem, Taken, odd_record
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import Move, OrderState

_MOVES = {
    RecordKind.CARD_SUBMITTED: Move.SUBMIT,
    RecordKind.CARD_ACCEPTED: Move.ACCEPT,
    RecordKind.CARD_RETURNED: Move.RETURN,
    RecordKind.APPROVED: Move.APPROVE,
    RecordKind.NOT_APPROVED: Move.NOT_APPROVE,
    RecordKind.VOID: Move.VOID,
}
_LEADS_TO = {
    Move.SUBMIT: (OrderState.FOR_INSPECTION,),
    Move.ACCEPT: (OrderState.ACCEPTED,),
    Move.APPROVE: (OrderState.APPROVED, OrderState.CLOSED),
    Move.NOT_APPROVE: (OrderState.NOT_APPROVED, OrderState.CLOSED),
    Move.VOID: (OrderState.VOID,),
}


class SignedMoves:
    """What was signed as a move of each order, in the order of the records, and what the first record says before."""

    def __init__(self) -> None:
        self._signed: dict[int, list[Taken]] = {}
        self._before: dict[str, str] = {}
        self._has_any = False

    def take(self, taken: Taken) -> None:
        """Take the next record."""
        if not self._has_any and taken.line.number == 1 and taken.record.kind is RecordKind.PERSON_ENROLLED:
            self._before = said_before(taken.record)
        self._has_any = True
        if taken.record.kind in _MOVES and taken.line.order:
            self._signed.setdefault(taken.line.order, []).append(taken)

    def problems(self, order: WorkOrder) -> Iterator[str | Problem]:
        """Say which moves of an order nobody signed, and which signed ones the order does not have as signed."""
        loose, missing = self._held(order)
        for taken in missing:
            yield odd_record(taken.line, "and the work order does not say so: who, when, or on which card")
        named = {(_MOVES[taken.record.kind], taken.line.card) for taken in missing}
        first = self.first_moves(order)
        if first and not self._is_before(order, first):
            loose = [*first, *loose]
        for one in loose:
            if (one.move, one.card) not in named:
                of = f" of card {one.card}" if one.card else ""
                day = one.by.at.isoformat()
                who = f'"{one.move}"{of} by {one.by.person}, {day}'
                yield f"{order_name(order.number)} says {who}, and no record says who signed that."

    def first_moves(self, order: WorkOrder) -> tuple[Passage, ...]:
        """Return the moves of an order that come before everything that was signed of it."""
        moves, signed = signed_moves(order), self._signed.get(order.number, [])
        place = next((at for at, one in enumerate(moves) if any(_is_as_signed(one, taken) for taken in signed)), None)
        return moves[:place]

    def was_before(self, order: WorkOrder) -> bool:
        """Tell whether the first moves of an order were made before anything was signed, as the first record says."""
        first = self.first_moves(order)
        return not self._has_any or (bool(first) and self._is_before(order, first))

    def was_so_before(self, order: WorkOrder, state: OrderState, card: int = 0) -> bool:
        """Tell whether an order, or a card of it, was in a state before anything was signed, by the first record."""
        if not self._has_any:
            return True
        mine = [one for one in self.first_moves(order) if one.card == card]
        return self.was_before(order) and bool(mine) and state in _LEADS_TO.get(mine[-1].move, ())

    def _is_before(self, order: WorkOrder, first: tuple[Passage, ...]) -> bool:
        if not self._has_any:
            return True  # nothing was signed in this shop
        return is_as_before(order, first, self._before.get(order_name(order.number), ""))

    def _held(self, order: WorkOrder) -> tuple[list[Passage], list[Taken]]:
        """Return the moves after the first that nobody signed, and what was signed and is not there."""
        waiting = list(self._signed.get(order.number, []))
        loose, missing = list[Passage](), list[Taken]()
        for one in signed_moves(order)[len(self.first_moves(order)) :]:
            place = next((at for at, taken in enumerate(waiting) if _is_as_signed(one, taken)), None)
            if place is None:
                loose.append(one)
            else:
                missing += waiting[:place]
                waiting = waiting[place + 1 :]
        return loose, [*missing, *waiting]


def _is_as_signed(one: Passage, taken: Taken) -> bool:
    record, line, by = taken.record, taken.line, one.by
    who_and_what = (one.move, one.card, visible(by.person))
    return who_and_what == (_MOVES[record.kind], line.card, line.person) and time_text(by.at) == record.at
