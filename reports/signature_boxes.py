"""Signature boxes and the seal: who signs for what, and the code that binds the paper to the record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document import Run
from reports.pieces import Drawn, Gap, Lines, Piece, Stack
from reports.rows import Box, Cell, Edge, Row
from reports.symbols import QUIET_MODULES, qr_drawing
from reports.text import BODY, SMALL, STRONG, lay, lay_text

if TYPE_CHECKING:
    from reports.document import PaperWords, Seal, SignatureBox, Signatures

IN_A_ROW = 3
_GUTTER, _PAD, _SIGNATURE, _FIELD = 10.0, 9.0, 38.0, 23.0
_POINTS_A_MM = 72.0 / 25.4


def signatures_piece(signatures: Signatures, width: float, words: PaperWords) -> Piece:
    """Build signature boxes, three in a row, all of one width and with their lines at one height."""
    box_width = (width - _GUTTER * (IN_A_ROW - 1)) / IN_A_ROW
    groups = (signatures.boxes[at : at + IN_A_ROW] for at in range(0, len(signatures.boxes), IN_A_ROW))
    return Stack(tuple(_row(group, box_width, words) for group in groups), 8.0)


def seal_piece(seal: Seal, lines: tuple[Piece, ...]) -> Piece:
    """Build a QR code with lines at its right."""
    drawing = qr_drawing(seal.content)
    side = seal.size_mm * _POINTS_A_MM
    # The code's white border may lie in the margin: its ink stands on the text's left edge.
    code = Cell(-QUIET_MODULES * side / drawing.width, Drawn(drawing, side), "middle")
    cells = (code, Cell(seal_text_x(seal), Stack(lines, 1.0), "middle"))
    return Stack((Row(cells),), whole=True)


def seal_text_x(seal: Seal) -> float:
    """Give where the text beside a seal begins."""
    return seal.size_mm * _POINTS_A_MM + 4.0


def _row(boxes: tuple[SignatureBox, ...], box_width: float, words: PaperWords) -> Piece:
    inner = box_width - 2.0 * _PAD
    tops = tuple(_top(box, inner) for box in boxes)
    highest = max(top.height for top in tops)
    cells: list[Cell] = []
    marks: list[Box] = []
    for number, (box, top) in enumerate(zip(boxes, tops, strict=True)):
        x = number * (box_width + _GUTTER)
        marks.append(Box(x, box_width))
        body = Stack((top, Gap(highest - top.height), *_fields(box, inner, words)))
        cells.append(Cell(x + _PAD, body, "top"))
    return Stack((Row(tuple(cells), tuple(marks), 7.0, 5.0),), whole=True)


def _top(box: SignatureBox, width: float) -> Piece:
    title = Lines(lay_text(box.title, width, STRONG, bold=True), STRONG)
    return Stack((title, Lines(lay_text(box.meaning, width, BODY), BODY)), 1.0)


def _fields(box: SignatureBox, width: float, words: PaperWords) -> tuple[Piece, ...]:
    return (
        *_field(box.signature, words.signature, width, _SIGNATURE),
        *_field(box.name, words.name, width, _FIELD),
        *_field(box.certificate, words.certificate, width, _FIELD),
        _last_line(box, width, words),
    )


def _last_line(box: SignatureBox, width: float, words: PaperWords) -> Piece:
    if not box.code:
        return Stack(_field(box.date, words.date, width, _FIELD))
    part = (width - 8.0) * 0.43
    date = Stack(_field(box.date, words.date, part, _FIELD))
    code = Stack(_field(box.code, words.code, width - part - 8.0, _FIELD, code=True))
    return Row((Cell(0.0, date, "top"), Cell(part + 8.0, code, "top")))


def _field(text: str, label: str, width: float, least: float, *, code: bool = False) -> tuple[Piece, ...]:
    lines = Lines(lay((Run(text, code=code),), width, BODY), BODY)
    # What is written stands on the line, whatever room there is above it.
    value = Stack((Gap(max(least - lines.height - 1.0, 0.0)), lines, Gap(1.0)))
    under = Lines(lay_text(label, width, SMALL, quiet=True), SMALL)
    return (Row((Cell(0.0, value, "top"),), (Edge(width, stroke=0.6, role="ink"),)), under)
