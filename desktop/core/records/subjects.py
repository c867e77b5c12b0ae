"""What a record is about, in words of one form: an order, a card of it, a person, a tool, a limits sheet, the shop."""

import re
from dataclasses import dataclass

_ORDER = re.compile(r"order ([1-9][0-9]{0,17})(?: card ([1-9][0-9]{0,17}))?", re.ASCII)
_PERSON = "person "


@dataclass(frozen=True, slots=True)
class Place:
    """The order and card that a record is about; 0 for none."""

    order: int = 0
    card: int = 0


def order_subject(order: int, card: int = 0) -> str:
    """Name an order, or a card of it: ``order 12 card 3``."""
    return f"order {order} card {card}" if card else f"order {order}"


def person_subject(person: str) -> str:
    """Name a person by their id: ``person LO``."""
    return _PERSON + person


def tool_subject(tool: str) -> str:
    """Name a tool by the shop's number: ``tool W-3``."""
    return f"tool {tool}"


def sheet_subject(sheet: str, revision: str) -> str:
    """Name a limits sheet with its revision: ``limits sheet MS-7 revision 2``."""
    return f"limits sheet {sheet} revision {revision}"


def place_of(subject: str) -> Place:
    """Return the order and card of a subject; zeros for one that is not about an order."""
    found = _ORDER.fullmatch(subject)
    return Place(int(found[1]), int(found[2] or 0)) if found else Place()


def person_named(subject: str) -> str | None:
    """Return the id of the person that a subject names; None for another subject."""
    return subject.removeprefix(_PERSON) if subject.startswith(_PERSON) else None
