"""The small drawn signs of the papers: our own triangle, rings and boxes, made of lines so that no face is needed."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from reports.drawing import Arc, Circle, Drawing, Line, Polygon, Stroke, on_circle

if TYPE_CHECKING:
    from reports.document_steps import RingShape
    from reports.drawing import Shape

QUIET_MODULES = 4  # the white border that a QR code needs
_SIDE = 24.0
_MEDIUM, _THICK, _HEAVY = Stroke("medium"), Stroke("thick"), Stroke("heavy")


def triangle() -> Drawing:
    """Draw a triangle with an exclamation mark, for warnings and cautions."""
    outline = Polygon(((12.0, 2.2), (22.8, 20.8), (1.2, 20.8)), _THICK)
    stem = Polygon(((10.9, 8.2), (13.1, 8.2), (12.5, 14.9), (11.5, 14.9)), None, "ink")
    return Drawing(_SIDE, _SIDE, (outline, stem, Circle(12.0, 17.3, 1.2, None, "ink")), "take care")


def ring(shape: RingShape) -> Drawing:
    """Draw the ring of a verdict: closed (within), half (a reason is needed) or crossed (stops)."""
    middle, radius = _SIDE / 2.0, 9.6
    shapes: dict[RingShape, tuple[Shape, ...]] = {
        "closed": (Circle(middle, middle, radius, _HEAVY),),
        "half": (
            Arc(middle, middle, radius, 180.0, 180.0, _HEAVY),
            Arc(middle, middle, radius, 0.0, 180.0, Stroke("thin", dashed=True)),
        ),
        "crossed": (
            Circle(middle, middle, radius, _THICK),
            Line(*on_circle(middle, middle, radius, 45.0), *on_circle(middle, middle, radius, 225.0), _HEAVY),
            Line(*on_circle(middle, middle, radius, 135.0), *on_circle(middle, middle, radius, 315.0), _HEAVY),
        ),
    }
    return Drawing(_SIDE, _SIDE, shapes[shape], f"ring {shape}")


def tick_box(mark: str = "empty") -> Drawing:
    """Draw a box to tick: empty, ticked or struck out."""
    shapes: list[Shape] = [Polygon(((2.0, 2.0), (22.0, 2.0), (22.0, 22.0), (2.0, 22.0)), Stroke("thin"))]
    if mark == "ticked":
        shapes += [Line(5.5, 12.5, 10.3, 17.8, _THICK), Line(10.0, 18.0, 19.0, 5.5, _THICK)]
    elif mark == "struck":
        shapes.append(Line(4.5, 12.0, 19.5, 12.0, _MEDIUM))
    return Drawing(_SIDE, _SIDE, tuple(shapes), f"box {mark}")


def seal_sign() -> Drawing:
    """Draw the sign of an electronic signature: a notched ring, a fine ring in it, a tick."""
    middle = _SIDE / 2.0
    notches = tuple(
        Line(*on_circle(middle, middle, 9.6, turn), *on_circle(middle, middle, 11.4, turn), _MEDIUM)
        for turn in range(0, 360, 15)
    )
    tick = (Line(7.6, 12.3, 10.8, 15.6, _THICK), Line(10.5, 15.8, 16.6, 8.2, _THICK))
    rings = (Circle(middle, middle, 9.6, _MEDIUM), Circle(middle, middle, 7.9, Stroke("fine")))
    return Drawing(_SIDE, _SIDE, (*notches, *rings, *tick), "seal of an electronic signature")


def hole_ring() -> Drawing:
    """Draw where a tag's hole is punched: a fine circle with a cross, inside a heavy ring."""
    middle = _SIDE / 2.0
    cross = (
        Line(middle - 2.0, middle, middle + 2.0, middle, Stroke("fine")),
        Line(middle, middle - 2.0, middle, middle + 2.0, Stroke("fine")),
    )
    return Drawing(
        _SIDE,
        _SIDE,
        (Circle(middle, middle, 10.5, _THICK), Circle(middle, middle, 5.0, Stroke("fine", dashed=True)), *cross),
        "punch the hole here",
    )


@lru_cache(maxsize=8)
def qr_drawing(content: str) -> Drawing:
    """Draw a QR code with its quiet zone of four modules; the drawing's unit is a module."""
    from reportlab.graphics.barcode.qrencoder import (  # noqa: PLC0415 - few papers carry a code
        QR8bitByte,
        QRCode,
        QRErrorCorrectLevel,
    )

    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(QR8bitByte(content))
    code.make()
    rows: list[list[bool]] = code.modules
    count = len(rows)
    shapes: list[Shape] = []
    for row in range(count):
        begin: int | None = None
        for column in range(count + 1):
            dark = column < count and rows[row][column]
            if dark and begin is None:
                begin = column
            elif not dark and begin is not None:
                shapes.append(_bar(begin + QUIET_MODULES, row + QUIET_MODULES, column - begin))
                begin = None
    return Drawing(count + 2.0 * QUIET_MODULES, count + 2.0 * QUIET_MODULES, tuple(shapes), content)


def _bar(x: float, y: float, width: float) -> Polygon:
    return Polygon(((x, y), (x + width, y), (x + width, y + 1.0), (x, y + 1.0)), None, "ink")
