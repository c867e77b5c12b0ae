"""The vocabulary of drawings: frozen values that a painter for the screen and a painter for paper both understand.

Units are points (1/72 inch) before scaling. x grows to the right, **y grows downwards**, the origin is the drawing's
upper left corner. Angles are **clock degrees**: 0 is straight up, 90 is to the right, and a positive sweep goes
clockwise. The position at angle a and radius r around (x, y) is (x + r sin a, y - r cos a); `on_circle` gives it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Mapping

Role: TypeAlias = Literal["ink", "quiet", "line", "act", "good", "ask", "stop"]
Weight: TypeAlias = Literal["fine", "thin", "medium", "thick", "heavy"]
Anchor: TypeAlias = Literal["start", "middle", "end"]
Point: TypeAlias = tuple[float, float]

STROKE_POINTS: Mapping[Weight, float] = {"fine": 0.4, "thin": 0.7, "medium": 1.1, "thick": 1.8, "heavy": 3.0}
DASH_POINTS: tuple[float, float] = (2.0, 2.0)

CAP_HEIGHT = 0.668  # of the type size; words whose baseline is lowered by half of it stand on their middle
ARROW_HALF_WIDTH = 0.38  # of the head's length

_NOTHING = 1e-9  # shorter lines and flatter crossings are rounding, not geometry


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn; the width in points stands in `STROKE_POINTS` and is not scaled with the drawing."""

    weight: Weight = "thin"
    role: Role = "ink"
    dashed: bool = False


THIN = Stroke()


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from (x1, y1) to (x2, y2)."""

    x1: float
    y1: float
    x2: float
    y2: float
    stroke: Stroke = THIN


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle from clock angle `start` over `sweep` degrees, clockwise when positive."""

    x: float
    y: float
    radius: float
    start: float
    sweep: float
    stroke: Stroke = THIN

    def __post_init__(self) -> None:
        """Refuse a circle without a size."""
        if not (math.isfinite(self.radius) and self.radius > 0):
            raise ValueError("an arc's radius is a number of points above zero")


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle, with a stroke, a solid fill, or both."""

    x: float
    y: float
    radius: float
    stroke: Stroke | None = THIN
    fill: Role | None = None


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline, with a stroke, a solid fill, or both."""

    points: tuple[Point, ...]
    stroke: Stroke | None = THIN
    fill: Role | None = None


