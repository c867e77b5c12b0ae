"""Looking at drawings in tests: random cards, boxes of words by the shipped faces, the ink's points, clock places."""

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any

from hypothesis import strategies as st

from desktop.assembly import rulebook
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.files.readings import read_readings
from desktop.usecases.check_readings import check_readings
from reports.drawing import (
    CAP_HEIGHT,
    Arc,
    Arrow,
    Circle,
    Drawing,
    HatchedBox,
    HatchedRing,
    Line,
    Point,
    Polygon,
    Shape,
    Words,
    arrow_parts,
    on_circle,
)
from reports.fonts import register_fonts
from reports.text import width_of
from tests.simulation.cards import (
    Card,
    as_text,
    direct_card,
    geared_card,
    marks_card,
    split_card,
    zeroed_card,
)

RULEBOOK = rulebook()
ASCENT, DESCENT = 0.74, 0.21  # of the type size: what letters of the shipped face reach above and below the baseline
Extent = tuple[float, float, float, float]


def work(card: Card) -> tuple[Worked, MagnetoResult]:
    """A card worked out, and its left magneto."""
    worked = check_readings(read_readings(as_text(card).encode()), RULEBOOK).worked
    assert worked.left is not None
    return worked, worked.left


def texts(drawing: Drawing) -> list[str]:
    """All words of a drawing."""
    return [shape.text for shape in drawing.shapes if isinstance(shape, Words)]


def words_at(drawing: Drawing, text: str) -> Words:
    """The one place where a text stands."""
    (found,) = (shape for shape in drawing.shapes if isinstance(shape, Words) and shape.text == text)
    return found


def middle_of(words: Words) -> Point:
    """The middle of words that are set around their x."""
    assert words.anchor == "middle"
    return words.x, words.y - CAP_HEIGHT * words.size / 2


def clock(at: Point, centre: Point) -> float:
    """A point's clock degrees around a centre, in [0, 360)."""
    return math.degrees(math.atan2(at[0] - centre[0], centre[1] - at[1])) % 360


def clocks_apart(one: float, other: float) -> float:
    """The degrees between two clock places."""
    return abs((one - other + 180) % 360 - 180)


def points(shape: Shape) -> Iterator[Point]:  # noqa: C901, PLR0912 - one short case a kind of shape
    """Points that bound a shape's ink, always in the same order."""
    match shape:
        case Line():
            yield from ((shape.x1, shape.y1), (shape.x2, shape.y2))
        case Arc():
            for part in range(61):
                yield on_circle(shape.x, shape.y, shape.radius, shape.start + shape.sweep * part / 60)
        case Circle():
            for way in ((0, 1), (0, -1)):
                yield shape.x + way[0] * shape.radius, shape.y + way[1] * shape.radius
            for reach in (-1, 1):
                yield shape.x + reach * shape.radius, shape.y
        case Polygon():
            yield from shape.points
        case Arrow():
            for part_shape in arrow_parts(shape):
                yield from points(part_shape)
        case HatchedRing():
            for radius in (shape.inner, shape.outer):
                yield from points(Arc(shape.x, shape.y, radius, shape.start, shape.sweep))
        case HatchedBox():
            for x in (shape.x, shape.x + shape.width):
                yield from ((x, shape.y), (x, shape.y + shape.height))
        case Words():
            left, top, right, bottom = extent(shape)
            yield from ((left, top), (right, bottom))


def extent(words: Words) -> Extent:
    """Left, top, right and bottom of words in the shipped face."""
    register_fonts()
    width = width_of(words.text, words.size, bold=words.bold)
    left = words.x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    return left, words.y - ASCENT * words.size, left + width, words.y + DESCENT * words.size


def assert_sound(drawing: Drawing) -> None:
    """All ink lies on the sheet, no words overlap, and words have one of the two sizes."""
    for shape in drawing.shapes:
        for x, y in points(shape):
            assert -1e-6 <= x <= drawing.width + 1e-6, shape
            assert -1e-6 <= y <= drawing.height + 1e-6, shape
    words = [shape for shape in drawing.shapes if isinstance(shape, Words)]
    assert {one.size for one in words} <= {9.0, 11.0}
    for one, other in combinations(words, 2):
        assert not _overlap(extent(one), extent(other)), (one.text, other.text)


def assert_reflected(drawing: Drawing, other: Drawing, *, but: tuple[str, str]) -> None:
    """One drawing is the other seen in a mirror; the captions named differ in their text only."""
    for one, seen in zip(drawing.shapes, other.shapes, strict=True):
        assert type(one) is type(seen)
        if isinstance(one, Words) and isinstance(seen, Words):
            assert (one.text, seen.text) == but or one.text == seen.text
            assert abs(middle_of(one)[0] + middle_of(seen)[0] - drawing.width) < 1e-6
            assert one.y == seen.y
            continue
        places = sorted((round(drawing.width - x, 5), round(y, 5)) for x, y in points(one))
        for (x, y), (seen_x, seen_y) in zip(
            places, sorted((round(x, 5), round(y, 5)) for x, y in points(seen)), strict=True
        ):
            assert math.hypot(x - seen_x, y - seen_y) < 1e-3


def _overlap(one: Extent, other: Extent) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


FULL, LONG_FULL = (st.decimals(0, 360, places=places).map("{:f}".format) for places in (1, 8))
SIDES = st.sampled_from(("before", "after"))
SPLIT, LONG_SPLIT = (st.builds("{:f} {}".format, st.decimals(0, 180, places=places), SIDES) for places in (1, 8))
NOMINALS = st.one_of(st.decimals(0, 45, places=1), st.decimals(0, 180, places=1), st.decimals(0, 999999, places=4))
LIMITS = st.one_of(st.decimals(0, 5, places=1), st.decimals(0, 999999, places=2)).map(str)


@st.composite
def cards(draw: st.DrawFn) -> Card:
    """Any way of measuring, any nominal and limits, approaches that mean something or nothing."""
    card = draw(st.sampled_from((direct_card, zeroed_card, split_card, marks_card, geared_card)))()
    rotations = st.sampled_from(("clockwise", "counter-clockwise"))
    card["engine"] |= {"rotation": draw(rotations), "propeller_rotation": draw(rotations)}
    card["limits"] |= {"advanced_most": draw(LIMITS), "retarded_most": draw(LIMITS)}
    card["limits"]["left_btdc"] = str(draw(NOMINALS))
    full = card["measure"].get("marking") == "full"
    if full:
        card["measure"]["counts"] = draw(st.sampled_from(("up", "down")))
    card["left"] = _magneto(draw, card["left"], full=full)
    return card


def _magneto(draw: st.DrawFn, magneto: dict[str, Any], *, full: bool) -> dict[str, Any]:
    common, long = (FULL, LONG_FULL) if full else (SPLIT, LONG_SPLIT)
    reading = st.one_of(common, common, long)
    taken = draw(st.integers(0, 2))
    approaches = [
        {"from": draw(st.one_of(reading, st.just("compression"))), "light": draw(reading), "back": draw(reading)}
        for _ in range(taken)
    ]
    rest = {key: value for key, value in magneto.items() if key not in ("approach", "impulse_lag", "impulse_lag_in")}
    return rest | ({"approach": approaches} if approaches else {})
