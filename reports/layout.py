"""Fills pages with pieces: what stands where, before anything is painted."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.drawn.boxes import shown_in_full, without_repeats
from reports.drawn.pieces import ROUNDING, Break, Gap

if TYPE_CHECKING:
    from reports.document_steps import Caution
    from reports.drawn.pieces import Piece


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece and how far below the top of its page's contents it stands, in points."""

    piece: Piece
    top: float


def paginate(pieces: tuple[Piece, ...], first: float, page: float, gap: float) -> tuple[tuple[Placed, ...], ...]:
    """Lay pieces onto pages, `gap` points apart; `first` and `page` are the heights of the first and other pages.

    A safety box that a page shows in full is not repeated in full on that page.
    """
    waiting = deque(pieces)
    pages: list[tuple[Placed, ...]] = []
    placed: list[Placed] = []
    shown: set[Caution] = set()
    while waiting:
        piece = waiting.popleft()
        top = placed[-1].top + placed[-1].piece.height + gap if placed else 0.0
        room = (page if pages else first) - top
        if not placed and isinstance(piece, Break | Gap):
            continue
        ready = without_repeats(piece, shown)
        if not isinstance(piece, Break) and ready.height <= room + ROUNDING:
            placed.append(Placed(ready, top))
            shown |= shown_in_full(ready)
            continue
        above, below = _cut(piece, room, page, is_empty=not placed)
        if above is not None:
            placed.append(Placed(above, top))
        if below is not None:
            waiting.appendleft(below)
        pages.append(tuple(placed))
        placed, shown = [], set()
    if placed or not pages:
        pages.append(tuple(placed))
    return tuple(pages)


def _cut(piece: Piece, room: float, page: float, *, is_empty: bool) -> tuple[Piece | None, Piece | None]:
    above, below = piece.split(room, page) if room > 0 else (None, piece)
    if above is None and is_empty:
        # Nothing can be cut here, and a further page would not be higher: print it and lose no words to a loop.
        return piece, None
    return above, None if isinstance(below, Break) else below
