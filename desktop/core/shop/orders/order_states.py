"""The states of a work order and the moves between them, as data."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from desktop.core.shop.people.people import Right


class OrderState(StrEnum):
    """How far an order or one of its cards is, in the order of the work."""

    OPEN = "open"
    ISSUED = "issued"
    IN_WORK = "in work"
    FOR_INSPECTION = "for inspection"
    ACCEPTED = "accepted"
    APPROVED = "approved"
    NOT_APPROVED = "not approved"
    CLOSED = "closed"
    VOID = "void"


class Move(StrEnum):
    """What moves an order or a card on."""

    ISSUE = "issue a card"
    BEGIN = "begin"
    SUBMIT = "submit for inspection"
    RETURN = "return"
    ACCEPT = "accept"
    APPROVE = "approve for return to service"
    NOT_APPROVE = "not approve"
    CLOSE = "close"
    VOID = "void"


class Asks(StrEnum):
    """What a move asks for besides the state."""

    NOTHING = ""
    REASON = "a reason"
    NOTHING_STOPS = "nothing that stops it; every step initialled"
    BOARD_NORMAL = "everything on the safe-state board normal"


BEFORE_APPROVAL = (
    OrderState.OPEN,
    OrderState.ISSUED,
    OrderState.IN_WORK,
    OrderState.FOR_INSPECTION,
    OrderState.ACCEPTED,
)
CARD_STATES = BEFORE_APPROVAL[1:]
"""The states that a card has of its own; after them it is as its order."""
ENDINGS = (OrderState.APPROVED, OrderState.NOT_APPROVED, OrderState.CLOSED, OrderState.VOID)
"""The states that an order has as a whole, whatever its cards are."""


@dataclass(frozen=True, slots=True)
class MoveRow:
    """A row of the table: what moves (``of`` is card or order), from where, to where, by whom, and what it asks for."""

    move: Move
    of: str
    sources: tuple[OrderState, ...]
    target: OrderState
    who: tuple[Right, ...]
    asks: Asks = Asks.NOTHING


MOVES: tuple[MoveRow, ...] = (
    MoveRow(Move.ISSUE, "order", BEFORE_APPROVAL, OrderState.ISSUED, (Right.FRONT_DESK,)),
    MoveRow(Move.BEGIN, "card", (OrderState.ISSUED,), OrderState.IN_WORK, (Right.MECHANIC, Right.HELPER)),
    MoveRow(
        Move.SUBMIT,
        "card",
        (OrderState.IN_WORK,),
        OrderState.FOR_INSPECTION,
        (Right.MECHANIC,),
        Asks.NOTHING_STOPS,
    ),
    MoveRow(Move.RETURN, "card", (OrderState.FOR_INSPECTION,), OrderState.IN_WORK, (Right.INSPECTOR,), Asks.REASON),
    MoveRow(Move.ACCEPT, "card", (OrderState.FOR_INSPECTION,), OrderState.ACCEPTED, (Right.INSPECTOR,)),
    MoveRow(Move.APPROVE, "order", (OrderState.ACCEPTED,), OrderState.APPROVED, (Right.AUTHORISED,)),
    MoveRow(
        Move.NOT_APPROVE,
        "order",
        (OrderState.IN_WORK, OrderState.FOR_INSPECTION, OrderState.ACCEPTED),
        OrderState.NOT_APPROVED,
        (Right.AUTHORISED,),
        Asks.REASON,
    ),
    MoveRow(
        Move.CLOSE,
        "order",
        (OrderState.APPROVED, OrderState.NOT_APPROVED),
        OrderState.CLOSED,
        (Right.FRONT_DESK,),
        Asks.BOARD_NORMAL,
    ),
    MoveRow(Move.VOID, "order", BEFORE_APPROVAL, OrderState.VOID, (Right.FRONT_DESK, Right.RECORDS), Asks.REASON),
)
"""Every move that there is. What is not here cannot be done."""


def row_of(move: Move) -> MoveRow:
    """Return a move's row."""
    return next(row for row in MOVES if row.move is move)


def least(states: Iterable[OrderState]) -> OrderState:
    """Return the state of the card that is least far; open when there is no card."""
    ranks = list(OrderState)
    return min(states, key=ranks.index, default=OrderState.OPEN)


def states_table() -> str:
    """Return the table of moves as Markdown."""
    lines = ["| move | of | from | to | who | asks for |", "|---|---|---|---|---|---|"]
    for row in MOVES:
        sources, who = ", ".join(row.sources), ", ".join(row.who)
        lines.append(
            f"| {row.move} | {row.of} | {sources} | {row.target} | {who} | {row.asks} |".replace("|  |", "| |")
        )
    return "\n".join(lines) + "\n"
