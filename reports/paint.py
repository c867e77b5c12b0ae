"""Paints a drawing on paper: the vocabulary of `reports.drawing` in the words of a PDF canvas."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from reports.document_text import Run
from reports.drawing import (
    DASH_POINTS,
    STROKE_POINTS,
    Arc,
    Arrow,
    Circle,
    Line,
    Polygon,
    Words,
    arrow_parts,
    hatch_lines,
)
from reports.pen import PAPER_COLOURS
from reports.text import Segment, TextLine, lay

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from reports.drawing import Anchor, Drawing, Role, Shape, Stroke
    from reports.pen import Pen

_ONE_LINE = 1e9  # wider than any drawing: words in a drawing are never broken
_BEFORE: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


def paint_drawing(pen: Pen, drawing: Drawing, left: float, top: float, width: float) -> None:
    """Paint a drawing with its upper left corner at (left, top), scaled in proportion to `width` points.

    Line widths stay as they are, so that a shrunk drawing keeps its ink.
    """
    scale = width / drawing.width
    canvas = pen.canvas
    canvas.saveState()
    canvas.translate(left, pen.page_height - top)
    canvas.setLineCap(0)
    canvas.setLineJoin(0)
    for shape in drawing.shapes:
        _paint(canvas, shape, scale)
    canvas.restoreState()


def _paint(canvas: Canvas, shape: Shape, scale: float) -> None:
    match shape:
        case Line():
            _set_stroke(canvas, shape.stroke)
            canvas.line(shape.x1 * scale, -shape.y1 * scale, shape.x2 * scale, -shape.y2 * scale)
        case Arc():
            _paint_arc(canvas, shape, scale)
        case Circle():
            stroke, fill = _set_both(canvas, shape.stroke, shape.fill)
            canvas.circle(shape.x * scale, -shape.y * scale, shape.radius * scale, stroke=stroke, fill=fill)
        case Polygon():
            _paint_polygon(canvas, shape, scale)
        case Arrow():
            shaft, head = arrow_parts(shape)
            _paint(canvas, shaft, scale)
            _paint(canvas, head, scale)
        case Words():
            _paint_words(canvas, shape, scale)
        case _:
            for line in hatch_lines(shape):
                _paint(canvas, line, scale)


def _paint_arc(canvas: Canvas, arc: Arc, scale: float) -> None:
    _set_stroke(canvas, arc.stroke)
    x, y, radius = arc.x * scale, -arc.y * scale, arc.radius * scale
    path = canvas.beginPath()
    # The canvas counts against the clock from the right; clock degrees count with it from the top.
    corners = (x - radius, y - radius, x + radius, y + radius)
    path.arc(*corners, startAng=90.0 - arc.start, extent=-arc.sweep)  # type: ignore[arg-type]  # takes fractions
    canvas.drawPath(path, stroke=1, fill=0)


def _paint_polygon(canvas: Canvas, polygon: Polygon, scale: float) -> None:
    stroke, fill = _set_both(canvas, polygon.stroke, polygon.fill)
    path = canvas.beginPath()
    for number, (x, y) in enumerate(polygon.points):
        step = path.lineTo if number else path.moveTo
        step(x * scale, -y * scale)
    path.close()
    canvas.drawPath(path, stroke=stroke, fill=fill)


def _paint_words(canvas: Canvas, words: Words, scale: float) -> None:
    size = words.size * scale
    run = Run(words.text.replace("\n", " "), bold=words.bold, code=words.code)
    line = _in_role(lay((run,), _ONE_LINE, size)[0], words.role)
    x = words.x * scale - line.width * _BEFORE[words.anchor]
    for segment in line.segments:
        canvas.setFillColorRGB(*PAPER_COLOURS[segment.role])
        canvas.setFont(segment.font, size)
        canvas.drawString(x + segment.x, -words.y * scale, segment.text)


def _in_role(line: TextLine, role: Role) -> TextLine:
    return TextLine(tuple(Segment(part.x, part.text, part.font, role) for part in line.segments), line.width)


def _set_stroke(canvas: Canvas, stroke: Stroke) -> None:
    canvas.setStrokeColorRGB(*PAPER_COLOURS[stroke.role])
    canvas.setLineWidth(STROKE_POINTS[stroke.weight])
    canvas.setDash(*(DASH_POINTS if stroke.dashed else ()))


def _set_both(canvas: Canvas, stroke: Stroke | None, fill: Role | None) -> tuple[int, int]:
    if stroke is not None:
        _set_stroke(canvas, stroke)
    if fill is not None:
        canvas.setFillColorRGB(*PAPER_COLOURS[fill])
    return int(stroke is not None), int(fill is not None)


def fitted(width: float, height: float, room_width: float, room_height: float) -> tuple[float, float]:
    """Give the sides shrunk in proportion until they fit into the room; nothing is enlarged."""
    factor = min(1.0, room_width / width, room_height / height)
    return math.floor(width * factor * 100) / 100, math.floor(height * factor * 100) / 100