@dataclass(frozen=True, slots=True)
class Arrow:
    """A line or an arc with a filled head, `head` points long, whose tip is the end of the path."""

    path: Line | Arc
    head: float = 7.0


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text. (x, y) lies on the baseline at the anchor; `size` in points is scaled with the drawing.

    `code` sets the words in the face for codes.
    """

    x: float
    y: float
    text: str
    size: float = 9.0
    anchor: Anchor = "start"
    bold: bool = False
    role: Role = "ink"
    code: bool = False


@dataclass(frozen=True, slots=True)
class HatchedRing:
    """Parallel lines inside the part of a ring between two radii, over `sweep` clock degrees from `start`.

    `slant` is the clock angle of the lines, `spacing` their distance in points.
    """

    x: float
    y: float
    inner: float
    outer: float
    start: float
    sweep: float
    spacing: float = 3.0
    slant: float = 45.0
    stroke: Stroke = Stroke("fine")

    def __post_init__(self) -> None:
        """Refuse lines without a distance."""
        _refuse_no_spacing(self.spacing)


@dataclass(frozen=True, slots=True)
class HatchedBox:
    """Parallel lines inside a rectangle with its upper left corner at (x, y)."""

    x: float
    y: float
    width: float
    height: float
    spacing: float = 3.0
    slant: float = 45.0
    stroke: Stroke = Stroke("fine")

    def __post_init__(self) -> None:
        """Refuse lines without a distance."""
        _refuse_no_spacing(self.spacing)


Shape: TypeAlias = Line | Arc | Circle | Polygon | Arrow | Words | HatchedRing | HatchedBox


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes on a sheet of `width` by `height` points, painted in the order given. `says` is the drawing in words."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    says: str = ""

    def __post_init__(self) -> None:
        """Refuse a sheet without a size."""
        if not all(math.isfinite(side) and side > 0 for side in (self.width, self.height)):
            raise ValueError("a drawing's sides are numbers of points above zero")


def on_circle(x: float, y: float, radius: float, degrees: float) -> Point:
    """Give the position at a clock angle on a circle around (x, y)."""
    turn = math.radians(degrees)
    return x + radius * math.sin(turn), y - radius * math.cos(turn)


def arrow_parts(arrow: Arrow) -> tuple[Line | Arc, Polygon]:
    """Give the shaft, shortened so that it does not blunt the tip, and the filled head."""
    path, head = arrow.path, arrow.head
    if isinstance(path, Line):
        length = math.hypot(path.x2 - path.x1, path.y2 - path.y1)
        size = min(head, length)
        back = 1.0 - (0.8 * size / length if length else 0.0)
        neck = (path.x1 + (path.x2 - path.x1) * back, path.y1 + (path.y2 - path.y1) * back)
        way = math.atan2(path.x2 - path.x1, -(path.y2 - path.y1))
        shaft: Line | Arc = Line(path.x1, path.y1, neck[0], neck[1], path.stroke)
        return shaft, _head((path.x2, path.y2), way, size, path.stroke.role)
    sign = math.copysign(1.0, path.sweep)
    taken = min(abs(path.sweep), math.degrees(head / path.radius))
    tip = on_circle(path.x, path.y, path.radius, path.start + path.sweep)
    # The head lies on the chord of the piece of arc that it covers, so it sits on the arc and not beside it.
    middle = path.start + path.sweep - sign * taken / 2.0
    way = math.radians(middle + sign * 90.0)
    size = 2.0 * path.radius * math.sin(math.radians(taken) / 2.0)
    shaft = Arc(path.x, path.y, path.radius, path.start, path.sweep - sign * 0.8 * taken, path.stroke)
    return shaft, _head(tip, way, size, path.stroke.role)


def hatch_lines(hatch: HatchedRing | HatchedBox) -> tuple[Line, ...]:
    """Give the lines of a hatching, each cut where it leaves the hatched area."""
    if isinstance(hatch, HatchedBox):
        corners = [(hatch.x + w, hatch.y + h) for w in (0.0, hatch.width) for h in (0.0, hatch.height)]
    else:
        reach = hatch.outer
        corners = [(hatch.x + w, hatch.y + h) for w in (-reach, reach) for h in (-reach, reach)]
    slant = math.radians(hatch.slant)
    along = (math.sin(slant), -math.cos(slant))
    across = (-along[1], along[0])
    offsets = [x * across[0] + y * across[1] for x, y in corners]
    first = math.ceil(min(offsets) / hatch.spacing)
    last = math.floor(max(offsets) / hatch.spacing)
    lines: list[Line] = []
    for number in range(first, last + 1):
        offset = number * hatch.spacing
        foot = (across[0] * offset, across[1] * offset)
        lines.extend(_cut(foot, along, hatch))
    return tuple(lines)


def _refuse_no_spacing(spacing: float) -> None:
    if not (math.isfinite(spacing) and spacing > 0):
        raise ValueError("the distance of hatching lines is a number of points above zero")


def _head(tip: Point, way: float, size: float, role: Role) -> Polygon:
    back = (tip[0] - size * math.sin(way), tip[1] + size * math.cos(way))
    side = (size * ARROW_HALF_WIDTH * math.cos(way), size * ARROW_HALF_WIDTH * math.sin(way))
    left = (back[0] + side[0], back[1] + side[1])
    right = (back[0] - side[0], back[1] - side[1])
    return Polygon((tip, left, right), None, role)


def _cut(foot: Point, along: Point, hatch: HatchedRing | HatchedBox) -> list[Line]:
    crossings = sorted(
        _box_crossings(foot, along, hatch) if isinstance(hatch, HatchedBox) else _ring_crossings(foot, along, hatch)
    )
    lines: list[Line] = []
    for begin, end in pairwise(crossings):
        middle = _at(foot, along, (begin + end) / 2.0)
        if end - begin > _NOTHING and _is_inside(middle, hatch):
            lines.append(Line(*_at(foot, along, begin), *_at(foot, along, end), hatch.stroke))
    return lines


def _at(foot: Point, along: Point, distance: float) -> Point:
    return foot[0] + along[0] * distance, foot[1] + along[1] * distance


def _box_crossings(foot: Point, along: Point, box: HatchedBox) -> list[float]:
    found: list[float] = []
    for axis, edges in ((0, (box.x, box.x + box.width)), (1, (box.y, box.y + box.height))):
        if abs(along[axis]) > _NOTHING:
            found.extend((edge - foot[axis]) / along[axis] for edge in edges)
    return found


def _ring_crossings(foot: Point, along: Point, ring: HatchedRing) -> list[float]:
    away = (foot[0] - ring.x, foot[1] - ring.y)
    half = away[0] * along[0] + away[1] * along[1]
    found: list[float] = []
    for radius in (ring.inner, ring.outer):
        under = half * half - (away[0] ** 2 + away[1] ** 2 - radius * radius)
        if under > 0:
            found.extend((-half - math.sqrt(under), -half + math.sqrt(under)))
    for angle in (ring.start, ring.start + ring.sweep):
        edge = on_circle(0.0, 0.0, 1.0, angle)
        slope = along[0] * edge[1] - along[1] * edge[0]
        if abs(slope) > _NOTHING:
            found.append(-(away[0] * edge[1] - away[1] * edge[0]) / slope)
    return found


def _is_inside(point: Point, hatch: HatchedRing | HatchedBox) -> bool:
    if isinstance(hatch, HatchedBox):
        return hatch.x <= point[0] <= hatch.x + hatch.width and hatch.y <= point[1] <= hatch.y + hatch.height
    away = (point[0] - hatch.x, point[1] - hatch.y)
    if not hatch.inner <= math.hypot(*away) <= hatch.outer:
        return False
    angle = math.degrees(math.atan2(away[0], -away[1]))
    begin = hatch.start if hatch.sweep >= 0 else hatch.start + hatch.sweep
    return (angle - begin) % 360.0 <= abs(hatch.sweep)
