"""Plain tables on paper: parts, people, tools, discrepancies, what is coming due."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a plain table. `share` is its part of the width against the other columns' shares."""

    heading: str
    share: float = 1.0
    numbers: bool = False

    def __post_init__(self) -> None:
        """Refuse a width that is no width."""
        if not (math.isfinite(self.share) and self.share > 0):
            raise ValueError("a column's share of the width is a number above zero")


@dataclass(frozen=True, slots=True)
class Table:
    """Plain rows of text; `numbers` columns align at the decimal point. None in a cell leaves a box for the pencil.

    The head is repeated on each page, with the title (if any) and the word "continued" over it. A row is cut by a
    page's end only when it is higher than a page. Without rows, `empty` stands below the head.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | None, ...], ...]
    title: str = ""
    empty: str = ""

    def __post_init__(self) -> None:
        """Refuse rows that do not have one cell a column."""
        if not self.columns or any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError("every row of a table has one cell for each column")
