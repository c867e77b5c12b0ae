"""A pen over a PDF canvas whose y grows downwards from the top of the page, in points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reportlab.pdfgen.canvas import Canvas

    from reports.drawing import Point, Role
    from reports.text import TextLine

# Paper is black first: ink is full black, quiet a grey that a laser printer still draws as closed letters.
PAPER_COLOURS: Mapping[Role, tuple[float, float, float]] = {
    "ink": (0.0, 0.0, 0.0),
    "quiet": (0.29, 0.29, 0.29),
    "line": (0.55, 0.55, 0.55),
    "act": (0.059, 0.361, 0.451),
    "good": (0.169, 0.416, 0.227),
    "ask": (0.478, 0.294, 0.0),
    "stop": (0.631, 0.149, 0.114),
}
HAIR, THIN, THICK, HEAVY = 0.5, 0.8, 2.2, 3.2  # line widths in points


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws on one page of a canvas, `page_height` points high."""

    canvas: Canvas
    page_height: float

    def text(self, x: float, baseline: float, line: TextLine, size: float) -> None:
        """Write a line of text from x on a baseline."""
        for segment in line.segments:
            self.canvas.setFillColorRGB(*PAPER_COLOURS[segment.role])
            self.canvas.setFont(segment.font, size)
            self.canvas.drawString(x + segment.x, self.page_height - baseline, segment.text)

    def line(self, begin: Point, end: Point, width: float = HAIR, role: Role = "ink") -> None:
        """Draw a straight line."""
        self._stroke(width, role)
        self.canvas.line(begin[0], self.page_height - begin[1], end[0], self.page_height - end[1])

    def box(self, left: float, top: float, width: float, height: float, stroke: float = HAIR) -> None:
        """Draw a black frame; the middle of its line lies on the given edges."""
        self._stroke(stroke, "ink")
        self.canvas.rect(left, self.page_height - top - height, width, height, stroke=1, fill=0)

    def _stroke(self, width: float, role: Role) -> None:
        self.canvas.setStrokeColorRGB(*PAPER_COLOURS[role])
        self.canvas.setLineWidth(width)
