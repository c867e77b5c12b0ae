"""Invented limits sheets for the tests: those of the demo, and one of each kind with every field filled."""

from dataclasses import replace

from desktop.core.shop.sheets.sheet_paths import sheet_value, with_sheet_value
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet, SheetRetard
from desktop.core.timing.faults import Fault
from desktop.files.sheets import demo_sheets

DEMO: dict[str, Sheet] = {sheet.id: sheet for sheet in demo_sheets()}


def engine(sheet_id: str = "marrow-six") -> EngineSheet:
    """Return a sound engine sheet."""
    sheet = DEMO[sheet_id]
    assert isinstance(sheet, EngineSheet)
    return sheet


def magneto(sheet_id: str = "ostrin-t2-l") -> MagnetoSheet:
    """Return a sound magneto sheet."""
    sheet = DEMO[sheet_id]
    assert isinstance(sheet, MagnetoSheet)
    return sheet


FULL_ENGINE = engine("marrow-six-g")
FULL_MAGNETO = replace(magneto(), retard=SheetRetard("-5", "-7", "-3"))


def changed(sheet: Sheet, *values: tuple[str, str | bool | None]) -> Sheet:
    """Return a sheet with other values at some paths; the path must have been put to use."""
    for path, value in values:
        before = sheet
        sheet = with_sheet_value(sheet, path, value)
        assert sheet != before or sheet_value(before, path) == value, path
    return sheet


def places(faults: tuple[Fault, ...]) -> list[str]:
    """Return the paths of faults."""
    return [fault.where for fault in faults]
