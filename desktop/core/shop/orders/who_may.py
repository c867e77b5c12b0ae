"""Who may write what: the rights that each deed asks for, as data."""

from datetime import date
from enum import StrEnum

from desktop.core.shop.orders.order_states import Move, row_of
from desktop.core.shop.people.people import Person, Right


class Deed(StrEnum):
    """What is written into the shop without moving an order."""

    OPEN_ORDER = "open a work order"
    TAKE_IN = "take an aircraft in"
    TAKE_READING = "take a reading"
    CONFIRM_STEP = "confirm a step"
    WRITE_REMARK = "write a remark"
    SET_SAFE_STATE = "set the safe-state board"
    BOOK_TIME = "book time"
    ADD_PART = "add a part"
    ADD_DISCREPANCY = "add a discrepancy"
    SETTLE_DISCREPANCY = "settle a discrepancy"
    RECORD_DIRECTIVE = "record a directive"
    LEAVE_OUT = "leave a magneto out of the job"
    WRITE_SHEET = "write a limits sheet"
    COMPARE_SHEET = "compare a limits sheet"
    KEEP_PEOPLE = "keep the roster"
    KEEP_TOOLS = "keep the list of tools"
    KEEP_SHOP = "keep the shop's details and settings"
    RECORD_INK = "record a paper signed with ink"


_HANDS = (Right.MECHANIC, Right.HELPER)
_SHOP = (Right.FRONT_DESK, Right.MECHANIC, Right.HELPER, Right.INSPECTOR)

RIGHTS: dict[Deed, tuple[Right, ...]] = {
    Deed.OPEN_ORDER: (Right.FRONT_DESK,),
    Deed.TAKE_IN: (Right.FRONT_DESK, Right.MECHANIC),
    Deed.TAKE_READING: _HANDS,
    Deed.CONFIRM_STEP: _HANDS,
    Deed.WRITE_REMARK: _HANDS,
    Deed.SET_SAFE_STATE: _SHOP,
    Deed.BOOK_TIME: (Right.FRONT_DESK, *_HANDS),
    Deed.ADD_PART: _HANDS,
    Deed.ADD_DISCREPANCY: _SHOP,
    Deed.SETTLE_DISCREPANCY: (Right.FRONT_DESK, Right.MECHANIC, Right.INSPECTOR),
    Deed.RECORD_DIRECTIVE: (Right.FRONT_DESK, Right.MECHANIC, Right.INSPECTOR),
    Deed.LEAVE_OUT: (Right.FRONT_DESK, Right.MECHANIC, Right.INSPECTOR),
    Deed.WRITE_SHEET: (Right.RECORDS,),
    Deed.COMPARE_SHEET: (Right.MECHANIC, Right.INSPECTOR, Right.AUTHORISED, Right.RECORDS),
    Deed.KEEP_PEOPLE: (Right.RECORDS,),
    Deed.KEEP_TOOLS: (Right.RECORDS,),
    Deed.KEEP_SHOP: (Right.RECORDS,),
    Deed.RECORD_INK: (Right.FRONT_DESK, Right.RECORDS),
}
"""The rights of which a deed asks for one."""


def rights_for(deed: Deed | Move) -> tuple[Right, ...]:
    """Return the rights of which a deed or a move asks for one."""
    return row_of(deed).who if isinstance(deed, Move) else RIGHTS[deed]


def why_not(person: Person, deed: Deed | Move, day: date) -> str | None:
    """Say why a person may not do something on a day; None when they may."""
    if not person.is_here(day):
        return f"{person.name} is not with the shop on {day.isoformat()}. Somebody who is does this."
    rights = rights_for(deed)
    if not person.holds_one_of(rights):
        return f"{person.name} may not do this: {deed}. It takes the right of {' or '.join(rights)}."
    return None
