"""Reaching one typed value of a limits sheet by its key's path, and putting another in its place.

A path is written as in the sheet's file, entries counted from 1: ``limits.left_btdc``, ``eligible[2].side``.
"""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, get_args, get_type_hints

from desktop.core.shop.sheets.sheets import SIGNED_FIELDS, Sheet

AnySheet = TypeVar("AnySheet", bound=Sheet)
Row = tuple[str, str]

_STEP = re.compile(r"([a-z_]+)(?:\[([1-9][0-9]?)\])?")
_BETWEEN = re.compile(r"[\s,;-]+")
_WHOLE = re.compile(r"[0-9]{1,6}")
_FIXED = ("id", "revision", *SIGNED_FIELDS)


def sheet_value(sheet: Sheet, path: str) -> str | bool | None:
    """Return what stands at a path: text, yes or no, None where nothing stands; of a list, how many entries it has.

    Raise KeyError for no such key.
    """
    here: Any = sheet
    kind: Any = type(sheet)
    for name, place in _steps(path):
        hint = _hint(kind, name)
        here = None if here is None else getattr(here, name)
        kind = _table_in(hint)
        if place is not None:
            _refuse_no_list(hint, path)
            here = here[place - 1] if here and place <= len(here) else None
        elif kind and _is_list(hint):
            here = f"{len(here)} entries" if here else None
            kind = None
    if kind:
        raise KeyError(path)
    return _shown(here)


def with_sheet_value(sheet: AnySheet, path: str, value: str | bool | None) -> AnySheet:  # noqa: FBT001 - a typed value
    """Return the sheet with another value at a path; tables and list entries on the way are made where missing.

    Empty text takes the value away, and an entry goes when nothing is left in it. Raise KeyError for no such key, and
    for id, revision and signatures, which nobody types into a sheet.
    """
    steps = _steps(path)
    if steps[0][0] in _FIXED:
        raise KeyError(path)
    changed: AnySheet = _put(sheet, type(sheet), steps, value)
    return changed


def sheet_groups(sheet: Sheet) -> tuple[tuple[str, tuple[Row, ...]], ...]:
    """Return what was typed, group by group, each with its paths and values: what a second person compares.

    The groups are the sheet's own tables and lists; what stands outside of any is the group "sheet".
    """
    groups: dict[str, list[Row]] = {}
    for path, text in typed_rows(sheet):
        name = re.split(r"[.\[]", path)[0]
        groups.setdefault("sheet" if name == path else name, []).append((path, text))
    return tuple((name, tuple(rows)) for name, rows in groups.items())


def typed_rows(sheet: Sheet) -> Iterator[Row]:
    """Yield the path and the text of everything that was typed, in the order of the file."""
    for one in fields(sheet):
        if one.name not in _FIXED:
            yield from _rows(getattr(sheet, one.name), one.name)


def _rows(value: object, path: str) -> Iterator[Row]:
    if is_dataclass(value):
        for one in fields(value):
            yield from _rows(getattr(value, one.name), f"{path}.{one.name}")
    elif isinstance(value, tuple) and not _is_order(value):
        for place, entry in enumerate(value, 1):
            yield from _rows(entry, f"{path}[{place}]")
    elif value is not None:
        text = _shown(value)
        yield path, ("yes" if text else "no") if isinstance(text, bool) else str(text)


def _is_order(value: tuple[object, ...]) -> bool:
    return bool(value) and isinstance(value[0], int)


def _shown(value: Any) -> str | bool | None:  # noqa: ANN401 - any typed value
    if isinstance(value, tuple):
        return "-".join(str(entry) for entry in value)
    return value if value is None or isinstance(value, bool) else str(value)


def _steps(path: str) -> list[tuple[str, int | None]]:
    steps = []
    for part in path.split("."):
        match = _STEP.fullmatch(part)
        if match is None:
            raise KeyError(path)
        steps.append((match[1], int(match[2]) if match[2] else None))
    return steps


def _put(here: Any, kind: Any, steps: list[tuple[str, int | None]], value: str | bool | None) -> Any:  # noqa: ANN401, FBT001 - any table
    (name, place), rest = steps[0], steps[1:]
    hint = _hint(kind, name)
    table = _table_in(hint)
    old = getattr(here, name)
    if (table is None) is bool(rest):
        raise KeyError(name)
    if place is not None:
        _refuse_no_list(hint, name)
        empty = table() if table else ""
        entries = [*(old or ()), *[empty] * (place - len(old or ()))]
        entries[place - 1] = _put(entries[place - 1], table, rest, value) if table else str(value or "")
        kept = tuple(entry for entry in entries if entry != empty)
        return replace(here, **{name: kept or None})
    if _is_list(hint):
        raise KeyError(name)
    new = _put(old or table(), table, rest, value) if table else _typed(hint, value)
    return replace(here, **{name: new})


def _hint(kind: Any, name: str) -> Any:  # noqa: ANN401 - any table, a type hint
    if kind is None or name not in {one.name for one in fields(kind)}:
        raise KeyError(name)
    return get_type_hints(kind)[name]


def _refuse_no_list(hint: Any, path: str) -> None:  # noqa: ANN401 - a type hint
    if not _is_list(hint):
        raise KeyError(path)


def _is_list(hint: Any) -> bool:  # noqa: ANN401 - a type hint
    """Tell whether a field holds a list of tables or of texts; a firing order is one value."""
    inner = [get_args(kind)[0] for kind in (hint, *get_args(hint)) if getattr(kind, "__origin__", None) is tuple]
    return bool(inner) and int not in get_args(inner[0])


def _table_in(hint: Any) -> Any:  # noqa: ANN401 - a type hint
    """Return the kind of table that a field holds, directly, in a list or beside None."""
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    return next((found for found in map(_table_in, get_args(hint)) if found), None)


def _typed(hint: Any, value: str | bool | None) -> Any:  # noqa: ANN401, FBT001 - a type hint, a typed value
    """Bring a value into the form of its field: yes or no, a whole number, a firing order entry by entry, or text."""
    kinds = get_args(hint)
    if hint is bool or bool in kinds:
        return value in (True, "true", "yes")
    if not isinstance(value, str) or not value.strip():
        return None
    if any(getattr(kind, "__origin__", None) is tuple for kind in kinds):
        return tuple(_whole(entry) for entry in _BETWEEN.split(value.strip()) if entry)
    return _whole(value) if int in kinds else value


def _whole(text: str) -> int | str:
    return int(text) if _WHOLE.fullmatch(text.strip()) else text
