"""What the shop file keeps, as exact JSON text and back: the same value gives the same bytes, and the bytes the value.

Readings stand there as they were typed. What is empty by its form is left out. A text with a key that the form does
not have, a wrong type, or values that contradict each other is refused: it was not written by this program.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields, is_dataclass, replace
from datetime import date, datetime
from functools import cache, lru_cache
from hashlib import sha256
from typing import Any, TypeVar, get_args, get_type_hints

import msgspec

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.usecases.shop.ports import Answer, Change, OrderText

Kept = TypeVar("Kept")
_CAPITAL = re.compile(r"(?<=.)[A-Z]")

ORDER_FORMAT = 1
"""The form of an order's text; another number is another program's or a newer one's."""
MOST_CARDS_READ = 64
"""Task cards that are kept read, because every order of a kind shares one."""


_ATOMS = frozenset({str, int, bool, type(None), date, datetime})
_NO_TASK = {"id": "", "revision": 1, "title": "", "scheme": "", "applies": "", "steps": []}


class ShopJson:
    """The exact text of everything that a shop file keeps."""

    def write_order(self, order: WorkOrder) -> OrderText:
        """Return an order's text, and the text of each task card that was issued on it, by its digest."""
        cards: dict[str, str] = {}
        tables = []
        for card in order.cards:
            digest, text = _written_card(card.task)
            cards[digest] = text
            tables.append({name: digest if name == "task" else _plain(held) for name, held in _held_in(card)})
        table = {name: tables if name == "cards" else _plain(held) for name, held in _held_in(order)}
        return OrderText(_text({"format": ORDER_FORMAT, **table}), tuple(cards.items()))

    def read_order(self, text: str, card_text: Callable[[str], str]) -> WorkOrder:
        """Return an order from its text and those of its task cards; Refusal when one of them is not as written."""
        table = _formatted(text, "order")
        tasks: list[TaskCard] = []
        cards = table.get("cards", [])
        if not isinstance(cards, list):
            raise Refusal(_damaged("order", "cards: not a list"))
        for place, card in enumerate(cards, 1):
            digest = card.get("task") if isinstance(card, dict) else None
            if not isinstance(digest, str):
                raise Refusal(_damaged("order", f"cards[{place}].task: not the digest of a card"))
            tasks.append(_card(digest, card_text(digest)))
            card["task"] = _NO_TASK
        order = _value(table, WorkOrder, "order")
        issued = zip(order.cards, tasks, strict=True)
        return replace(order, cards=tuple(replace(card, task=task) for card, task in issued))

    def write(self, value: Person | Tool | Change | Answer | SheetLife | Sheet | ShopDetails | ShopSettings) -> str:
        """Return the text of a person, a tool, a line of the journal, an answer, a limits sheet or the shop itself."""
        return _text(_table_of(value))

    def read(self, text: str, kind: type[Kept]) -> Kept:
        """Return the value of a text; Refusal when it is not as written."""
        name = _CAPITAL.sub(r" \g<0>", kind.__name__).lower()
        return _value(_raw(text, name), kind, name)


def digest_of(text: str) -> str:
    """Return the SHA-256 of a text in UTF-8, as 64 small hexadecimal digits."""
    return sha256(text.encode("utf-8")).hexdigest()


def _card(digest: str, text: str) -> TaskCard:
    if digest_of(text) != digest:
        raise Refusal(_damaged("task card", "it is not the one that was issued"))
    return _read_card(text)


@lru_cache(MOST_CARDS_READ)
def _written_card(task: TaskCard) -> tuple[str, str]:
    """Return the digest of a task card and its text."""
    text = _text({"format": ORDER_FORMAT, **_table_of(task)})
    return digest_of(text), text


@lru_cache(MOST_CARDS_READ)
def _read_card(text: str) -> TaskCard:
    return _value(_formatted(text, "task card"), TaskCard, "task card")


