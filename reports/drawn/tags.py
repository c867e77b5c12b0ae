"""Tags with a ring for the hole and lines to cut along, and words that are read across a hangar."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.drawn.pieces import Drawn, Fixed, Lines, Piece, Stack
from reports.drawn.rows import Cell, Frame, Row
from reports.drawn.symbols import hole_ring
from reports.text import BIG, BODY, HUGE, LARGE, SMALL, TITLE, lay_text, width_of

if TYPE_CHECKING:
    from reports.document import PaperWords
    from reports.document_tags import BigWords, Tag
    from reports.pen import Pen
    from reports.text import TextLine

HOLE_X, _HOLE, TEXT_X, _PAD = 14.0, 40.0, 68.0, 12.0
_POINTS_A_MM = 72.0 / 25.4
_MOST_LINES = 3
_DASH = 5.0


@dataclass(frozen=True, slots=True)
class CutLine(Fixed):
    """A broken line to cut along, with its words at the left."""

    words: tuple[TextLine, ...]
    width: float

    @property
    def height(self) -> float:
        """Give the height in points."""
        return 10.0

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Draw the words and the line after them."""
        words = Lines(self.words, SMALL)
        words.paint(pen, left, top)
        x = left + self.words[0].width + 6.0
        while x < left + self.width:
            pen.line((x, top + 5.0), (min(x + _DASH, left + self.width), top + 5.0))
            x += 2.0 * _DASH


def big_words_piece(big: BigWords, width: float) -> Piece:
    """Build words in the largest size in which no word is cut and at most three lines are needed."""
    words = big.text.split()
    for size in (HUGE, LARGE):
        lines = lay_text(big.text, width, size, bold=True)
        widest = max((width_of(word, size, bold=True) for word in words), default=0.0)
        if widest <= width and len(lines) <= _MOST_LINES:
            return Lines(lines, size)
    return Lines(lay_text(big.text, width, BIG, bold=True), BIG)


def tag_piece(tag: Tag, big: Piece | None, contents: tuple[Piece, ...], width: float) -> Piece:
    """Build a tag: frame, ring for the hole at the left, bands, title, big words, contents, who printed it and when."""
    room = tag_room(width)
    bands = (Lines(lay_text(" · ".join(tag.bands), room, BODY, bold=True), BODY),) if tag.bands else ()
    title = Lines(lay_text(tag.title, room, TITLE, bold=True), TITLE)
    foot = (Lines(lay_text(tag.printed, room, SMALL, quiet=True), SMALL),) if tag.printed else ()
    text = Stack((*bands, title, *((big,) if big else ()), *contents, *foot), 7.0)
    cells = (Cell(HOLE_X, Drawn(hole_ring(), _HOLE), "middle"), Cell(TEXT_X, text, "top"))
    return Row(cells, (Frame(width, "thick"),), _PAD, _PAD, tag.height_mm * _POINTS_A_MM)


def tag_room(width: float) -> float:
    """Give the width of a tag's text."""
    return width - TEXT_X - _PAD


def tags_piece(tags: tuple[Piece, ...], width: float, words: PaperWords) -> Piece:
    """Build tags with a line to cut along above each and below the last; a line is not parted from its tag."""
    cut = CutLine(lay_text(words.cut, width / 2.0, SMALL, quiet=True), width)
    parts = [Stack((cut, tag), 5.0, whole=True) for tag in tags]
    if parts:
        parts[-1] = Stack((cut, tags[-1], cut), 5.0, whole=True)
    return Stack(tuple(parts), 5.0)
