"""Drawings in the flow of a paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.drawn.pieces import Drawn, Lines, Piece, Stack
from reports.paint import fitted
from reports.text import LEADING, SMALL, lay_text

if TYPE_CHECKING:
    from reports.document_pictures import Picture

_POINTS_A_MM = 72.0 / 25.4


def picture_piece(picture: Picture, width: float, page: float) -> Piece:
    """Build a drawing of the size asked for, or as large as a width and a page allow, with its caption below."""
    drawing = picture.drawing
    sides = (picture.width_mm * _POINTS_A_MM, picture.height_mm * _POINTS_A_MM)
    caption = lay_text(picture.caption, min(width, sides[0]), SMALL, quiet=True) if picture.caption else ()
    caption = caption or ()
    room = max(page - len(caption) * LEADING[SMALL] - 40.0, page / 2.0)
    most, height = fitted(*sides, width, room)
    # The drawing keeps its own proportion inside the sides that were asked for.
    shown, _ = fitted(drawing.width * 1000.0, drawing.height * 1000.0, most, height)
    parts: tuple[Piece, ...] = (Drawn(drawing, shown),)
    if caption:
        parts += (Lines(caption, SMALL, shown, "middle"),)
    return Stack(parts, 3.0, whole=True)
