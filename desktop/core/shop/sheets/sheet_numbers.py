"""Numbers of a limits sheet in their written form: fractions and signs of degrees as people type them, put right."""

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from desktop.core import typed_text
from desktop.core.shop.sheets.sheets import Sheet

Table = TypeVar("Table")
AnySheet = TypeVar("AnySheet", bound=Sheet)

NUMBERS = frozenset(
    {
        *("stroke_mm", "rod_mm", "left_btdc", "right_btdc", "advanced_most", "retarded_most", "apart_most"),
        *("rpm", "drop_most", "least", "most", "required", "hours", "btdc", "resistance_most"),
        *("back_off_least", "back_off_most", "slot_degrees", "slot_radius_mm", "impulse_lag", "impulse_lag_least"),
        *("impulse_lag_most", "e_gap", "e_gap_least", "e_gap_most"),
    }
)
"""The fields that hold a number; any other text, a part number above all, stays exactly as it was typed."""


def tidied_sheet(sheet: AnySheet) -> AnySheet:
    """Return a sheet with each number in its written form; free text and what cannot be read stay as typed."""
    return _tidied(sheet)


def _tidied(table: Table) -> Table:
    changes: dict[str, Any] = {}
    for one in fields(table):  # type: ignore[arg-type]  # every table of a sheet is a dataclass
        value = getattr(table, one.name)
        if isinstance(value, str) and one.name in NUMBERS:
            changes[one.name] = typed_text.tidied(value)
        elif is_dataclass(value):
            changes[one.name] = _tidied(value)
        elif isinstance(value, tuple):
            changes[one.name] = tuple(_tidied(entry) if is_dataclass(entry) else entry for entry in value)
    return replace(table, **changes)  # type: ignore[type-var]  # the same
