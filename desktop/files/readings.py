"""Readings files: TOML into a typed card. Only its shape is judged here; the core reads what was typed."""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any, get_args, get_type_hints

import msgspec
import tomli_w

from desktop.core.errors import Refusal
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedStop
from desktop.files.toml_text import read_toml

_NAMES = {
    "str": "text in quotes",
    "int": "a whole number",
    "float": "a number without quotes",
    "bool": "true or false",
    "object": "a table",
    "array": "a list",
    "null": "nothing",
    "date": "a date",
    "datetime": "a date and time",
    "time": "a time",
}
_KEYS = {one.name: one.metadata["key"] for kind in (TypedStop, TypedApproach) for one in fields(kind) if one.metadata}
_PATH_ENTRY = re.compile(r"\[(\d+)\]")
_TYPES = re.compile(r"Expected `(?P<expected>[^`]*)`, got `(?P<got>[^`]*)`")


def read_readings(data: bytes) -> TypedCard:
    """Return the typed card in the bytes of a readings file.

    Raise Refusal with the first key that is unknown or holds the wrong type, its entries counted from 1.
    """
    raw = _with_field_names(read_toml(data), TypedCard, "")
    if "format" in raw and raw["format"] != 1:
        raise Refusal("format: expected 1. This program reads readings files of format 1.")
    try:
        return msgspec.convert(raw, TypedCard)
    except msgspec.ValidationError as trouble:
        raise Refusal(_sentence(str(trouble))) from trouble


def _with_field_names(raw: Mapping[str, Any], kind: type, path: str) -> dict[str, Any]:
    """Replace each key by the name of its field, table by table, and refuse keys that the form does not have."""
    hints = get_type_hints(kind)
    names = {one.metadata.get("key", one.name): one.name for one in fields(kind)}
    result = {}
    for key, value in raw.items():
        where = f"{path}.{key}" if path else key
        if key not in names:
            raise Refusal(f"{_shown(where)}: this key is not known here. Expected one of: {', '.join(names)}.")
        inner = _table_in(hints[names[key]])
        if inner and isinstance(value, dict):
            value = _with_field_names(value, inner, where)  # noqa: PLW2901 - the renamed table takes its place
        elif inner and isinstance(value, list):
            value = [  # noqa: PLW2901 - the same
                _with_field_names(one, inner, f"{where}[{place}]") if isinstance(one, dict) else one
                for place, one in enumerate(value, 1)
            ]
        result[names[key]] = value
    return result


def _table_in(hint: Any) -> type | None:  # noqa: ANN401 - a type hint
    """Return the table kind that a field's type holds, directly, in a tuple or beside None."""
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    return next((found for found in map(_table_in, get_args(hint)) if found), None)


def _sentence(message: str) -> str:
    """Say a decoding error in a line: path counted from 1, what is expected, what was found."""
    message, _, path = message.partition(" - at `$")
    where = _PATH_ENTRY.sub(lambda entry: f"[{int(entry[1]) + 1}]", path.rstrip("`").lstrip("."))
    where = re.sub(r"\w+", lambda name: _KEYS.get(name[0], name[0]), where)
    types = _TYPES.search(message)
    if types is None:
        return f"{where}: {message}."
    kinds = [one for one in types["expected"].split(" | ") if one != "null"]
    # A whole number may be kept as text while it is wrong; to whoever writes a file it is a whole number.
    expected = _NAMES["int"] if "int" in kinds else " or ".join(_NAMES.get(one, one) for one in kinds)
    return f"{where}: expected {expected}, found {_NAMES.get(types['got'], types['got'])}."


def _shown(where: str) -> str:
    """Write a stranger's key in one short line of visible signs."""
    visible = where.encode("unicode_escape").decode("ascii")
    return visible if len(visible) <= 120 else f"{visible[:116]} ..."  # noqa: PLR2004 - one short line


def write_readings(card: TypedCard) -> bytes:
    """Return the readings file of a typed card; text that cannot be read yet is kept as it was typed."""
    return tomli_w.dumps(_table_of(card)).encode("utf-8")


def _table_of(table: Any) -> dict[str, Any]:  # noqa: ANN401 - any table of a typed card
    result = {}
    for one in fields(table):
        value = getattr(table, one.name)
        if is_dataclass(value):
            value = _table_of(value)
        elif isinstance(value, tuple):
            value = [_table_of(entry) if is_dataclass(entry) else entry for entry in value]
        if value is not None:
            result[one.metadata.get("key", one.name)] = value
    return result
