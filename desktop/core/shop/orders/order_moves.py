"""Moving an order: one pure function over the table of moves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_card import DataConfirmed, OrderCard
from desktop.core.shop.orders.order_states import Asks, Move, MoveRow, OrderState, row_of
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.typed_card import TypedCard


@dataclass(frozen=True, slots=True)
class MoveRefusal:
    """Why a move is not made, and what to do about it."""

    sentence: str
    advice: str

    @property
    def words(self) -> str:
        """Both in one line."""
        return f"{self.sentence} {self.advice}".strip()


@dataclass(frozen=True, slots=True)
class Moved:
    """The order after a move; with refusals it is the order as it was."""

    order: WorkOrder
    refusals: tuple[MoveRefusal, ...] = ()


@dataclass(frozen=True, slots=True)
class NewCard:
    """What is issued: a task card as it stands now, the readings it begins with, and to whom it is given.

    ``job`` is the id of the job that it is part of. ``sheets`` are the limits sheets of the card, ``documents`` those
    whose revision was confirmed as current when it was issued.
    """

    task: TaskCard
    readings: TypedCard
    mechanic: str = ""
    job: str = ""
    sheets: tuple[SheetPin, ...] = ()
    documents: tuple[str, ...] = ()


def move(
    order: WorkOrder,
    wanted: Move,
    by: Stamp,
    *,
    card: int = 0,
    reason: str = "",
    new: NewCard | None = None,
    stops: Sequence[MoveRefusal] | None = None,
) -> Moved:
    """Move an order, or the card with that number, and write down who did it; refusals say all that is against it.

    ``stops`` is what was found against the card when it was checked; a move that asks for nothing that stops raises
    ValueError when it was not checked, and issuing raises ValueError without a card.
    """
    row = row_of(wanted)
    refusals = tuple(_refusals(order, row, card, reason, stops))
    if refusals:
        return Moved(order, refusals)
    passage = Passage(wanted, by, card, reason.strip())
    after = replace(order, passages=(*order.passages, passage))
    if wanted is Move.ISSUE:
        return Moved(_issued(after, by, new))
    if row.of == "order":
        return Moved(replace(after, ending=row.target))
    cards = tuple(replace(one, state=row.target) if one.number == card else one for one in after.cards)
    return Moved(replace(after, cards=cards))


def _issued(order: WorkOrder, by: Stamp, new: NewCard | None) -> WorkOrder:
    if new is None:
        raise ValueError("nothing to issue")
    number = len(order.cards) + 1
    card = OrderCard(
        number,
        new.task,
        by,
        new.readings,
        mechanic=new.mechanic,
        job=new.job,
        sheets=new.sheets,
        data_confirmed=DataConfirmed(new.documents, by) if new.documents else None,
    )
    passages = (*order.passages[:-1], replace(order.passages[-1], card=number))
    return replace(order, cards=(*order.cards, card), passages=passages)


def _refusals(
    order: WorkOrder, row: MoveRow, number: int, reason: str, stops: Sequence[MoveRefusal] | None
) -> Iterator[MoveRefusal]:
    card = order.card(number)
    if row.of == "card" and card is None:
        yield MoveRefusal(f"Order {order.number} has no card {number}.", "Choose one of its cards.")
        return
    name, state = (f"Card {number}", order.state_of(card)) if row.of == "card" and card else ("The order", order.state)
    if state not in row.sources:
        yield MoveRefusal(
            f"{name} is {state}, so this cannot be done: {row.move}.",
            f"It can be done when {name.lower()} is {_or(row)}.",
        )
        return
    if row.asks is Asks.REASON and not reason.strip():
        yield MoveRefusal("The reason is missing.", "Write it: it stays on the order.")
    if row.asks is Asks.BOARD_NORMAL:
        for one in not_normal(order.board):
            yield MoveRefusal(
                f"Safe-state board: {one.item}: {one.word}.", "Bring it back to normal and set it on the board."
            )
    if row.asks is Asks.NOTHING_STOPS:
        if stops is None:
            raise ValueError("the card was not checked")
        yield from stops


def _or(row: MoveRow) -> str:
    states: list[OrderState] = list(row.sources)
    return " or ".join(", ".join(states).rsplit(", ", 1))
