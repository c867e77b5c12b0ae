"""Labels on sheets: whether the words fit is said before anything is drawn."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from reports.document_text import Run
from reports.drawn.pieces import Drawn, Gap, Lines, Piece, Stack
from reports.drawn.rows import Cell, Edge, Row
from reports.drawn.symbols import QUIET_MODULES, qr_drawing
from reports.fonts import register_fonts
from reports.pen import Pen
from reports.text import BODY, LEADING, SMALL, lay, lay_text

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from reports.document import Paragraph
    from reports.document_labels import Label, LabelCode, LabelSheet, LabelSize, PenLine

_POINTS_A_MM = 72.0 / 25.4
# Printers feed a sheet a millimetre or two off: text keeps away from a label's edges.
SIDE, END = 4.0 * _POINTS_A_MM, 2.5 * _POINTS_A_MM
_PEN, _GUTTER = 20.0, 8.0
_IN_A_ROW = 2
_CODE = 30.0 * _POINTS_A_MM
"""A code's side: a label has no room for one that a scan of the whole sheet gives back; a camera close by reads it."""


def fits(label: Label, size: LabelSize) -> bool:
    """Say whether all words of a label stand on it."""
    return lines_over(label, size) == 0


def lines_over(label: Label, size: LabelSize) -> int:
    """Give by how many lines of text a label is too long; 0 when it fits."""
    register_fonts()
    over = _contents(label, size).height + _pen_row(label, size).height - _room(size)
    return max(math.ceil(over / LEADING[SMALL] - 1e-6), 0)


def paint_sheet(canvas: Canvas, sheet: LabelSheet, page_height: float) -> None:
    """Paint the labels page by page; a label that does not fit is refused with its number, so that none is clipped."""
    size = sheet.size
    long = [str(number) for number, label in enumerate(sheet.labels, 1) if not fits(label, size)]
    if long:
        raise ValueError(f"labels that are too long for their size: {', '.join(long)}")
    pen = Pen(canvas, page_height)
    for at, label in enumerate(sheet.labels, sheet.start - 1):
        place = at % size.count
        if place == 0 and at > sheet.start - 1:
            canvas.showPage()
        row, column = divmod(place, size.columns)
        left = (size.left + column * (size.width + size.gap_across)) * _POINTS_A_MM + SIDE
        top = (size.top + row * (size.height + size.gap_down)) * _POINTS_A_MM + END
        _contents(label, size).paint(pen, left, top)
        below = _pen_row(label, size)
        below.paint(pen, left, top + _room(size) - below.height)
    canvas.showPage()


def _room(size: LabelSize) -> float:
    return size.height * _POINTS_A_MM - 2.0 * END


def _width(size: LabelSize) -> float:
    return size.width * _POINTS_A_MM - 2.0 * SIDE


def _contents(label: Label, size: LabelSize) -> Piece:
    width = _width(size)
    bands = (Lines(lay_text(" · ".join(label.bands), width, SMALL, bold=True), SMALL),) if label.bands else ()
    head = (Lines(lay_text(label.head, width, BODY, bold=True), BODY),) if label.head else ()
    code = (_code(label.code, width),) if label.code else ()
    return Stack((*bands, *head, *_texts(label.paragraphs, width), *code), 1.0)


def _texts(paragraphs: tuple[Paragraph, ...], width: float) -> tuple[Piece, ...]:
    sizes = (SMALL if paragraph.small else BODY for paragraph in paragraphs)
    return tuple(Lines(lay(part.runs, width, used), used) for part, used in zip(paragraphs, sizes, strict=True))


def _code(code: LabelCode, width: float) -> Piece:
    """Build the code with its words; its white border lies in the margin, its ink on the text's left edge."""
    drawing = qr_drawing(code.content)
    border = QUIET_MODULES * _CODE / drawing.width
    text = Stack(_texts(code.lines, width - _CODE), 1.0)
    return Row((Cell(-border, Drawn(drawing, _CODE), "middle"), Cell(_CODE, text, "middle")))


def _pen_row(label: Label, size: LabelSize) -> Piece:
    groups = (label.pen_lines[at : at + _IN_A_ROW] for at in range(0, len(label.pen_lines), _IN_A_ROW))
    return Stack(tuple(_pen_lines(group, _width(size)) for group in groups), 1.0)


def _pen_lines(lines: tuple[PenLine, ...], width: float) -> Piece:
    part = (width - _GUTTER * (len(lines) - 1)) / len(lines)
    texts = [Lines(lay((Run(one.text),), part, BODY), BODY) if one.text else Gap(_PEN) for one in lines]
    highest = max(text.height for text in texts)
    cells: list[Cell] = []
    for number, (one, text) in enumerate(zip(lines, texts, strict=True)):
        above = Gap(highest - text.height)
        line = Row((Cell(0.0, Stack((above, text)), "top"),), (Edge(part, stroke=0.6, role="ink"),))
        under = Lines(lay_text(one.words, part, SMALL, quiet=True), SMALL)
        cells.append(Cell(number * (part + _GUTTER), Stack((line, under)), "top"))
    return Row(tuple(cells))
