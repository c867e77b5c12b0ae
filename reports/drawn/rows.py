"""Rows of cells beside each other, with what is drawn around them: frames, bars, lines and boxes for the pen."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from reports.drawn.pieces import ROUNDING, Cut, Gap, Piece
from reports.pen import HAIR, HEAVY, THICK, THIN

if TYPE_CHECKING:
    from reports.drawing import Role
    from reports.pen import Pen

_NOTHING = Gap(0.0)


class Mark(ABC):
    """Something drawn around the cells of a row, whatever the row's height."""

    __slots__ = ()

    @abstractmethod
    def paint(self, pen: Pen, left: float, top: float, height: float) -> None:
        """Draw for a row whose upper left corner is given."""


@dataclass(frozen=True, slots=True)
class Frame(Mark):
    """A frame around the row: double for a warning, thick for a caution, thin for anything else."""

    width: float
    kind: Literal["double", "thick", "thin"] = "thin"

    def paint(self, pen: Pen, left: float, top: float, height: float) -> None:
        """Draw the frame inside the row's edges."""
        stroke = {"double": 1.2, "thick": THICK, "thin": THIN}[self.kind]
        edge = stroke / 2.0
        pen.box(left + edge, top + edge, self.width - stroke, height - stroke, stroke)
        if self.kind == "double":
            inner = 3.4
            pen.box(left + inner, top + inner, self.width - 2 * inner, height - 2 * inner, stroke)


@dataclass(frozen=True, slots=True)
class Bar(Mark):
    """A solid bar at the left edge, or x points from it; its width in points tells how heavy the matter is."""

    width: float = HEAVY
    x: float = 0.0

    def paint(self, pen: Pen, left: float, top: float, height: float) -> None:
        """Draw the bar."""
        middle = left + self.x + self.width / 2.0
        pen.line((middle, top), (middle, top + height), self.width)


@dataclass(frozen=True, slots=True)
class Edge(Mark):
    """A line along the top or the bottom of the row."""

    width: float
    at: Literal["top", "bottom"] = "bottom"
    stroke: float = HAIR
    role: Role = "line"
    x: float = 0.0

    def paint(self, pen: Pen, left: float, top: float, height: float) -> None:
        """Draw the line."""
        y = top + (height if self.at == "bottom" else 0.0)
        pen.line((left + self.x, y), (left + self.x + self.width, y), self.stroke, self.role)


@dataclass(frozen=True, slots=True)
class Box(Mark):
    """A box for the pen, as high as the row."""

    x: float
    width: float

    def paint(self, pen: Pen, left: float, top: float, height: float) -> None:
        """Draw the box."""
        pen.box(left + self.x, top, self.width, height, THIN)


@dataclass(frozen=True, slots=True)
class Cell:
    """A piece at x points from the row's left edge. `again` stands in its place when the row goes on.

    Cells that stand on the baseline share the row's first baseline; others stand at its top or on its middle.
    """

    x: float
    piece: Piece
    align: Literal["baseline", "top", "middle"] = "baseline"
    again: Piece | None = None

    def drop(self, line: float) -> float:
        """Give how far the cell is lowered so that its first baseline lies on the row's."""
        if self.align != "baseline" or self.piece.baseline is None:
            return 0.0
        return line - self.piece.baseline


@dataclass(frozen=True, slots=True)
class Row(Piece):
    """Cells beside each other in the middle of the row's height, with marks around them.

    A row is cut only when it is higher than a page, or when it is `free`: all its cells are cut at the same height.
    """

    cells: tuple[Cell, ...]
    marks: tuple[Mark, ...] = ()
    above: float = 0.0
    below: float = 0.0
    least: float = 0.0
    free: bool = False

    @property
    def height(self) -> float:
        """Give the height in points."""
        return max(self.least, self._content(self._line()) + self.above + self.below)

    @property
    def baseline(self) -> float | None:
        """Give where the first line of text stands, in the first cell that has one."""
        return next((y + cell.piece.baseline for cell, y in self._places() if cell.piece.baseline is not None), None)

    def split(self, room: float, page: float) -> Cut:
        """Cut every cell at the same height, or nothing."""
        if not self.free and room < page - ROUNDING and self.height <= page + ROUNDING:
            return None, self
        pads, line = self.above + self.below, self._line()
        firsts: list[Cell] = []
        rests: list[Cell] = []
        for cell in self.cells:
            first, rest = _cut_cell(cell, room - pads, page - pads, line)
            if first is None:
                return None, self
            firsts.append(replace(cell, piece=first))
            rests.append(replace(cell, piece=cell.again or rest or _NOTHING))
        return replace(self, cells=tuple(firsts), least=0.0), replace(self, cells=tuple(rests), least=0.0)

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint marks and cells."""
        height = self.height
        for mark in self.marks:
            mark.paint(pen, left, top, height)
        for cell, y in self._places():
            cell.piece.paint(pen, left + cell.x, top + y)

    def _line(self) -> float:
        lines = (cell.piece.baseline for cell in self.cells if cell.align == "baseline")
        return max((line for line in lines if line is not None), default=0.0)

    def _content(self, line: float) -> float:
        return max((cell.drop(line) + cell.piece.height for cell in self.cells), default=0.0)

    def _places(self) -> tuple[tuple[Cell, float], ...]:
        line = self._line()
        content = self._content(line)
        pads = self.above + self.below
        start = self.above + max(self.least - pads - content, 0.0) / 2.0
        return tuple(
            (cell, start + ((content - cell.piece.height) / 2.0 if cell.align == "middle" else cell.drop(line)))
            for cell in self.cells
        )


def _cut_cell(cell: Cell, room: float, page: float, line: float) -> Cut:
    down = cell.drop(line)
    if cell.piece.height + down <= room + ROUNDING:
        return cell.piece, None
    return cell.piece.split(room - down, page - down)
