"""The page: paper sizes, margins that survive a punched binder, what stands at the top and the bottom of each page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.document_text import Paragraph, Run
from reports.drawn.lists import paragraph_piece
from reports.drawn.pieces import Lines, Piece, Stack
from reports.drawn.rows import Cell, Edge, Frame, Row
from reports.pen import HAIR, THICK, THIN
from reports.text import BODY, SMALL, STRONG, TITLE, lay, lay_text

if TYPE_CHECKING:
    from reports.document import Document, Head, PaperSize
    from reports.pen import Pen
    from reports.text import TextLine

_POINTS_A_MM = 72.0 / 25.4
SIZES: dict[PaperSize, tuple[float, float]] = {"letter": (612.0, 792.0), "a4": (210 * _POINTS_A_MM, 297 * _POINTS_A_MM)}
LEFT = 22.0 * _POINTS_A_MM  # a punched hole ends 12 to 14 mm from the edge
RIGHT = 13.0 * _POINTS_A_MM
TOP = 12.0 * _POINTS_A_MM
BOTTOM = 11.0 * _POINTS_A_MM
_AIR = 8.0
_BAND_PAD = 9.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """The furniture of a document's pages on one size of paper, measured once."""

    width: float
    height: float
    banner: Piece | None
    running: Piece
    foot: tuple[TextLine, ...]
    page_words: str

    @property
    def text_width(self) -> float:
        """Give the width between the margins."""
        return self.width - LEFT - RIGHT

    @property
    def first_top(self) -> float:
        """Give where the first page's contents begin."""
        return TOP + (self.banner.height + 6.0 if self.banner else 0.0)

    @property
    def next_top(self) -> float:
        """Give where the contents of the other pages begin."""
        return self.first_top + self.running.height + _AIR

    @property
    def bottom(self) -> float:
        """Give where the contents of every page end."""
        return self.height - BOTTOM - len(self.foot) * 10.0 - 6.0 - _AIR

    def paint(self, pen: Pen, number: int, count: int) -> None:
        """Paint what stands around the contents of page `number` of `count`."""
        if self.banner:
            self.banner.paint(pen, LEFT, TOP)
        if number > 1:
            self.running.paint(pen, LEFT, self.first_top)
        top = self.bottom + _AIR
        right = self.width - RIGHT
        pen.line((LEFT, top), (right, top), THIN)
        foot = Lines(self.foot, SMALL)
        foot.paint(pen, LEFT, top + 4.0)
        words = self.page_words.replace("{page}", str(number)).replace("{pages}", str(count))
        page = Lines(lay_text(words, self.text_width, SMALL), SMALL, self.text_width, "right")
        page.paint(pen, LEFT, top + 4.0)


def sheet_of(document: Document, size: PaperSize) -> Sheet:
    """Measure the furniture of a document's pages."""
    width, height = SIZES[size]
    text_width = width - LEFT - RIGHT
    head, foot = document.head, document.foot
    parts = (foot.shop, foot.order, foot.card, foot.revision, foot.printed)
    spaced = [run for part in parts if part for run in (Run(_one_line(part)), Run("    "))]
    # The codes stand on a line of their own, so that a long shop name never parts a label from its code.
    if foot.codes:
        spaced.append(Run("\n"))
    for label, code in foot.codes:
        spaced += [Run(f"{_one_line(label)} ", quiet=True), Run(_one_line(code), code=True), Run("   ")]
    page_words = document.words.page
    foot_lines = lay(tuple(spaced), text_width - 84.0, SMALL)
    return Sheet(width, height, _banner(head, text_width), _running(document, text_width), foot_lines, page_words)


def head_piece(document: Document, width: float) -> Piece:
    """Build the head of the first page: title, lines at the right, the governing sentence."""
    head = document.head
    right_width = width * 0.36
    lines = tuple(Lines(paragraph_piece(line, right_width).lines, BODY, right_width, "right") for line in head.lines)
    title = Lines(lay_text(head.title, width - (right_width + 12.0 if lines else 0.0), TITLE, bold=True), TITLE)
    cells = (Cell(0.0, title), Cell(width - right_width, Stack(lines), "baseline")) if lines else (Cell(0.0, title),)
    parts: list[Piece] = [Row(cells, (Edge(width, stroke=THICK / 1.6, role="ink"),), 2.0, 6.0)]
    if head.governing:
        governing = paragraph_piece(Paragraph((Run(head.governing, italic=True),)), width)
        parts.append(Row((Cell(0.0, governing),), (Edge(width, stroke=HAIR),), 0.0, 5.0))
    return Stack(tuple(parts), 5.0)


def _banner(head: Head, width: float) -> Piece | None:
    """Build what this print is: quiet bands on a line, and those that must not be overlooked in a thick frame."""
    quiet = [text for text in (head.banner, *(band.text for band in head.bands if not band.loud)) if text]
    loud = [band.text for band in head.bands if band.loud]
    parts: list[Piece] = []
    if quiet:
        parts.append(Lines(lay_text(_one_line("  ·  ".join(quiet)), width, BODY, bold=True), BODY))
    if loud:
        room = width - 2.0 * _BAND_PAD
        words = Lines(lay_text(_one_line("  ·  ".join(loud)), room, STRONG, bold=True), STRONG, room, "middle")
        parts.append(Row((Cell(_BAND_PAD, words),), (Frame(width, "thick"),), 5.0, 5.0))
    return Stack(tuple(parts), 4.0) if parts else None


def _one_line(text: str) -> str:
    return text.replace("\n", " ")


def _running(document: Document, width: float) -> Piece:
    title = Lines(lay_text(_one_line(document.head.title), width * 0.66, BODY, bold=True), BODY)
    right = width * 0.32
    card = Lines(lay_text(_one_line(document.head.card), right, BODY), BODY, right, "right")
    return Row((Cell(0.0, title), Cell(width - right, card)), (Edge(width, stroke=THIN, role="ink"),), 0.0, 4.0)