def _formatted(text: str, name: str) -> dict[str, Any]:
    table = _raw(text, name)
    number = table.pop("format", None)
    if number != ORDER_FORMAT:
        raise Refusal(_damaged(name, f"its form is {number}, and this program reads form {ORDER_FORMAT}"))
    return table


def _raw(text: str, name: str) -> dict[str, Any]:
    try:
        raw = msgspec.json.decode(text)
    except (msgspec.DecodeError, RecursionError, UnicodeError, TypeError) as trouble:  # a column may be empty
        raise Refusal(_damaged(name, "it is no JSON text")) from trouble
    if not isinstance(raw, dict):
        raise Refusal(_damaged(name, "it is no JSON object"))
    return raw


def _value(raw: dict[str, Any], kind: type[Kept], name: str) -> Kept:
    try:
        if not _is_known(raw, kind):
            _refuse_unknown(raw, kind, name, "")
        return msgspec.convert(raw, kind)
    except (msgspec.ValidationError, RecursionError) as trouble:
        raise Refusal(_damaged(name, str(trouble))) from trouble


def _is_known(raw: object, kind: type) -> bool:
    """Tell whether a table and all inside it have only keys of their forms, without looking for the place."""
    if isinstance(raw, dict):
        if not _tables_in(kind).keys() >= raw.keys():
            return False
        for name, inside in _inner_of(kind):
            if name in raw and not _is_known(raw[name], inside):
                return False
    elif isinstance(raw, list):
        for entry in raw:
            if not _is_known(entry, kind):
                return False
    return True


def _refuse_unknown(raw: object, kind: type, name: str, path: str) -> None:
    """Refuse a key that a form does not have, in every table and list inside."""
    if isinstance(raw, list):
        for place, entry in enumerate(raw, 1):
            _refuse_unknown(entry, kind, name, f"{path}[{place}]")
    elif isinstance(raw, dict):
        tables = _tables_in(kind)
        for key, value in raw.items():
            where = f"{path}.{key}" if path else str(key)
            if key not in tables:
                raise Refusal(_damaged(name, f"{where}: this key is not known"))
            inner = tables[key]
            if inner is not None:
                _refuse_unknown(value, inner, name, where)


@cache
def _tables_in(kind: type) -> dict[str, type | None]:
    """Return the fields of a form, each with the form that it holds, directly, in a list or beside None."""
    hints = get_type_hints(kind)
    return {one.name: _table_in(hints[one.name]) for one in fields(kind)}


@cache
def _inner_of(kind: type) -> tuple[tuple[str, type], ...]:
    return tuple((name, inside) for name, inside in _tables_in(kind).items() if inside is not None)


def _table_in(hint: Any) -> type | None:  # noqa: ANN401 - a type hint
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    return next((found for found in map(_table_in, get_args(hint)) if found), None)


def _table_of(value: Any) -> dict[str, Any]:  # noqa: ANN401 - any kept value
    """Return a value as a table; a field that holds its default is left out."""
    return {name: held if type(held) in _ATOMS else _plain(held) for name, held in _held_in(value)}


def _held_in(value: Any) -> Iterator[tuple[str, Any]]:  # noqa: ANN401 - the same
    """Yield the fields of a value that hold something else than their default."""
    kind: type = type(value)
    for name, default in _defaults_of(kind):
        held = getattr(value, name)
        if default is MISSING or held != default:
            yield name, held


@cache
def _defaults_of(kind: type) -> tuple[tuple[str, Any], ...]:
    return tuple((one.name, one.default) for one in fields(kind))


def _plain(value: Any) -> Any:  # noqa: ANN401 - any kept value
    if isinstance(value, tuple):
        return [_plain(entry) for entry in value]
    return _table_of(value) if is_dataclass(value) else value


def _text(table: dict[str, Any]) -> str:
    return msgspec.json.encode(table).decode("utf-8")


def _damaged(name: str, what: str) -> str:
    return f"The shop file holds a damaged {name}: {what}. Restore the newest backup that is sound."
