"""Signatures: boxes with room for ink, and electronic ones in words under a drawn seal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document_signing import SignatureBox
from reports.document_text import Run
from reports.drawn.pieces import Drawn, Gap, Lines, Piece, Stack
from reports.drawn.rows import Box, Cell, Edge, Row
from reports.drawn.symbols import seal_sign
from reports.text import BODY, SMALL, STRONG, lay, lay_text, width_of

if TYPE_CHECKING:
    from reports.document import PaperWords
    from reports.document_signing import AnySignature, ElectronicSignature, Signatures

IN_A_ROW = 3
_GUTTER, _PAD, _SIGNATURE, _FIELD, _SIGN = 10.0, 9.0, 38.0, 23.0, 30.0


def signatures_piece(signatures: Signatures, width: float, words: PaperWords) -> Piece:
    """Build signatures, three in a row, all of one width and with their lines at one height."""
    box_width = (width - _GUTTER * (IN_A_ROW - 1)) / IN_A_ROW
    groups = (signatures.boxes[at : at + IN_A_ROW] for at in range(0, len(signatures.boxes), IN_A_ROW))
    return Stack(tuple(_row(group, box_width, words) for group in groups), 8.0)


def _row(boxes: tuple[AnySignature, ...], box_width: float, words: PaperWords) -> Piece:
    inner = box_width - 2.0 * _PAD
    tops = tuple(_top(box, inner) for box in boxes)
    highest = max(top.height for top in tops)
    cells: list[Cell] = []
    marks: list[Box] = []
    for number, (box, top) in enumerate(zip(boxes, tops, strict=True)):
        x = number * (box_width + _GUTTER)
        marks.append(Box(x, box_width))
        ink = isinstance(box, SignatureBox)
        parts = _fields(box, inner, words) if isinstance(box, SignatureBox) else _sealed(box, inner, words)
        body = Stack((top, Gap(highest - top.height + (0.0 if ink else 7.0)), *parts))
        cells.append(Cell(x + _PAD, body, "top"))
    return Stack((Row(tuple(cells), tuple(marks), 7.0, 5.0),), whole=True)


def _top(box: AnySignature, width: float) -> Piece:
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
    # The code's label keeps to one line where there is room for it beside a date.
    part = (width - 8.0) * 0.36
    date = Stack(_field(box.date, words.date, part, _FIELD))
    code = Stack(_field(box.code, words.code, width - part - 8.0, _FIELD, code=True))
    return Row((Cell(0.0, date, "top"), Cell(part + 8.0, code, "top")))


def _field(text: str, label: str, width: float, least: float, *, code: bool = False) -> tuple[Piece, ...]:
    lines = Lines(lay((Run(text, code=code),), width, BODY), BODY)
    # What is written stands on the line, whatever room there is above it.
    value = Stack((Gap(max(least - lines.height - 1.0, 0.0)), lines, Gap(1.0)))
    under = Lines(lay_text(label, width, SMALL, quiet=True), SMALL)
    return (Row((Cell(0.0, value, "top"),), (Edge(width, stroke=0.6, role="ink"),)), under)


def _sealed(signed: ElectronicSignature, width: float, words: PaperWords) -> tuple[Piece, ...]:
    """Say an electronic signature in words: who, by which certificate, when, with which key, under which seal."""
    name_x = _SIGN + 8.0
    how = Lines(lay_text(words.signed, width - name_x, SMALL, quiet=True), SMALL)
    name = Lines(lay_text(signed.name, width - name_x, STRONG, bold=True), STRONG)
    who = Row((Cell(0.0, Drawn(seal_sign(), _SIGN), "middle"), Cell(name_x, Stack((how, name)), "middle")))
    number = f"{words.certified} {signed.certificate}" if signed.certificate else ""
    certificate = ", ".join(part for part in (number, signed.kind) if part)
    lines = tuple(Lines(lay_text(text, width, BODY), BODY) for text in (certificate, signed.when) if text)
    label_width = max(width_of(label, SMALL) for label in (words.key, words.seal)) + 6.0
    codes = tuple(
        _code_row(label, code, min(label_width, width / 2.0), width)
        for label, code in ((words.key, signed.key), (words.seal, signed.seal))
    )
    note = (Lines(lay((Run(signed.note, italic=True),), width, SMALL), SMALL),) if signed.note else ()
    return (who, Gap(4.0), *lines, Gap(3.0), *codes, *((Gap(2.0), *note) if note else ()), Gap(4.0))


def _code_row(label: str, code: str, label_width: float, width: float) -> Piece:
    before = Lines(lay_text(label, label_width - 4.0, SMALL, quiet=True), SMALL)
    value = Lines(lay((Run(code, code=True),), width - label_width, SMALL), SMALL)
    return Row((Cell(0.0, before), Cell(label_width, value)))
