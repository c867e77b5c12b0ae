"""Faults of a TOML file of this program in one line: the place, counted from 1, and what is expected there."""

import re
from typing import Any

_PLACE = re.compile(r" - at `\$((?:\.\w+|\[\d+\])+)`$")
_PATH_PART = re.compile(r"(\w+)(?:\[(\d{1,6})\])?")
_FIELD = re.compile(r"Object (contains unknown|missing required) field `(.*?)`", re.DOTALL)
_VALUE = re.compile(r"Expected `(.*?)`, got `(.*?)`")
_NAMES = {"str": "text in quotes", "int": "a whole number", "bool": "true or false", "array": "a list"}
_NAMES |= {"object": "a table", "float": "a number with decimals", "datetime": "a date and time"}
ID = re.compile(r"(?=.{1,40}$)[a-z0-9]+(-[a-z0-9]+)*")
"""The form of the id of a step, a hazard, a section or a job."""


def shape_fault(message: str, raw: dict[str, Any], named: str) -> str:
    """Say a fault of shape in a line: tables counted from 1, those of the list `named` with their id, key, expected."""
    place = _PLACE.search(message)
    parts = [
        _part(key, int(entry) + 1 if entry else 0, raw, named)
        for key, entry in _PATH_PART.findall(place[1] if place else "")
    ]
    message = message[: place.start()] if place else message
    if field := _FIELD.search(message):
        is_unknown = field[1] == "contains unknown"
        parts.append(shown(field[2]) if is_unknown else field[2])
        return f"{': '.join(parts)}: {'this key is not known here' if is_unknown else 'this key is missing'}."
    if value := _VALUE.search(message):
        message = f"expected {_NAMES.get(value[1], value[1])}, found {_NAMES.get(value[2], value[2])}"
    return f"{': '.join(parts)}: {message}."


def table_words(table: str, number: int, its_id: object = None) -> str:
    """Name a table by its number and, where it has a fit one, its id."""
    is_fit = isinstance(its_id, str) and ID.fullmatch(its_id)
    return f"{table} {number} ({its_id})" if is_fit else f"{table} {number}"


def shown(text: str) -> str:
    """Write a stranger's text in one short line of visible signs."""
    visible = text.encode("unicode_escape").decode("ascii")
    return f'"{visible}"' if len(visible) <= 60 else f'"{visible[:56]} ..."'  # noqa: PLR2004 - one short line


def _part(key: str, number: int, raw: dict[str, Any], named: str) -> str:
    """Name one part of a path: a key, an entry counted from 1, or a table of the named list with its id."""
    if key != named or not number:
        return f"{key} {number}" if number else key
    tables = raw.get(named)
    tables = tables[number - 1 : number] if isinstance(tables, list) else []
    return table_words(named, number, *(table.get("id") for table in tables if isinstance(table, dict)))
