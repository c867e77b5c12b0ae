"""Drawings in the flow of a paper: alone with a caption, or with words beside them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.document import Block
    from reports.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with its size on paper in millimetres; shrunk in proportion where the paper is smaller."""

    drawing: Drawing
    width_mm: float
    height_mm: float
    caption: str = ""

    def __post_init__(self) -> None:
        """Refuse a size that is no size."""
        if not all(math.isfinite(side) and side > 0 for side in (self.width_mm, self.height_mm)):
            raise ValueError("a picture's sides are numbers of millimetres above zero")


@dataclass(frozen=True, slots=True)
class Beside:
    """A picture at the left with blocks at its right; stays together while it fits on a page."""

    picture: Picture
    blocks: tuple[Block, ...]


def picture_of_height(drawing: Drawing, height_mm: float, caption: str = "") -> Picture:
    """Give a drawing as a picture of a height in millimetres; its width follows in proportion."""
    return Picture(drawing, drawing.width / drawing.height * height_mm, height_mm, caption)
