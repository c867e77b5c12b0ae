"""Limits sheets: TOML into sheets and back, with the paths and limits that every file from outside has.

A sheet's file carries what was transcribed and no signature: whoever takes it in answers for it anew, and somebody
else compares it. Writing a sheet that was read gives the same values; comments of the file are not kept.
"""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from importlib.resources import files
from typing import Any, get_args, get_type_hints

import msgspec
import tomli_w

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_faults import sheet_faults
from desktop.core.shop.sheets.sheets import SIGNED_FIELDS, EngineSheet, MagnetoSheet, Sheet, document_words
from desktop.files.toml_text import read_toml

FORMAT = 1
_KINDS: dict[str, type[EngineSheet] | type[MagnetoSheet]] = {
    SheetKind.ENGINE.value: EngineSheet,
    SheetKind.MAGNETO.value: MagnetoSheet,
}
_OWN_KEYS = ("format", "kind")
_NAMES = {
    "str": "text in quotes",
    "int": "a whole number",
    "float": "a number without quotes",
    "bool": "true or false",
    "object": "a table",
    "array": "a list",
    "date": "a date",
    "datetime": "a date and time",
    "time": "a time",
}
_ENTRY = re.compile(r"\[(\d+)\]")
_TYPES = re.compile(r"Expected `(?P<expected>[^`]*)`, got `(?P<got>[^`]*)`")


def read_sheet(data: bytes) -> Sheet:
    """Return the sheet in the bytes of a file, faults of its values and all.

    Raise Refusal, its sentence beginning with "sheet:" and the path, for a key that is unknown or missing and for a
    value of a wrong type.
    """
    try:
        return _sheet(read_toml(data))
    except Refusal as refusal:
        raise Refusal(f"sheet: {refusal.sentence}") from refusal


def read_whole_sheet(data: bytes) -> Sheet:
    """Return the sheet in the bytes of a file; raise Refusal with the first fault of its shape or of its values."""
    sheet = read_sheet(data)
    for fault in sheet_faults(sheet):
        raise Refusal(f"sheet: {fault.sentence}.")
    return sheet


def write_sheet(sheet: Sheet) -> bytes:
    """Return the file of a sheet, which says at its head where the values come from and that they are not the data."""
    head = (
        f"# Limits sheet, transcribed from: {_one_line(document_words(sheet)) or 'no document named yet'}.",
        "# The document governs; this sheet is not approved data.",
        *(("# Invented data: nothing here is data for a real engine or magneto.",) if sheet.invented else ()),
    )
    table = {"format": FORMAT, "kind": sheet.kind.value, **_table_of(sheet)}
    return ("\n".join(head) + "\n\n" + tomli_w.dumps(table)).encode("utf-8")


def demo_sheets() -> tuple[Sheet, ...]:
    """Return the demo's invented sheets, by the names of their files."""
    folder = files("resources").joinpath("demo", "sheets")
    places = sorted((place for place in folder.iterdir() if place.name.endswith(".toml")), key=lambda place: place.name)
    return tuple(read_whole_sheet(place.read_bytes()) for place in places)


def _sheet(raw: dict[str, Any]) -> Sheet:
    kind = raw.get("kind")
    if type(raw.get("format")) is not int or raw["format"] != FORMAT:
        raise Refusal(f"format: expected {FORMAT}. This program reads limits sheets of format {FORMAT}.")
    if not isinstance(kind, str) or kind not in _KINDS:
        scope = "" if kind is None else " Electronic ignition is out of scope here."
        raise Refusal(f'kind: expected "engine" or "magneto".{scope}')
    form = _KINDS[kind]
    table = {key: value for key, value in raw.items() if key not in _OWN_KEYS}
    _refuse_unknown(table, form, "", SIGNED_FIELDS)
    if "id" not in table:
        raise Refusal("id: expected the name that the shop has for this sheet, nothing found.")
    revision = table.get("revision", 1)
    if type(revision) is int and not 1 <= revision <= 999_999:  # noqa: PLR2004 - more than any shop has
        raise Refusal("revision: expected a whole number from 1 to 999999.")
    try:
        return msgspec.convert(table, form)
    except msgspec.ValidationError as trouble:
        raise Refusal(_sentence(str(trouble))) from trouble


def _refuse_unknown(table: Mapping[str, Any], form: type, path: str, hidden: tuple[str, ...] = ()) -> None:
    tables = _tables_in(form)
    for key, value in table.items():
        where = f"{path}.{key}" if path else key
        if key not in tables or key in hidden:
            names = ", ".join(name for name in tables if name not in hidden)
            raise Refusal(f"{_shown(where)}: this key is not known here. Expected one of: {names}.")
        inner = tables[key]
        entries = value if isinstance(value, list) else [value]
        for place, entry in enumerate(entries, 1):
            if inner and isinstance(entry, dict):
                _refuse_unknown(entry, inner, f"{where}[{place}]" if isinstance(value, list) else where)


@cache
def _tables_in(form: type) -> dict[str, type | None]:
    """Return the fields of a form, each with the form that it holds, directly, in a list or beside None."""
    hints = get_type_hints(form)
    return {one.name: _table_in(hints[one.name]) for one in fields(form)}


def _table_in(hint: Any) -> type | None:  # noqa: ANN401 - a type hint
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    return next((found for found in map(_table_in, get_args(hint)) if found), None)


def _sentence(message: str) -> str:
    """Say a decoding error in a line: path counted from 1, what is expected, what was found."""
    message, _, path = message.partition(" - at `$")
    where = _ENTRY.sub(lambda entry: f"[{int(entry[1]) + 1}]", path.rstrip("`").lstrip("."))
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


def _one_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)


def _table_of(table: Any) -> dict[str, Any]:  # noqa: ANN401 - any table of a sheet
    result = {}
    for one in fields(table):
        value = getattr(table, one.name)
        if is_dataclass(value):
            value = _table_of(value)
        elif isinstance(value, tuple):
            value = [_table_of(entry) if is_dataclass(entry) else entry for entry in value]
        if value is not None and one.name not in SIGNED_FIELDS:
            result[one.name] = value
    return result
