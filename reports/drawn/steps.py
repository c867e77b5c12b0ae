"""Steps and checklists: what is done, in which order, and who puts the initials."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.drawn.boxes import in_order, safety_box
from reports.drawn.lists import paragraph_piece
from reports.drawn.pieces import Drawn, Gap, Led, Lines, Piece, Rows, Stack
from reports.drawn.rows import Bar, Box, Cell, Edge, Frame, Row
from reports.drawn.symbols import tick_box
from reports.text import BODY, SMALL, STRONG, lay_text, width_of

if TYPE_CHECKING:
    from reports.document import PaperWords
    from reports.document_steps import Checklist, Initials, Step, Tick
    from reports.document_text import Paragraph

GAP = 6.0
_BOX_HEIGHT, _BOX_LEAST, _TICK = 30.0, 54.0, 11.0
_HOLD_PAD, _HOLD_BAR = 13.0, 5.0
_SHORT = 2  # rows of a table that stays whole with its step


def step_piece(step: Step, body: tuple[Piece, ...], width: float, words: PaperWords) -> Piece:
    """Build a step: its boxes, its instruction and what it captures, held together but for the rest of a long table."""
    boxes = tuple(safety_box(box, width, words) for box in in_order(step.boxes))
    hold = (_hold(step.hold, width),) if step.hold else ()
    lead = Stack((*hold, *boxes, _instruction(step, width)), GAP)
    number = f"{step.number} {words.continued}"
    again = Lines(lay_text(number, width, BODY, bold=True), BODY)
    return Led(lead, Stack(body, GAP), 4.0, whole=not any(map(runs_on, body)), again=again)


def runs_on(piece: Piece) -> bool:
    """Tell whether a piece is a table long enough to go on, under its head, on the next page."""
    return isinstance(piece, Rows) and len(piece.rows) > _SHORT


def instruction_x(step: Step, width: float) -> float:
    """Give where the words of a step begin; a number longer than a third of the line is wrapped like any text."""
    return min(max(18.0, width_of(step.number, STRONG, bold=True) + 8.0), width / 3.0)


def checklist_piece(checklist: Checklist, width: float) -> Piece:
    """Build the rows of a checklist."""
    return Rows(None, tuple(_tick_row(row, width) for row in checklist.rows))


def _hold(words: Paragraph, width: float) -> Piece:
    """Frame the words with which the work waits: bars at both ends, so that it is no safety box."""
    text = Cell(_HOLD_PAD, paragraph_piece(words, width - 2.0 * _HOLD_PAD))
    return Row((text,), (Frame(width, "thin"), Bar(_HOLD_BAR), Bar(_HOLD_BAR, width - _HOLD_BAR)), 4.0, 4.0)


def _instruction(step: Step, width: float) -> Piece:
    text_x = instruction_x(step, width)
    boxes_width = sum(_box_width(box, width) + 6.0 for box in step.initials)
    beside = boxes_width <= width / 2.0
    text_width = width - text_x - (boxes_width if beside else 0.0)
    text: Piece = Lines(lay_text(step.instruction, text_width, STRONG, bold=True), STRONG)
    if step.remark:
        text = Stack((text, Lines(lay_text(step.remark, text_width, SMALL, quiet=True), SMALL)))
    number = Lines(lay_text(step.number, text_x - 4.0, STRONG, bold=True), STRONG)
    cells = [Cell(0.0, number), Cell(text_x, text)]
    if not step.initials:
        return Row(tuple(cells))
    if beside:
        return Row((*cells, *_initials_cells(step.initials, width)), above=1.0, below=1.0)
    # So many boxes that no room is left beside them: each stands on a line of its own.
    lines = tuple(Row(_initials_cells((box,), width)) for box in step.initials)
    return Stack((Row(tuple(cells)), *lines), 2.0)


def _initials_cells(boxes: tuple[Initials, ...], width: float) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    right = width
    for box in reversed(boxes):
        box_width = _box_width(box, width)
        label = Lines(lay_text(box.label, box_width - 8.0, SMALL, quiet=True), SMALL)
        text = Lines(lay_text(box.text, box_width - 8.0, BODY, bold=True), BODY, box_width - 8.0, "middle")
        inside = Row((Cell(4.0, Stack((label, Gap(1.0), text))),), (Box(0.0, box_width),), 2.0, 3.0, _BOX_HEIGHT)
        cells.append(Cell(right - box_width, inside, "top"))
        right -= box_width + 6.0
    return tuple(reversed(cells))


def _box_width(box: Initials, width: float) -> float:
    return min(max(_BOX_LEAST, width_of(box.label, SMALL) + 10.0), width / 2.0)


def _tick_row(row: Tick, width: float) -> Piece:
    box_width = 48.0 if row.initials is not None else 0.0
    text = Lines(lay_text(row.text, width - 22.0 - box_width - 6.0, BODY), BODY)
    cells = [Cell(2.0, Drawn(tick_box(row.mark), _TICK), "top"), Cell(22.0, text, "top")]
    marks: list[Edge | Box] = [Edge(width - box_width)]
    if row.initials is not None:
        initials = Lines(lay_text(row.initials, box_width - 6.0, BODY), BODY, box_width - 6.0, "middle")
        cells.append(Cell(width - box_width + 3.0, initials, "top"))
        marks.append(Box(width - box_width, box_width))
    least = 25.6 if row.mark == "empty" else 20.0
    return Row(tuple(cells), tuple(marks), 4.0, 4.0, least)
