"""From the vocabulary of papers to pieces of a page: one function a kind of block, small kinds here."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reports import document as paper
from reports.boxes import safety_box
from reports.paint import fitted
from reports.pieces import Break, Drawn, Gap, Led, Lines, Piece, Stack
from reports.readings import reading_table_piece
from reports.rows import Bar, Cell, Row
from reports.signature_boxes import seal_piece, seal_text_x, signatures_piece
from reports.steps import checklist_piece, step_piece
from reports.symbols import ring
from reports.tables import table_piece
from reports.text import BIG, BODY, LEADING, SMALL, STRONG, TITLE, lay, lay_text, width_of

if TYPE_CHECKING:
    from reports.document import Block, PaperWords

GAP = 8.0
_COLUMNS = 4
_POINTS_A_MM = 72.0 / 25.4
_BARS = {"stop": 5.0, "ask": 3.0, "note": 1.0}
_LEAST_BESIDE = 150.0  # points that text beside a picture needs


@dataclass(frozen=True, slots=True)
class Setting:
    """What blocks are built for: the width at hand, the height of an empty page (both in points), the fixed words."""

    width: float
    page: float
    words: PaperWords


def pieces_of(blocks: tuple[Block, ...], setting: Setting) -> tuple[Piece, ...]:
    """Build the pieces of blocks; headings and lone safety boxes are tied to what follows them."""
    pieces: list[Piece] = []
    for block in reversed(blocks):
        piece = _piece(block, setting)
        leads = isinstance(block, paper.Heading | paper.Caution)
        if leads and pieces and not isinstance(pieces[0], Break):
            pieces[0] = Led(piece, pieces[0], 5.0)
        else:
            pieces.insert(0, piece)
    return tuple(pieces)


def _piece(block: Block, setting: Setting) -> Piece:  # noqa: C901, PLR0911, PLR0912 - one line a kind of block
    width = setting.width
    match block:
        case paper.Paragraph():
            return paragraph_piece(block, width)
        case paper.Heading():
            size = TITLE if block.level == 1 else STRONG
            return Lines(lay_text(block.text, width, size, bold=True), size)
        case paper.Facts():
            return _facts(block, width)
        case paper.Caution():
            return safety_box(block, width, setting.words)
        case paper.Step():
            return step_piece(block, pieces_of(block.body, setting), width, setting.words)
        case paper.ReadingTable():
            return reading_table_piece(block, width)
        case paper.Table():
            return table_piece(block, width)
        case paper.Checklist():
            return checklist_piece(block, width)
        case paper.Result():
            return _result(block, width)
        case paper.Finding():
            return _finding(block, width)
        case paper.Signatures():
            return signatures_piece(block, width, setting.words)
        case paper.Picture():
            return _picture(block, setting)
        case paper.Beside():
            return _beside(block, setting)
        case paper.Seal():
            lines = (paragraph_piece(line, width - seal_text_x(block)) for line in block.lines)
            return seal_piece(block, tuple(lines))
        case paper.Rule():
            return Gap(1.0, width)
        case paper.Space():
            return Gap(block.height_mm * _POINTS_A_MM)
        case paper.PageBreak():
            return Break()
        case _:
            return Stack(pieces_of(block.blocks, setting), GAP, whole=True)


def paragraph_piece(paragraph: paper.Paragraph, width: float) -> Lines:
    """Build a paragraph."""
    size = SMALL if paragraph.small else BODY
    return Lines(lay(paragraph.runs, width, size), size)


def _facts(facts: paper.Facts, width: float) -> Piece:
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


def _fact(fact: paper.Fact, width: float) -> Piece:
    label = Lines(lay_text(fact.label, width, SMALL, quiet=True), SMALL)
    if fact.value is None:
        return Stack((label, Gap(18.0, width)))
    return Stack((label, Lines(lay((paper.Run(fact.value, code=fact.code),), width, BODY), BODY)))


def _result(result: paper.Result, width: float) -> Piece:
    text_x = LEADING[BIG] + 8.0
    verdict = Lines(lay_text(result.verdict, width - text_x, BIG, bold=True), BIG)
    # The ring is as high as the verdict's first line, so its middle is the middle of the words.
    big = Row((Cell(0.0, Drawn(ring(result.shape), LEADING[BIG]), "top"), Cell(text_x, verdict, "top")))
    lines = tuple(Row((Cell(text_x, paragraph_piece(line, width - text_x)),)) for line in result.lines)
    return Stack((big, *lines), 2.0, whole=True)


def _finding(finding: paper.Finding, width: float) -> Piece:
    word_x = 13.0
    text_x = min(word_x + max(width_of(finding.word, BODY, bold=True) + 12.0, 74.0), width / 3.0)
    runs = [paper.Run(finding.sentence)]
    if finding.reason:
        runs.append(paper.Run(f" {finding.reason}", italic=True))
    text: Piece = Lines(lay(tuple(runs), width - text_x, BODY), BODY)
    if finding.source:
        text = Stack((text, Lines(lay_text(finding.source, width - text_x, SMALL, quiet=True), SMALL)))
    word = Lines(lay_text(finding.word, text_x - word_x - 6.0, BODY, bold=True), BODY)
    return Row((Cell(word_x, word), Cell(text_x, text)), (Bar(_BARS[finding.weight]),), 2.0, 2.0)


def _picture(picture: paper.Picture, setting: Setting) -> Piece:
    drawing = picture.drawing
    sides = (picture.width_mm * _POINTS_A_MM, picture.height_mm * _POINTS_A_MM)
    caption = lay_text(picture.caption, min(setting.width, sides[0]), SMALL, quiet=True) if picture.caption else ()
    caption = caption or ()
    room = max(setting.page - len(caption) * LEADING[SMALL] - 40.0, setting.page / 2.0)
    width, height = fitted(*sides, setting.width, room)
    # The drawing keeps its own proportion inside the sides that were asked for.
    width, _ = fitted(drawing.width * 1000.0, drawing.height * 1000.0, width, height)
    parts: tuple[Piece, ...] = (Drawn(drawing, width),)
    if caption:
        parts += (Lines(caption, SMALL, width, "middle"),)
    return Stack(parts, 3.0, whole=True)


def _beside(beside: paper.Beside, setting: Setting) -> Piece:
    picture = _picture(beside.picture, setting)
    text_x = min(beside.picture.width_mm * _POINTS_A_MM, setting.width) + 16.0
    if setting.width - text_x < _LEAST_BESIDE:
        blocks = pieces_of(beside.blocks, setting)
        return Stack((picture, Stack(blocks, GAP)), GAP, whole=True)
    blocks = pieces_of(beside.blocks, replace(setting, width=setting.width - text_x))
    row = Row((Cell(0.0, picture, "middle"), Cell(text_x, Stack(blocks, GAP), "middle")))
    if row.height <= setting.page:
        return Stack((row,), whole=True)
    return Stack((picture, *pieces_of(beside.blocks, setting)), GAP)
