"""Pieces of a page: values that know their height, can be cut by a page's end, and paint themselves.

`split(room, page)` gives what may stand in `room` points at the end of a page, and what goes on; nothing first means
that the piece wants a new page. `page` is the height of an empty page. At the top of a page room and page are equal;
there a piece gives as much as fits and asks for no further page.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, TypeAlias

from reports.drawing import CAP_HEIGHT
from reports.paint import paint_drawing
from reports.text import LEADING

if TYPE_CHECKING:
    from reports.drawing import Drawing
    from reports.pen import Pen
    from reports.text import TextLine

Cut: TypeAlias = "tuple[Piece | None, Piece | None]"

ROUNDING = 1e-6
_TOGETHER = 2  # lines of a paragraph that are not parted from it alone


class Piece(ABC):
    """Something on the page."""

    __slots__ = ()

    @property
    @abstractmethod
    def height(self) -> float:
        """Give the height in points."""

    @abstractmethod
    def split(self, room: float, page: float) -> Cut:
        """Give what may stand in the room and what goes on; asked only when the piece is higher than the room."""

    @abstractmethod
    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint with the upper left corner at the given place."""

    @property
    def baseline(self) -> float | None:
        """Give how far below the top the first line of text stands, where there is one."""
        return None


@dataclass(frozen=True, slots=True)
class Lines(Piece):
    """Lines of text of one size, aligned within a width."""

    lines: tuple[TextLine, ...]
    size: float
    width: float = 0.0
    align: Literal["left", "right", "middle"] = "left"

    @property
    def height(self) -> float:
        """Give the height in points."""
        return len(self.lines) * LEADING[self.size]

    @property
    def baseline(self) -> float:
        """Give the first baseline: the capitals stand in the middle of their line."""
        return (LEADING[self.size] + CAP_HEIGHT * self.size) / 2.0

    def split(self, room: float, page: float) -> Cut:
        """Cut between lines, with at least two on each side where the page allows it."""
        count = int((room + ROUNDING) // LEADING[self.size])
        if room < page - ROUNDING:
            count = min(count, max(len(self.lines) - _TOGETHER, 0))
            if count < _TOGETHER:
                return None, self
        if count < 1:
            return None, self
        return replace(self, lines=self.lines[:count]), replace(self, lines=self.lines[count:])

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Write the lines."""
        for number, line in enumerate(self.lines):
            x = left + (self.width - line.width) * {"left": 0.0, "middle": 0.5, "right": 1.0}[self.align]
            pen.text(x, top + self.baseline + number * LEADING[self.size], line, self.size)


@dataclass(frozen=True, slots=True)
class Fixed(Piece):
    """Something that is never cut."""

    def split(self, room: float, page: float) -> Cut:  # noqa: ARG002 - the room does not matter
        """Ask for a new page."""
        return None, self


@dataclass(frozen=True, slots=True)
class Drawn(Fixed):
    """A drawing, `width` points wide; its height follows in proportion."""

    drawing: Drawing
    width: float

    @property
    def height(self) -> float:
        """Give the height in points."""
        return self.drawing.height * self.width / self.drawing.width

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint the drawing."""
        paint_drawing(pen, self.drawing, left, top, self.width)


@dataclass(frozen=True, slots=True)
class Gap(Fixed):
    """Empty height, with a thin line along its bottom when `ruled` gives the line's length."""

    height_points: float
    ruled: float = 0.0

    @property
    def height(self) -> float:
        """Give the height in points."""
        return self.height_points

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Draw the line, if there is one."""
        if self.ruled:
            bottom = top + self.height_points
            pen.line((left, bottom), (left + self.ruled, bottom), role="line")


@dataclass(frozen=True, slots=True)
class Break(Fixed):
    """What follows begins a new page; counts between whole blocks only."""

    @property
    def height(self) -> float:
        """Give no height."""
        return 0.0

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint nothing."""


@dataclass(frozen=True, slots=True)
class Stack(Piece):
    """Pieces below each other, `gap` points apart. `whole` moves it to a new page rather than cut it."""

    pieces: tuple[Piece, ...]
    gap: float = 0.0
    whole: bool = False

    @property
    def height(self) -> float:
        """Give the height in points."""
        return sum(piece.height for piece in self.pieces) + self.gap * max(len(self.pieces) - 1, 0)

    @property
    def baseline(self) -> float | None:
        """Give the first piece's baseline."""
        return self.pieces[0].baseline if self.pieces else None

    def split(self, room: float, page: float) -> Cut:
        """Give the pieces that fit, and of the first that does not, what it gives."""
        if self.whole and self.height <= page + ROUNDING:
            return None, self
        used = 0.0
        for number, piece in enumerate(self.pieces):
            if used + piece.height > room + ROUNDING:
                return self._cut(number, piece.split(room - used, page) if room > used else (None, piece))
            used += piece.height + self.gap
        return self, None

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint the pieces from the top."""
        for piece in self.pieces:
            piece.paint(pen, left, top)
            top += piece.height + self.gap

    def _cut(self, number: int, cut: Cut) -> Cut:
        first, rest = cut
        above = self.pieces[:number] + ((first,) if first else ())
        below = ((rest,) if rest else ()) + self.pieces[number + 1 :]
        return (replace(self, pieces=above) if above else None), replace(self, pieces=below)


@dataclass(frozen=True, slots=True)
class Led(Piece):
    """A lead that is not parted from what it leads: a heading with its text, boxes and instruction with their table.

    `whole` keeps everything on one page while it fits on one. `again` stands over the part on the next page.
    """

    lead: Piece
    body: Piece
    gap: float = 0.0
    whole: bool = False
    again: Piece | None = None

    @property
    def height(self) -> float:
        """Give the height in points."""
        return self.lead.height + (self.gap + self.body.height if self.body.height else 0.0)

    @property
    def baseline(self) -> float | None:
        """Give the lead's baseline."""
        return self.lead.baseline

    def split(self, room: float, page: float) -> Cut:
        """Cut inside the body, and inside the lead only when the lead alone is higher than a page."""
        fresh = room >= page - ROUNDING
        if self.whole and self.height <= page + ROUNDING:
            return None, self
        over = self.lead if fresh or self.again is None else self.again
        left = room - self.lead.height - self.gap
        first, rest = self.body.split(left, page - over.height - self.gap) if left > 0 else (None, self.body)
        if first is not None:
            return replace(self, body=first, whole=False, again=None), self._rest(rest)
        if not fresh and self.lead.height <= page:
            return None, self
        if self.lead.height <= room + ROUNDING:
            return self.lead, self.body
        above, below = self.lead.split(room, page)
        return above, None if below is None else replace(self, lead=below)

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint the lead over the body."""
        self.lead.paint(pen, left, top)
        self.body.paint(pen, left, top + self.lead.height + self.gap)

    def _rest(self, rest: Piece | None) -> Piece | None:
        if rest is None or self.again is None:
            return rest
        return Led(self.again, rest, self.gap, again=self.again)


@dataclass(frozen=True, slots=True)
class Rows(Piece):
    """Rows under a head; over the rows on the next page stands `again`, or else the head once more."""

    head: Piece | None
    rows: tuple[Piece, ...]
    again: Piece | None = None

    @property
    def height(self) -> float:
        """Give the height in points."""
        return (self.head.height if self.head else 0.0) + sum(row.height for row in self.rows)

    def split(self, room: float, page: float) -> Cut:
        """Give the head with at least two rows, where there are two; a row is cut only when higher than a page."""
        fresh = room >= page - ROUNDING
        top = self.head.height if self.head else 0.0
        over = self.again or self.head
        left = page - (over.height if over else 0.0)
        used, taken = top, 0
        while taken < len(self.rows) and used + self.rows[taken].height <= room + ROUNDING:
            used += self.rows[taken].height
            taken += 1
        above, below = self.rows[:taken], self.rows[taken:]
        if below and room - used > 0 and below[0].height > left + ROUNDING:
            # At the top of a page the row may take what there is; so it is told that there is no more.
            first, rest = below[0].split(room - used, room - used if fresh and not above else left)
            if first is not None:
                above, below = (*above, first), ((rest,) if rest else ()) + below[1:]
        if not above or (not fresh and len(above) < min(_TOGETHER, len(self.rows))):
            return None, self
        return replace(self, rows=above), replace(self, head=over, rows=below)

    def paint(self, pen: Pen, left: float, top: float) -> None:
        """Paint the head over the rows."""
        for piece in ((self.head,) if self.head else ()) + self.rows:
            piece.paint(pen, left, top)
            top += piece.height
