"""The table of readings: number, what, target, reading, what was worked out, initials; boxes where nothing is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reports.document_text import Run
from reports.drawn.numbers import NumberColumn, in_column, number_column
from reports.drawn.pieces import Gap, Lines, Piece, Rows, Stack
from reports.drawn.rows import Box, Cell, Edge, Row
from reports.drawn.tables import FILLED_ROW, GUTTER, PENCIL_ROW
from reports.text import BODY, SMALL, STRONG, lay, lay_text, width_of

if TYPE_CHECKING:
    from reports.document_steps import ReadingField, ReadingRow, ReadingTable

_PAIR = 2
_TICK_BOX = "\u2610"
_INITIALS, _LEAST, _PENCIL_WIDTH = 44.0, 36.0, 96.0  # points; a pencil wants 34 mm for a reading
_NUMBER_LIMIT, _READING_LIMIT, _TARGET_LIMIT = 60.0, 120.0, 90.0
_SHARES: dict[ReadingField, float] = {"what": 1.0, "worked_out": 0.9}  # of the width that is left


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where each column's text begins and how wide it is, and where the numbers' points lie."""

    spans: dict[ReadingField, tuple[float, float]]
    targets: NumberColumn
    readings: NumberColumn
    width: float


def reading_table_piece(table: ReadingTable, width: float) -> Piece:
    """Build a table of readings whose head is repeated on each page."""
    grid = _grid(table, width)
    heads: list[Cell] = []
    for column in table.columns:
        x, w = grid.spans[column.field]
        text = lay_text(column.heading, w, SMALL, quiet=True)
        heads.append(Cell(x, Lines(text, SMALL, w, _align(column.field))))
    head = Row(tuple(heads), (Edge(width),), 2.0, 3.0)
    rows: tuple[Piece, ...] = tuple(_row(row, grid) for row in table.rows)
    if len(rows) > _PAIR:
        # The last two stay together, so that no row stands alone on the next page.
        rows = (*rows[:-_PAIR], Stack(rows[-_PAIR:], whole=True))
    return Rows(head, rows)


def _grid(table: ReadingTable, width: float) -> _Grid:
    targets = number_column(((row.target, "") for row in table.rows), BODY, _TARGET_LIMIT, bold=False)
    readings = number_column(((row.reading, row.unit) for row in table.rows), STRONG, _READING_LIMIT, bold=True)
    number = max((width_of(row.number, BODY) for row in table.rows), default=0.0)
    target = max((width_of(row.target, BODY) for row in table.rows), default=0.0)
    earlier = max((width_of(text, SMALL) for row in table.rows for text in row.earlier), default=0.0)
    reading = max(
        (width_of(row.reading, STRONG, bold=True) + width_of(row.unit, BODY) for row in table.rows), default=0.0
    )
    pencil = _PENCIL_WIDTH if any(not row.reading for row in table.rows) else _LEAST
    widths: dict[ReadingField, float] = {
        "number": min(max(number + 1.0, 18.0), _NUMBER_LIMIT),
        "target": min(max(target, targets.width, _LEAST) + 1.0, _TARGET_LIMIT),
        "reading": max(min(max(reading, readings.width, earlier) + 1.0, _READING_LIMIT), pencil),
        "initials": _INITIALS,
    }
    shown = [column.field for column in table.columns]
    left_over = width - sum(widths[field] + GUTTER for field in shown if field in widths)
    shares = sum(_SHARES[field] for field in shown if field in _SHARES) or 1.0
    spans: dict[ReadingField, tuple[float, float]] = {}
    left = 0.0
    for field in shown:
        full = widths[field] + GUTTER if field in widths else left_over * _SHARES[field] / shares
        spans[field] = (left + GUTTER / 2.0, full - GUTTER)
        left += full
    return _Grid(spans, targets, readings, width)


def _row(row: ReadingRow, grid: _Grid) -> Piece:
    cells: list[Cell] = []
    marks: list[Box | Edge] = [Edge(grid.width)]
    least = FILLED_ROW
    for field, (x, w) in grid.spans.items():
        match field:
            case "number":
                cells.append(Cell(x, Lines(lay_text(row.number, w, BODY, quiet=True), BODY)))
            case "what":
                cells.append(Cell(x, _what(row, w)))
            case "target" if row.target:
                cells.append(Cell(x, in_column(row.target, "", grid.targets, w)))
            case "worked_out":
                cells.append(Cell(x, Lines(lay_text(row.worked_out, w, BODY), BODY)))
            case "initials" if row.initials is not None:
                marks.append(Box(x - GUTTER / 2.0, w + GUTTER))
                cells.append(Cell(x, Lines(lay_text(row.initials, w, BODY), BODY, w, "middle")))
            case "reading" if row.reading:
                cells.append(Cell(x, _with_earlier(in_column(row.reading, row.unit, grid.readings, w), row, w)))
            case "reading":
                least = PENCIL_ROW
                if row.choices:
                    cells.append(Cell(x, _choices(row, grid)))
                else:
                    marks.append(Box(x - GUTTER / 2.0, w + GUTTER))
                    cells.append(Cell(x, _empty(row, w)))
            case _:
                pass
    return Row(tuple(cells), tuple(marks), 4.0, 4.0, least)


def _what(row: ReadingRow, width: float) -> Piece:
    what = Lines(lay_text(row.what, width, BODY), BODY)
    if not row.remark:
        return what
    return Stack((what, Lines(lay_text(row.remark, width, SMALL, quiet=True), SMALL)))


def _empty(row: ReadingRow, width: float) -> Piece:
    unit = Lines(lay_text(row.unit, width, BODY, quiet=True), BODY, width, "right")
    if not row.earlier:
        return unit
    return _with_earlier(Stack((unit, Gap(PENCIL_ROW - unit.height))), row, width)


def _with_earlier(reading: Piece, row: ReadingRow, width: float) -> Piece:
    if not row.earlier:
        return reading
    earlier = (Lines(lay_text(text, width, SMALL, quiet=True), SMALL, width, "right") for text in row.earlier)
    return Stack((reading, *earlier))


def _choices(row: ReadingRow, grid: _Grid) -> Piece:
    x, width = grid.spans["reading"]
    beside = grid.spans.get("worked_out")
    if beside is not None and not row.worked_out and beside[0] > x and "initials" not in _between(grid):
        width = beside[0] + beside[1] - x
    runs = tuple(run for choice in row.choices for run in _choice(choice, width))
    return _with_earlier(Lines(lay(runs, width, STRONG), STRONG), row, grid.spans["reading"][1])


def _choice(choice: str, width: float) -> tuple[Run, Run]:
    """Give an empty box with its words, which are not parted on two lines unless they are wider than one."""
    bound = "\u00a0".join(choice.split(" "))
    fits = width_of(_TICK_BOX, STRONG) + width_of(f"\u00a0{bound}", STRONG) <= width
    return Run(_TICK_BOX, code=True), Run(f"\u00a0{bound if fits else choice}    ")


def _between(grid: _Grid) -> list[ReadingField]:
    fields = list(grid.spans)
    return fields[fields.index("reading") + 1 : fields.index("worked_out")]


def _align(field: ReadingField) -> Literal["left", "right", "middle"]:
    if field in {"target", "reading"}:
        return "right"
    return "middle" if field == "initials" else "left"
