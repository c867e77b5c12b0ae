"""Numbers in a column: where their decimal points lie, so that drawing can put them below each other."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.document_text import Run
from reports.drawn.pieces import Lines, Piece
from reports.drawn.rows import Cell, Row
from reports.text import lay, width_of

if TYPE_CHECKING:
    from collections.abc import Iterable

# A sign, the whole digits; then a decimal part and at most a short unit.
_NUMBER = re.compile(r"([-+\u2212\u00b1<>\u2264\u2265~ ]*\d+)((?:[.,]\d+)?(?:\s?[^\s\d]{0,4})?)")

_NARROW_SPACE = "\u2009"


@dataclass(frozen=True, slots=True)
class NumberColumn:
    """The widths in points before and from the decimal point of the widest numbers of a column."""

    before: float
    after: float
    size: float
    bold: bool

    @property
    def width(self) -> float:
        """Give the width that the numbers need."""
        return self.before + self.after


def spaced(unit: str) -> str:
    """Give the unit with the narrow space that stands before words and none before a degree sign."""
    return f"{_NARROW_SPACE}{unit}" if unit[:1].isalpha() else unit


def parts_of(text: str) -> tuple[str, str] | None:
    """Cut a number before its decimal point, or say with None that the text is no number."""
    found = _NUMBER.fullmatch(text.strip())
    return (found.group(1), found.group(2)) if found else None


def number_column(texts: Iterable[tuple[str, str]], size: float, limit: float, *, bold: bool) -> NumberColumn:
    """Measure the numbers among texts with their units; numbers wider than the limit do not count."""
    before = after = 0.0
    for text, unit in texts:
        left, right = _widths(text, unit, size, bold=bold)
        if left and max(before, left) + max(after, right) <= limit:
            before, after = max(before, left), max(after, right)
    return NumberColumn(before, after, size, bold)


def in_column(text: str, unit: str, column: NumberColumn, width: float) -> Piece:
    """Set a number with its point on the column's, against the right edge; any other text ends at the edge."""
    unit = spaced(unit)
    runs = (Run(text.strip(), bold=column.bold), *((Run(unit, quiet=True),) if unit else ()))
    left, right = _widths(text, unit, column.size, bold=column.bold)
    if not left or left > column.before + 0.01 or right > column.after + 0.01:
        return Lines(lay(runs, width, column.size), column.size, width, "right")
    x = width - column.after - left
    return Row((Cell(x, Lines(lay(runs, left + right + 1.0, column.size), column.size)),))


def _widths(text: str, unit: str, size: float, *, bold: bool) -> tuple[float, float]:
    parts = parts_of(text)
    if parts is None:
        return 0.0, 0.0
    return width_of(parts[0], size, bold=bold), width_of(parts[1], size, bold=bold) + width_of(spaced(unit), size)
