"""An order in one line of the list, and the words by which it is found."""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from functools import lru_cache

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.shop.stamp import Stamp

_NAMED = re.compile(r"(?<![\w-])w-?0*([0-9]*)(?!\w)", re.IGNORECASE)
_NUMBERED = re.compile(r"(?<![\w.-])0+([1-9][0-9]*)(?![\w.])")
_WORD = re.compile(r"[^\W_]+")
MOST_TEXTS = 4096
"""Texts whose words are kept: an order says the same words again at each change."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """What the list shows of an order; ``not_normal`` counts what is not normal on its safe-state board."""

    number: int
    version: int
    state: OrderState
    customer: str
    registration: str
    aircraft_type: str
    position: EnginePosition
    opened: Stamp
    promised: date | None
    asked: str
    cards: int
    mechanics: tuple[str, ...]
    not_normal: int


def line_of(order: WorkOrder) -> OrderLine:
    """Return an order's line in the list."""
    return OrderLine(
        number=order.number,
        version=order.version,
        state=order.state,
        customer=order.customer.name,
        registration=order.aircraft.registration,
        aircraft_type=order.aircraft.type,
        position=order.position,
        opened=order.opened,
        promised=order.promised,
        asked=order.asked,
        cards=len(order.cards),
        mechanics=tuple(dict.fromkeys(card.mechanic for card in order.cards if card.mechanic)),
        not_normal=len(not_normal(order.board)),
    )


def order_name(number: int) -> str:
    """Return an order's number as it is read and spoken: ``W-0417``."""
    return f"W-{number:04d}"


def aircraft_words(order: WorkOrder) -> str:
    """Name an order's aircraft by what is known of it."""
    aircraft = order.aircraft
    return _joined(aircraft.registration, aircraft.type, aircraft.serial)


def engine_words(order: WorkOrder) -> str:
    """Name an order's engine by what is known of it, with its position."""
    engine = order.engine
    return ", ".join(part for part in (_joined("", engine.type, engine.serial), f"{order.position} engine") if part)


def _joined(name: str, kind: str, serial: str) -> str:
    return ", ".join(part for part in (name, kind, f"no. {serial}" if serial else "") if part)


def find_text(typed: str) -> str:
    """Return the text to look for: an order named as the list names it is looked for by its number.

    ``W-0417`` and ``0417`` become ``417``; ``W-00``, the beginning of such a name, finds everything.
    """
    return _NUMBERED.sub(r"\1", _NAMED.sub(r"\1", typed))


@lru_cache(MOST_TEXTS)
def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a text for searching: letters and digits, small, without accents, in their order."""
    parts = unicodedata.normalize("NFKD", text)
    plain = "".join(sign for sign in parts if not unicodedata.combining(sign))
    return tuple(word.casefold() for word in _WORD.findall(plain))


def search_words(order: WorkOrder) -> tuple[str, ...]:
    """Return the words by which an order is found, each once, sorted.

    They come from its number, customer, aircraft, serials, complaint and everything that was written on it; readings
    are not among them.
    """
    found = set(words_of(str(order.number)))
    for text in _texts(order):
        found.update(words_of(text))
    return tuple(sorted(found))


def is_found(words: Sequence[str], find: Sequence[str]) -> bool:
    """Tell whether each word that is looked for is the beginning of one of an order's words."""
    return all(any(word.startswith(wanted) for word in words) for wanted in find)


def _texts(order: WorkOrder) -> Iterator[str]:
    for part in (order.customer, order.aircraft, order.taken_in, order.discrepancies, order.parts, order.time):
        yield from _within(part)
    for rest in (order.searches, order.directives):
        yield from _within(rest)
    yield order.asked
    for passage in order.passages:
        yield passage.reason
    for card in order.cards:
        yield from (card.task.id, card.task.title, card.mechanic)
        yield from (done.text for done in card.steps)
        yield from (remark.text for remark in card.remarks)


def _within(value: object) -> Iterator[str]:
    """Yield every text in a value, but no times and no words that the program chose."""
    if type(value) is str:
        yield value
    elif isinstance(value, tuple):
        for entry in value:
            yield from _within(entry)
    elif is_dataclass(value) and not isinstance(value, Stamp):
        for one in fields(value):
            yield from _within(getattr(value, one.name))
