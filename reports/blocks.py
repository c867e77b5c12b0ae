"""From the vocabulary of papers to pieces of a page: one line a kind of block."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reports.document_pictures import Beside, Picture
from reports.document_signing import CheckCode, Seal, Signatures
from reports.document_steps import Caution, Checklist, Finding, ReadingTable, Result, Step
from reports.document_tables import Table
from reports.document_tags import BigWords, Tags
from reports.document_text import (
    EmptyState,
    Entries,
    Facts,
    Heading,
    NumberedList,
    PageBreak,
    Paragraph,
    Rule,
    Space,
)
from reports.drawn.boxes import safety_box
from reports.drawn.codes import check_code_piece, code_text_x, seal_piece
from reports.drawn.lists import empty_state_piece, entries_piece, facts_piece, numbered_piece, paragraph_piece
from reports.drawn.pictures import picture_piece
from reports.drawn.pieces import Break, Gap, Led, Lines, Piece, Stack
from reports.drawn.readings import reading_table_piece
from reports.drawn.rows import Cell, Row
from reports.drawn.signature_boxes import signatures_piece
from reports.drawn.steps import checklist_piece, instruction_x, step_piece
from reports.drawn.tables import table_piece
from reports.drawn.tags import big_words_piece, tag_piece, tag_room, tags_piece
from reports.drawn.verdicts import finding_piece, result_piece
from reports.text import BODY, STRONG, TITLE, lay_text

if TYPE_CHECKING:
    from reports.document import Block, PaperWords
    from reports.document_tags import Tag

GAP = 8.0
_POINTS_A_MM = 72.0 / 25.4
_LEAST_BESIDE = 150.0  # points that text beside a picture needs
_HEADINGS = {1: TITLE, 2: STRONG, 3: BODY}


@dataclass(frozen=True, slots=True)
class Setting:
    """What blocks are built for: the width at hand, the height of an empty page (both in points), the fixed words.

    `indent` is how far paragraphs stand to the right of the left edge.
    """

    width: float
    page: float
    words: PaperWords
    indent: float = 0.0


def pieces_of(blocks: tuple[Block, ...], setting: Setting) -> tuple[Piece, ...]:
    """Build the pieces of blocks; headings and lone safety boxes are tied to what follows them, over any space."""
    pieces: list[Piece] = []
    for block in reversed(blocks):
        piece = _piece(block, setting)
        leads = isinstance(block, Heading | Caution)
        if leads and len(pieces) > 1 and isinstance(pieces[0], Gap) and not isinstance(pieces[1], Break):
            pieces[:2] = [Led(pieces[0], pieces[1], GAP)]
        if leads and pieces and not isinstance(pieces[0], Break):
            pieces[0] = Led(piece, pieces[0], 5.0)
        else:
            pieces.insert(0, piece)
    return tuple(pieces)


def _piece(block: Block, setting: Setting) -> Piece:  # noqa: C901, PLR0911, PLR0912 - one line a kind of block
    width, words = setting.width, setting.words
    match block:
        case Paragraph():
            return _paragraph(block, setting)
        case Heading():
            size = _HEADINGS[block.level]
            return Lines(lay_text(block.text, width, size, bold=True), size)
        case Facts():
            return facts_piece(block, width)
        case Entries():
            return entries_piece(block, width)
        case NumberedList():
            return numbered_piece(block, width)
        case EmptyState():
            return empty_state_piece(block, width)
        case Caution():
            return safety_box(block, width, words)
        case Step():
            below = replace(setting, indent=instruction_x(block, width))
            return step_piece(block, pieces_of(block.body, below), width, words)
        case ReadingTable():
            return reading_table_piece(block, width)
        case Table():
            return table_piece(block, width, words)
        case Checklist():
            return checklist_piece(block, width)
        case Result():
            return result_piece(block, width)
        case Finding():
            return finding_piece(block, width)
        case Signatures():
            return signatures_piece(block, width, words)
        case Picture():
            return picture_piece(block, width, setting.page)
        case Beside():
            return _beside(block, setting)
        case Seal():
            return seal_piece(block, _beside_code(block, width))
        case CheckCode():
            return check_code_piece(block, _beside_code(block, width), width, words)
        case BigWords():
            return big_words_piece(block, width)
        case Tags():
            return tags_piece(tuple(_tag(tag, setting) for tag in block.tags), width, words)
        case Rule():
            return Gap(1.0, width)
        case Space():
            return Gap(block.height_mm * _POINTS_A_MM)
        case PageBreak():
            return Break()
        case _:
            return Stack(pieces_of(block.blocks, setting), GAP, whole=True)


def _paragraph(paragraph: Paragraph, setting: Setting) -> Piece:
    """Build a paragraph; below a step it stands below the words of the instruction, as tables do not."""
    words = paragraph_piece(paragraph, setting.width - setting.indent)
    return Row((Cell(setting.indent, words),), free=True) if setting.indent else words


def _beside_code(code: Seal | CheckCode, width: float) -> tuple[Piece, ...]:
    return tuple(paragraph_piece(line, width - code_text_x(code)) for line in code.lines)


def _tag(tag: Tag, setting: Setting) -> Piece:
    inside = replace(setting, width=tag_room(setting.width))
    big = big_words_piece(BigWords(tag.big), inside.width) if tag.big else None
    return tag_piece(tag, big, pieces_of(tag.blocks, inside), setting.width)


def _beside(beside: Beside, setting: Setting) -> Piece:
    picture = picture_piece(beside.picture, setting.width, setting.page)
    text_x = min(beside.picture.width_mm * _POINTS_A_MM, setting.width) + 16.0
    if setting.width - text_x < _LEAST_BESIDE:
        blocks = pieces_of(beside.blocks, setting)
        return Stack((picture, Stack(blocks, GAP)), GAP, whole=True)
    blocks = pieces_of(beside.blocks, replace(setting, width=setting.width - text_x, indent=0.0))
    row = Row((Cell(0.0, picture, "middle"), Cell(text_x, Stack(blocks, GAP), "middle")))
    if row.height <= setting.page:
        return Stack((row,), whole=True)
    return Stack((picture, *pieces_of(beside.blocks, setting)), GAP)
