"""What was done on work orders before anything was signed in a shop: said once, in its first record.

A time is no proof of it: whoever writes a move into the file writes its time too. So the first person's enrolment lists
every order on which a card had been submitted, or which had ended, with a seal over who moved it and when, and of an
ended one over everything that stands on it.
"""

from collections.abc import Iterable
from hashlib import sha256

from desktop.core.errors import Refusal
from desktop.core.records.record import Record, Row, Section
from desktop.core.records.sealed.canonical import framed
from desktop.core.records.sealed.draft_seal import draft_seal
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import ENDINGS, Move

TITLE = "Work orders before the first record"
SIGNED_MOVES = (Move.SUBMIT, Move.ACCEPT, Move.RETURN, Move.APPROVE, Move.NOT_APPROVE, Move.VOID)
"""The moves that are signed, once a shop signs."""
MOST_ORDERS = 6_000
"""Most orders that one record lists."""
_CHECK = ", check "


def before_signing(orders: Iterable[WorkOrder]) -> tuple[Section, ...]:
    """Return the section of the first record; none in a shop where nothing was done yet.

    Raise Refusal for more orders than a record holds.
    """
    rows = [
        Row(order_name(order.number), f"{order.state}{_CHECK}{_seal(order, moves, is_ended=order.state in ENDINGS)}")
        for order in orders
        if (moves := signed_moves(order))
    ]
    if len(rows) > MOST_ORDERS:
        raise Refusal(
            f"{len(rows)} work orders were signed with ink here, and a record lists {MOST_ORDERS}. Begin a new shop "
            "file for what is signed in the program, and keep this one."
        )
    return (Section(TITLE, tuple(rows)),) if rows else ()


def signed_moves(order: WorkOrder) -> tuple[Passage, ...]:
    """Return the moves of an order that are signed in a shop that signs."""
    return tuple(one for one in order.passages if one.move in SIGNED_MOVES)


def said_before(record: Record) -> dict[str, str]:
    """Return what the first record of a shop says of orders before it, by the name of the order."""
    section = record.section(TITLE)
    return {row.label: row.text for row in section.rows} if section else {}


def is_as_before(order: WorkOrder, moves: tuple[Passage, ...], said: str) -> bool:
    """Tell whether these first moves of an order, and what stands on one that had ended, are what was said of it."""
    state, _, seal = said.partition(_CHECK)
    return seal == _seal(order, moves, is_ended=state in ENDINGS)


def _seal(order: WorkOrder, moves: tuple[Passage, ...], *, is_ended: bool) -> str:
    parts = [order_name(order.number), draft_seal(order) if is_ended else ""]
    for one in moves:
        by = one.by
        parts += [one.move.value, by.person, by.under, by.at.isoformat(), str(one.card), one.reason]
    texts = (part.encode("utf-8", "surrogatepass") for part in parts)
    return sha256(framed(b"sparkwright before 1", *texts)).hexdigest()
