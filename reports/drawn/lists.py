"""Paragraphs, labels with values below or beside them, numbered paragraphs, and the quiet line where nothing stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document_text import Run
from reports.drawn.pieces import Gap, Lines, Piece, Rows, Stack
from reports.drawn.rows import Cell, Edge, Row
from reports.text import BODY, SMALL, lay, lay_text, width_of

if TYPE_CHECKING:
    from reports.document_text import EmptyState, Entries, Entry, Fact, Facts, NumberedList, Paragraph

_GUTTER, _COLUMN_GUTTER, _PENCIL = 10.0, 20.0, 24.0
_MOST_LABEL = 0.4  # of a column's width
_ITEM_GAP = 4.0
_COLUMNS = 4


def paragraph_piece(paragraph: Paragraph, width: float) -> Lines:
    """Build a paragraph."""
    size = SMALL if paragraph.small else BODY
    return Lines(lay(paragraph.runs, width, size), size)


def facts_piece(facts: Facts, width: float) -> Piece:
    """Build labels with their values below them in a grid of four columns."""
    column = width / _COLUMNS
    rows: list[Piece] = []
    cells: list[Cell] = []
    at = 0
    for fact in facts.items:
        if at + fact.span > _COLUMNS:
            rows.append(Row(tuple(cells)))
            cells, at = [], 0
        cells.append(Cell(at * column, _fact(fact, column * fact.span - 10.0), "top"))
        at += fact.span
    if cells:
        rows.append(Row(tuple(cells)))
    return Stack(tuple(rows), 5.0)


def entries_piece(entries: Entries, width: float) -> Piece:
    """Build labels with their values beside them; all labels are as wide as the widest, up to a part of the column."""
    column = (width - _COLUMN_GUTTER * (entries.columns - 1)) / entries.columns
    widest = max((width_of(entry.label, BODY) for entry in entries.items), default=0.0)
    label = min(widest + 1.0, column * _MOST_LABEL)
    groups = (entries.items[at : at + entries.columns] for at in range(0, len(entries.items), entries.columns))
    return Rows(None, tuple(_entries_row(group, column, label) for group in groups))


def numbered_piece(numbered: NumberedList, width: float) -> Piece:
    """Build paragraphs with their numbers before them, the dots below each other."""
    numbers = [f"{numbered.start + at}." for at in range(len(numbered.items))]
    number_width = max((width_of(number, BODY) for number in numbers), default=0.0)
    text_x = number_width + 8.0
    rows: list[Piece] = []
    for number, item in zip(numbers, numbered.items, strict=True):
        size = SMALL if item.small else BODY
        before = Lines(lay_text(number, number_width + 1.0, BODY, quiet=True), BODY, number_width, "right")
        cells = (Cell(0.0, before), Cell(text_x, Lines(lay(item.runs, width - text_x, size), size)))
        rows.append(Row(cells, free=True))
    return Stack(tuple(rows), _ITEM_GAP)


def empty_state_piece(empty: EmptyState, width: float) -> Piece:
    """Build the quiet line."""
    return Lines(lay((Run(empty.text, italic=True, quiet=True),), width, BODY), BODY)


def _entries_row(entries: tuple[Entry, ...], column: float, label: float) -> Piece:
    cells: list[Cell] = []
    marks: list[Edge] = []
    for at, entry in enumerate(entries):
        left = at * (column + _COLUMN_GUTTER)
        value_x = left + label + _GUTTER
        value_width = column - label - _GUTTER
        cells.append(Cell(left, Lines(lay_text(entry.label, label, BODY, quiet=True), BODY)))
        if entry.value:
            run = Run(entry.value, code=entry.code)
            cells.append(Cell(value_x, Lines(lay((run,), value_width, BODY), BODY)))
        else:
            marks.append(Edge(value_width, stroke=0.6, role="ink", x=value_x))
    # Room for the pencil lies above the line, so the label goes down to it.
    return Row(tuple(cells), tuple(marks), _PENCIL - 14.0 if marks else 1.5, 1.5)


def _fact(fact: Fact, width: float) -> Piece:
    label = Lines(lay_text(fact.label, width, SMALL, quiet=True), SMALL)
    if fact.value is None:
        return Stack((label, Gap(18.0, width)))
    return Stack((label, Lines(lay((Run(fact.value, code=fact.code),), width, BODY), BODY)))
