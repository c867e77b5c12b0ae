"""The ignition leads as a drawing of the engine: at each cylinder its two plugs, each with its magneto and electrode.

A lead of the left magneto is a circle with L, one of the right magneto a square with R: shape and word, so that a
black-and-white print loses nothing.

Radial engines are drawn as they are numbered: clockwise as seen from the rear, No. 1 at the top; of two rows the odd
numbers stand in the rear row, the even ones in the front row (FAA-H-8083-32B p. 1-16). The numbering of opposed engines
is not standard (FAA-H-8083-32B p. 1-15): they are drawn in two rows, odd and even, and the drawing says that it shows
no places.
"""

import math
from collections.abc import Iterator, Mapping

from desktop.core.shop.sheets.sheet_choices import Configuration
from desktop.core.shop.sheets.sheet_fit import Lead
from desktop.core.timing.readings import Side
from reports.drawing import Circle, Drawing, Line, Polygon, Shape, Stroke, Words, on_circle

_WIDTH = 440.0
_ROW, _BOX = 66.0, 150.0
_MARK = 9.5
_HUB = 34.0
_RINGS = ((9, 118.0), (14, 165.0), (28, 205.0))  # up to so many cylinders, the ring's radius in points
_BLOCK, _ASIDE = 64.0, 0.3  # width of a cylinder's leads; from this sine on they stand beside the ring, not over it
_SMALL = 9.0
_LETTERS = {Side.LEFT: "L", Side.RIGHT: "R"}
_TWO_ROWS = 9  # a single row has an odd number of cylinders, at most nine

Fired = Mapping[int, tuple[Lead, ...]]


def leads_drawing(leads: tuple[Lead, ...], configuration: str | None) -> Drawing | None:
    """Return the engine with its leads, 440 points wide or more; None without leads."""
    if not leads:
        return None
    cylinders = sorted({lead.cylinder for lead in leads})
    fired = {number: tuple(lead for lead in leads if lead.cylinder == number) for number in cylinders}
    says = "Ignition leads: " + "; ".join(
        f"{lead.side} magneto, electrode {lead.electrode}, cylinder {lead.cylinder} {lead.plug}".strip()
        for lead in leads
    )
    if configuration == Configuration.RADIAL:
        side = 2.0 * (_ring(len(cylinders)) + 46.0)
        width, height = max(_WIDTH, side + _BLOCK), side + 30.0
        return Drawing(width, height, (*_radial(fired, cylinders, width, side), *_key(height)), says)
    rows = (len(cylinders) + 1) // 2
    height = rows * _ROW + 74.0
    return Drawing(_WIDTH, height, (*_opposed(fired, cylinders), *_key(height)), says)


def _opposed(fired: Fired, cylinders: list[int]) -> Iterator[Shape]:
    """Draw two rows beside the crankcase: odd numbers at the right, even ones at the left."""
    middle, top = _WIDTH / 2.0, 18.0
    rows = (len(cylinders) + 1) // 2
    bottom = top + rows * _ROW
    yield _box(middle - 16.0, top, 32.0, bottom - top, Stroke("medium"))
    for place, cylinder in enumerate(cylinders):
        row, is_right = place // 2, place % 2 == 0
        y = top + row * _ROW + 6.0
        left = middle + 16.0 if is_right else middle - 16.0 - _BOX
        yield _box(left, y, _BOX, _ROW - 12.0, Stroke("thin"))
        number_x = left + (20.0 if is_right else _BOX - 20.0)
        yield Words(number_x, y + 34.0, str(cylinder), 20.0, "middle", bold=True)
        for at, lead in enumerate(fired[cylinder]):
            x = left + (48.0 if is_right else 14.0)
            yield from _lead(lead, x, y + 15.0 + at * 24.0)


def _radial(fired: Fired, cylinders: list[int], width: float, height: float) -> Iterator[Shape]:
    """Draw the cylinders in a ring as seen from the rear, No. 1 at the top."""
    x, y = width / 2.0, height / 2.0
    yield Circle(x, y, _HUB, Stroke("medium"))
    yield Words(x, y - 2.0, "seen from", _SMALL, "middle")
    yield Words(x, y + 9.0, "the rear", _SMALL, "middle")
    count = len(cylinders)
    radius = _ring(count)
    for place, cylinder in enumerate(cylinders):
        angle = 360.0 * place / count
        is_front = count > _TWO_ROWS and cylinder % 2 == 0
        middle = radius - (58.0 if is_front else 26.0)
        yield Line(*on_circle(x, y, _HUB, angle), *on_circle(x, y, middle - 14.0, angle), Stroke("medium"))
        cx, cy = on_circle(x, y, middle, angle)
        yield Circle(cx, cy, 14.0, Stroke("medium", dashed=is_front))
        yield Words(cx, cy + 4.4, str(cylinder), 13.0, "middle", bold=True)
        across, up = math.sin(math.radians(angle)), math.cos(math.radians(angle))
        lx, ly = on_circle(x, y, radius + 16.0 * abs(up), angle)
        left = lx if across > _ASIDE else lx - _BLOCK if across < -_ASIDE else lx - _BLOCK / 2.0
        for at, lead in enumerate(fired[cylinder]):
            yield from _lead(lead, left + _MARK, ly - 11.0 + at * 22.0)


def _ring(count: int) -> float:
    """Return the radius at which the leads of so many cylinders stand beside each other."""
    return next((radius for most, radius in _RINGS if count <= most), _RINGS[-1][1])


def _lead(lead: Lead, x: float, y: float) -> Iterator[Shape]:
    """Draw one lead: its shape with the electrode's number, its letter and its plug behind."""
    if lead.side is Side.LEFT:
        yield Circle(x, y, _MARK, Stroke("medium"))
    else:
        yield _box(x - _MARK + 0.5, y - _MARK + 0.5, 2 * _MARK - 1.0, 2 * _MARK - 1.0, Stroke("medium"))
    yield Words(x, y + 3.2, str(lead.electrode), _SMALL, "middle", bold=True)
    yield Words(x + 14.0, y + 3.2, f"{_LETTERS[lead.side]} {lead.plug}".strip(), _SMALL)


def _key(height: float) -> Iterator[Shape]:
    y = height - 14.0
    yield Circle(16.0, y, _MARK, Stroke("medium"))
    yield Words(16.0, y + 3.2, "1", _SMALL, "middle", bold=True)
    yield Words(30.0, y + 3.2, "L: electrode of the left magneto", _SMALL)
    yield _box(226.0 - _MARK, y - _MARK, 2 * _MARK, 2 * _MARK, Stroke("medium"))
    yield Words(226.0, y + 3.2, "1", _SMALL, "middle", bold=True)
    yield Words(240.0, y + 3.2, "R: electrode of the right magneto", _SMALL)


def _box(x: float, y: float, width: float, height: float, stroke: Stroke) -> Polygon:
    return Polygon(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), stroke)
