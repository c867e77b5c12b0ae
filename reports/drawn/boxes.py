"""Safety boxes, and their short form where the same page has shown the box in full already."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, TypeVar

from reports.document_steps import Caution, CautionKind
from reports.document_text import Run
from reports.drawn.pieces import Cut, Drawn, Led, Lines, Piece, Stack
from reports.drawn.rows import Cell, Frame, Row
from reports.drawn.symbols import triangle
from reports.text import BODY, SMALL, STRONG, lay, lay_text, width_of

if TYPE_CHECKING:
    from collections.abc import Set as AbstractSet

    from reports.document import PaperWords
    from reports.pen import Pen

_Kept = TypeVar("_Kept", bound=Piece)

ORDER: tuple[CautionKind, ...] = ("warning", "caution", "note")
_FRAMES: dict[CautionKind, Literal["double", "thick", "thin"]] = {
    "warning": "double",
    "caution": "thick",
    "note": "thin",
}
_PAD, _SYMBOL = 9.0, 19.0
_PADS: dict[CautionKind, float] = {"warning": 7.5, "caution": 6.0, "note": 5.0}


@dataclass(frozen=True, slots=True)
class SafetyBox(Piece):
    """A safety box in full, or in its short form when the page shows it in full above."""

    caution: Caution
    full: Piece
    brief: Piece
    is_brief: bool = False

    @property
    def height(self) -> float:
        """Give the height in points."""
        return self._shown.height

    def split(self, room: float, page: float) -> Cut:
        """Cut the box; what goes on says that it is continued."""
        return self._shown.split(room, page)

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint the box."""
        self._shown.paint(pen, left, top)

    @property
    def _shown(self) -> Piece:
        return self.brief if self.is_brief else self.full


def safety_box(caution: Caution, width: float, words: PaperWords) -> SafetyBox:
    """Build the box of a warning, caution or note: frame, drawn triangle, signal word, hazard."""
    word = signal_word(caution.kind, words)
    word_x = _PAD + _SYMBOL + 8.0
    text_x = word_x + max(width_of(signal_word(kind, words), STRONG, bold=True) for kind in ORDER) + 14.0
    signal = Lines(lay_text(word, text_x - word_x, STRONG, bold=True), STRONG)
    again = Stack((signal, Lines(lay_text(words.continued, text_x - word_x, SMALL), SMALL)))
    text = Lines(lay_text(caution.text, width - text_x - _PAD, BODY), BODY)
    if caution.kind == "note":
        label: Piece = Row((Cell(_PAD, signal),), least=14.0)
        again_label: Piece = Row((Cell(_PAD, again),))
    else:
        symbol = Cell(_PAD, Drawn(triangle(), _SYMBOL), "middle")
        label = Row((symbol, Cell(word_x, signal, "middle")))
        again_label = Row((symbol, Cell(word_x, again, "middle")))
    pad = _PADS[caution.kind]
    cells = (Cell(0.0, label, again=again_label), Cell(text_x, text))
    full = Row(cells, (Frame(width, _FRAMES[caution.kind]),), pad, pad)
    return SafetyBox(caution, full, _brief(caution, width, words))


def signal_word(kind: CautionKind, words: PaperWords) -> str:
    """Give the signal word of a kind of box."""
    return {"warning": words.warning, "caution": words.caution, "note": words.note}[kind]


def in_order(boxes: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Give boxes in the order warning, caution, note; boxes of one kind keep their order."""
    return tuple(sorted(boxes, key=lambda box: ORDER.index(box.kind)))


def shown_in_full(piece: Piece) -> frozenset[Caution]:
    """Give the safety boxes that a piece prints in full."""
    match piece:
        case SafetyBox():
            return frozenset() if piece.is_brief else frozenset({piece.caution})
        case Led():
            return shown_in_full(piece.lead) | shown_in_full(piece.body)
        case Stack():
            return frozenset[Caution]().union(*(shown_in_full(part) for part in piece.pieces))
        case _:
            return frozenset()


def without_repeats(piece: _Kept, shown: AbstractSet[Caution]) -> _Kept:
    """Give the piece with short forms for the boxes that its page has shown in full already."""
    if not shown:
        return piece
    match piece:
        case SafetyBox():
            shorter = piece.brief.height < piece.full.height
            return replace(piece, is_brief=piece.caution in shown and shorter)
        case Led():
            return replace(piece, lead=without_repeats(piece.lead, shown), body=without_repeats(piece.body, shown))
        case Stack():
            return replace(piece, pieces=tuple(without_repeats(part, shown) for part in piece.pieces))
        case _:
            return piece


def _brief(caution: Caution, width: float, words: PaperWords) -> Piece:
    first, stop, _ = caution.text.partition(". ")
    runs = (
        Run(signal_word(caution.kind, words), bold=True),
        Run(f" {words.still_holds}: ", quiet=True),
        Run(first + stop.strip()),
    )
    text_x = _PAD + _SYMBOL + 8.0
    text = Cell(text_x, Lines(lay(runs, width - text_x - _PAD, BODY), BODY))
    if caution.kind == "note":
        return Row((text,), above=1.0, below=1.0)
    return Row((Cell(_PAD + 3.0, Drawn(triangle(), _SYMBOL - 6.0), "top"), text), above=1.0, below=1.0)
