"""Reaching one typed value of a card by its key's path, and putting another in its place; the old card stays as it was.

A path is written as in the readings file, entries counted from 1: ``left.approach[2].light``.
"""

import re
from dataclasses import fields, replace
from typing import Any, get_args, get_type_hints

from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, Whole

_STEP = re.compile(r"([a-z_]+)(?:\[([0-9]+)\])?")
_ORDER_SIGNS = re.compile(r"[\s,;-]+")

_ONE_DIGIT_EACH = re.compile(r"[1-9]{2,9}")

_CHOSEN_WORDS = ("when", "unit")

Value = str | bool | None


def value_at(card: TypedCard, path: str) -> Value:
    """Return what stands at a path: text, yes or no, or None where nothing stands. Raises KeyError for no such key."""
    here: Any = card
    for name, place in _steps(path):
        if here is None:
            return None
        here = getattr(here, _field_name(type(here), name))
        if place is not None:
            here = here[place - 1] if here and place <= len(here) else None
    if isinstance(here, tuple):
        return "-".join(str(entry) for entry in here)
    return here if here is None or isinstance(here, bool) else str(here)


def with_value(card: TypedCard, path: str, value: Value) -> TypedCard:
    """Return the card with another value at a path; tables and list entries on the way are made where missing.

    Empty text takes the value away. A list entry goes with its last reading: its ticks and words alone say nothing.
    Raises KeyError for no such key.
    """
    changed: TypedCard = _put(card, TypedCard, _steps(path), value)
    return changed


def with_magneto(card: TypedCard, side: Side, magneto: TypedMagneto | None) -> TypedCard:
    """Return the card with another magneto on a side, or with none."""
    return replace(card, left=magneto) if side is Side.LEFT else replace(card, right=magneto)


def _steps(path: str) -> list[tuple[str, int | None]]:
    steps = []
    for part in path.split("."):
        match = _STEP.fullmatch(part)
        if match is None:
            raise KeyError(path)
        steps.append((match[1], int(match[2]) if match[2] else None))
    return steps


def _field_name(kind: type, key: str) -> str:
    for one in fields(kind):
        if one.metadata.get("key", one.name) == key:
            return one.name
    raise KeyError(key)


def _put(here: Any, kind: type, steps: list[tuple[str, int | None]], value: Value) -> Any:  # noqa: ANN401 - any table
    here = kind() if here is None else here
    (key, place), rest = steps[0], steps[1:]
    name = _field_name(kind, key)
    hint = get_type_hints(kind)[name]
    old = getattr(here, name)
    if not rest:
        return replace(here, **{name: _typed(hint, value)})
    if place is None:
        return replace(here, **{name: _put(old, _table(hint), rest, value)})
    entries = list(old or ())
    empty = _table(hint)()
    entries += [empty] * (place - len(entries))
    entries[place - 1] = _put(entries[place - 1], type(empty), rest, value)
    if value in (None, "", False) and not _holds_readings(entries[place - 1]):
        del entries[place - 1]
    return replace(here, **{name: tuple(entries) or None})


def _holds_readings(entry: Any) -> bool:  # noqa: ANN401 - any entry of a list
    """Tell whether anything stands in an entry but ticks and words chosen from a list."""
    return any(isinstance(getattr(entry, one.name), str) for one in fields(entry) if one.name not in _CHOSEN_WORDS)


def _table(hint: Any) -> type:  # noqa: ANN401 - a type hint
    """Return the kind of table that a field holds, directly or in a list."""
    tables: list[type] = [kind for kind in _kinds(hint) if hasattr(kind, "__dataclass_fields__")]
    if not tables:
        raise KeyError(str(hint))
    return tables[0]


def _kinds(hint: Any) -> list[Any]:  # noqa: ANN401 - a type hint
    """Return a type and all that it is made of."""
    return [hint, *(kind for inner in get_args(hint) for kind in _kinds(inner))]


def _typed(hint: Any, value: Value) -> Any:  # noqa: ANN401 - a type hint
    """Bring a value into the form of its field: yes or no, whole numbers, a firing order entry by entry, or text."""
    if isinstance(value, bool):
        return value
    if value is None or not value.strip():
        return None
    kinds = get_args(hint)
    if bool in kinds:
        return value == "true"
    if any(getattr(kind, "__origin__", None) is tuple for kind in kinds):
        entries = [entry for entry in _ORDER_SIGNS.split(value.strip()) if entry]
        if len(entries) == 1 and _ONE_DIGIT_EACH.fullmatch(entries[0]):
            entries = list(entries[0])
        return tuple(_whole(entry) for entry in entries)
    return _whole(value) if int in kinds else value


def _whole(text: str) -> Whole:
    text = text.strip()
    return int(text) if re.fullmatch(r"[0-9]{1,6}", text) else text
