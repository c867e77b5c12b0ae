"""The seal of a draft: what a signature froze of an order or a card, so that a later change of the draft shows.

A signed record says it in a row; whoever checks the file makes it again from the draft. Fields that hold their default
are left out, so that a form that grows later does not change the seal of what was signed before.
"""

from collections.abc import Iterator
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date, datetime
from hashlib import sha256

from desktop.core.records.record import Row
from desktop.core.records.sealed.canonical import framed
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard

LABEL = "Check of the work order as kept"
"""The label of the row that says the seal of a draft."""
# What goes on changing after the signature: where the order stands, the board until the aircraft leaves, and papers
# that come back signed with ink.
_GOES_ON = {"version", "state", "ending", "passages", "board", "inks"}


def seal_row(draft: WorkOrder | OrderCard) -> Row:
    """Return the row that binds a record to an order (at its approval) or to a card (at its submission)."""
    return Row(LABEL, draft_seal(draft))


def draft_seal(draft: WorkOrder | OrderCard) -> str:
    """Return the seal of an order or a card: 64 hexadecimal digits over everything that was written on it."""
    return sha256(framed(*_parts(draft))).hexdigest()


def _parts(value: object) -> Iterator[bytes]:
    """Yield the parts of a value: the name of each field before what it holds, the count of each list before it."""
    if isinstance(value, tuple):
        yield b"%d" % len(value)
        for entry in value:
            yield framed(*_parts(entry))
    elif is_dataclass(value):
        left_out = _GOES_ON if isinstance(value, WorkOrder | OrderCard) else ()
        for one in fields(value):
            held = getattr(value, one.name)
            if one.name not in left_out and not _is_default(one, held):
                yield one.name.encode()
                yield framed(*_parts(held))
    else:
        yield b"text" if isinstance(value, str) else b"value"
        # Text as typed may hold anything, even halves of signs.
        text = value.isoformat() if isinstance(value, date | datetime) else str(value)
        yield text.encode("utf-8", "surrogatepass")


def _is_default(one: Field[object], held: object) -> bool:
    if one.default_factory is not MISSING:
        return held == one.default_factory()
    return one.default is not MISSING and held == one.default
