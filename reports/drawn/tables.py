"""Plain tables: parts, people, tools, discrepancies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document_text import EmptyState, Run
from reports.drawn.lists import empty_state_piece
from reports.drawn.numbers import NumberColumn, in_column, number_column
from reports.drawn.pieces import Lines, Piece, Rows, Stack
from reports.drawn.rows import Box, Cell, Edge, Row
from reports.text import BODY, SMALL, lay, lay_text

if TYPE_CHECKING:
    from reports.document import PaperWords
    from reports.document_tables import Table

FILLED_ROW, PENCIL_ROW = 20.0, 27.0  # points: 7 mm and 9.5 mm
GUTTER = 12.0
_LEAST_TEXT = 10.0  # a column narrower than a sign would print each sign on a line


def table_piece(table: Table, width: float, words: PaperWords) -> Piece:
    """Build a table of plain rows; on each further page its title, "continued" and its head stand again."""
    whole = sum(column.share for column in table.columns)
    spans: list[tuple[float, float]] = []
    left = 0.0
    for column in table.columns:
        share = width * column.share / whole
        spans.append((left + GUTTER / 2.0, max(share - GUTTER, _LEAST_TEXT)))
        left += share
    numbers = tuple(
        number_column(((row[at] or "", "") for row in table.rows), BODY, spans[at][1], bold=False)
        if column.numbers
        else None
        for at, column in enumerate(table.columns)
    )
    heads = (
        Cell(x, Lines(lay_text(column.heading, w, SMALL, quiet=True), SMALL, w, "right" if column.numbers else "left"))
        for (x, w), column in zip(spans, table.columns, strict=True)
    )
    head = Row(tuple(heads), (Edge(width),), 2.0, 3.0)
    title = (Lines(lay_text(table.title, width, BODY, bold=True), BODY),) if table.title else ()
    size = BODY if table.title else SMALL
    mark = (Run(f"{table.title} ", bold=True), Run(words.continued)) if table.title else (Run(words.continued),)
    again = Stack((Lines(lay(mark, width, size), size), head))
    if not table.rows and table.empty:
        nothing = empty_state_piece(EmptyState(table.empty), width - GUTTER)
        return Stack((*title, head, Row((Cell(GUTTER / 2.0, nothing),), (), 4.0, 4.0)), whole=True)
    return Rows(Stack((*title, head)), tuple(_row(row, spans, numbers, width) for row in table.rows), again)


def _row(
    row: tuple[str | None, ...],
    spans: list[tuple[float, float]],
    numbers: tuple[NumberColumn | None, ...],
    width: float,
) -> Piece:
    cells: list[Cell] = []
    marks: list[Box | Edge] = [Edge(width)]
    for text, (x, w), column in zip(row, spans, numbers, strict=True):
        if text is None:
            marks.append(Box(x - GUTTER / 2.0, w + GUTTER))
        elif column is None:
            cells.append(Cell(x, Lines(lay_text(text, w, BODY), BODY)))
        else:
            cells.append(Cell(x, in_column(text, "", column, w)))
    return Row(tuple(cells), tuple(marks), 4.0, 4.0, PENCIL_ROW if None in row else FILLED_ROW)
