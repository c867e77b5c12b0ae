"""The fields of a limits sheet as it stands: every key that its file may have, lists with one more entry to begin."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import StrEnum
from typing import Any, get_args, get_type_hints

from desktop.core.shop.sheets.sheet_choices import (
    Against,
    Configuration,
    EligibleSide,
    Length,
    PlugPlace,
    Resistance,
    SheetKind,
)
from desktop.core.shop.sheets.sheets import SIGNED_FIELDS, EngineSheet, MagnetoSheet, Sheet
from desktop.core.timing.readings import Hand, LagIn, Turn, Unit
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice, words_of

FIXED = ("id", "revision", *SIGNED_FIELDS)
_CHOICES: dict[str, type[StrEnum]] = {
    "configuration": Configuration,
    "engine.rotation": Turn,
    "engine.propeller_rotation": Turn,
    "magneto.rotation": Hand,
    "magneto.impulse_lag_in": LagIn,
    "turning.against": Against,
    "eligible.side": EligibleSide,
    "plug.left": PlugPlace,
    "plug.right": PlugPlace,
    "plug_gap.unit": Length,
    "contact_gap.unit": Length,
    "leads.unit": Resistance,
    "torque.unit": Unit,
}
_UNITS = {
    "engine.stroke_mm": "mm",
    "engine.rod_mm": "mm",
    "limits.left_btdc": "° BTDC",
    "limits.right_btdc": "° BTDC",
    "limits.advanced_most": "crankshaft °",
    "limits.retarded_most": "crankshaft °",
    "limits.apart_most": "crankshaft °",
    "run_up.rpm": "rpm",
    "run_up.drop_most": "rpm",
    "run_up.apart_most": "rpm",
    "interval.hours": "h",
    "interval.months": "months",
    "magneto.back_off_least": "crankshaft °",
    "magneto.back_off_most": "crankshaft °",
    "magneto.slot_degrees": "magneto °",
    "magneto.slot_radius_mm": "mm",
    "magneto.e_gap": "magneto °",
    "magneto.e_gap_least": "magneto °",
    "magneto.e_gap_most": "magneto °",
    "retard.btdc": "° BTDC",
    "retard.least": "° BTDC",
    "retard.most": "° BTDC",
}
_LABELS = {
    "btdc": "Fires",
    "left_btdc": "Left fires",
    "right_btdc": "Right fires",
    "e_gap": "E-gap",
    "e_gap_least": "E-gap, least",
    "e_gap_most": "E-gap, most",
    "propeller_turns_per_crank_turn": "Propeller turns for one crankshaft turn",
    "slot_radius_mm": "Slot radius",
    "stroke_mm": "Stroke",
    "rod_mm": "Connecting rod",
    "tdc_accessory": "Where TDC and marks are shown",
    "part_numbers": "Part number",
    "types": "Type designation",
    "reference": "Reference cylinder",
    "against": "Against rotation",
    "invented": "Invented data",
    "one_housing": "Both in one housing",
}
_HINTS = {
    "ignition": "magneto",
    "document.date": "such as 2026-02-28",
    "torque.what": "plug, clamp, nut, or the document's word",
    "engine.firing_order": "such as 1-4-5-2-3-6",
}
_OPEN_LISTS = 1
"""Entries that can be begun behind those of a list."""


def groups_of(sheet: Sheet) -> tuple[Group, ...]:
    """Return every field of a sheet in its groups, in the order of the file."""
    own: list[Field] = []
    groups: list[Group] = []
    hints = get_type_hints(type(sheet))
    for one in fields(sheet):
        if one.name in FIXED:
            continue
        hint, value = hints[one.name], getattr(sheet, one.name)
        table, is_list = _table_in(hint), _is_list(hint)
        if table is not None and is_list:
            groups += _entries(one.name, table, value or ())
        elif table is not None:
            groups.append(Group(_title(one.name), tuple(_table_fields(table, one.name, one.name))))
        elif is_list:
            own += [_field(f"{one.name}[{place}]", one.name) for place in range(1, len(value or ()) + 1 + _OPEN_LISTS)]
        else:
            own.append(_field(one.name, one.name, is_tick=hint is bool))
    return (Group("Sheet", tuple(own)), *groups)


def columns_of(sheet: Sheet) -> tuple[tuple[Group, ...], ...]:
    """Return the groups in two columns of about the same length."""
    groups = groups_of(sheet)
    half, taken, first = sum(len(group.fields) + 1 for group in groups) / 2, 0, 0
    for number, group in enumerate(groups, 1):
        taken += len(group.fields) + 1
        first = number
        if taken >= half:
            break
    return (groups[:first], groups[first:])


def empty_sheet(sheet_id: str, kind: SheetKind) -> Sheet:
    """Return a sheet in which nothing is typed yet."""
    return EngineSheet(sheet_id) if kind is SheetKind.ENGINE else MagnetoSheet(sheet_id)


def label_of(path: str) -> str:
    """Say a path of a sheet in words: the group and the field."""
    parts = path.split(".")
    group, _, place = parts[0].partition("[")
    name = parts[-1].partition("[")[0]
    words = _words(name)
    if len(parts) == 1:
        return words if not place else f"{words} {place.rstrip(']')}"
    number = f" {place.rstrip(']')}" if place else ""
    return f"{_title(group)}{number}: {words[:1].lower()}{words[1:]}"


def unit_of(path: str) -> str:
    """Return the unit of a field; empty for one that has none."""
    return _UNITS.get(_plain(path), "")


def _entries(name: str, table: type, entries: tuple[object, ...]) -> Iterator[Group]:
    for place in range(1, len(entries) + 1 + _OPEN_LISTS):
        is_new = place > len(entries)
        title = f"{_title(name)} {place}{' (next)' if is_new and entries else ''}"
        yield Group(title, tuple(_table_fields(table, f"{name}[{place}]", name)), is_new=is_new)


def _table_fields(table: type, path: str, plain: str) -> Iterator[Field]:
    hints = get_type_hints(table)
    for one in fields(table):
        hint = hints[one.name]
        yield _field(f"{path}.{one.name}", f"{plain}.{one.name}", is_tick=bool in (hint, *get_args(hint)))


def _field(path: str, plain: str, *, is_tick: bool = False) -> Field:
    words = _words(plain.rsplit(".", maxsplit=1)[-1])
    hint = _HINTS.get(plain, "")
    if is_tick:
        return Field(path, words, Kind.TICK, optional=True)
    if plain in _CHOICES:
        return choice(path, words, words_of(_CHOICES[plain]), optional=True, hint=hint)
    return Field(path, words, unit=_UNITS.get(plain, ""), optional=True, hint=hint)


def _words(name: str) -> str:
    words = _LABELS.get(name, name.replace("_", " "))
    return f"{words[:1].upper()}{words[1:]}"


def _title(name: str) -> str:
    words = {"run_up": "run-up", "plug": "spark plug", "eligible": "eligible magneto"}.get(name, name.replace("_", " "))
    return f"{words[:1].upper()}{words[1:]}"


def _plain(path: str) -> str:
    return ".".join(part.partition("[")[0] for part in path.split("."))


def _is_list(hint: Any) -> bool:  # noqa: ANN401 - a type hint
    """Tell whether a field holds a list; a firing order is one value."""
    inner = [get_args(kind)[0] for kind in (hint, *get_args(hint)) if getattr(kind, "__origin__", None) is tuple]
    return bool(inner) and int not in get_args(inner[0])


def _table_in(hint: Any) -> type | None:  # noqa: ANN401 - a type hint
    if isinstance(hint, type) and is_dataclass(hint):
        return hint
    return next((found for found in map(_table_in, get_args(hint)) if found is not None), None)
