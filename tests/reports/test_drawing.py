from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops

from reports.document import Picture
from reports.drawing import (
    Arc,
    Arrow,
    Circle,
    Drawing,
    HatchedBox,
    HatchedRing,
    Line,
    Polygon,
    Shape,
    Stroke,
    Words,
    arrow_parts,
    hatch_lines,
    on_circle,
)
from reports.drawn.symbols import ring, tick_box
from reports.page import LEFT
from tests.reports.reading_back import paper, pictures

ANGLES = st.floats(-720.0, 720.0)


@pytest.mark.parametrize(("degrees", "place"), [(0, (5, -5)), (90, (15, 5)), (180, (5, 15)), (270, (-5, 5))])
def test_that_clock_degrees_begin_at_the_top_and_go_with_the_clock(degrees: float, place: tuple[float, float]) -> None:
    assert on_circle(5.0, 5.0, 10.0, degrees) == pytest.approx(place)


@pytest.mark.parametrize(
    "build",
    [
        lambda: Drawing(0.0, 1.0, ()),
        lambda: Drawing(1.0, math.inf, ()),
        lambda: Arc(0.0, 0.0, 0.0, 0.0, 1.0),
        lambda: HatchedBox(0.0, 0.0, 1.0, 1.0, 0.0),
        lambda: HatchedRing(0.0, 0.0, 1.0, 2.0, 0.0, 9.0, math.nan),
    ],
)
def test_that_a_shape_without_a_size_is_refused(build: object) -> None:
    with pytest.raises(ValueError, match=r"numbers? of points above zero"):
        build()  # type: ignore[operator]


@given(ANGLES, st.floats(-350.0, 350.0).filter(lambda sweep: abs(sweep) > 1.0), st.floats(1.0, 30.0))
def test_that_an_arrows_tip_is_the_end_of_its_arc_and_its_shaft_begins_where_the_arc_does(
    start: float, sweep: float, head: float
) -> None:
    shaft, tip = arrow_parts(Arrow(Arc(0.0, 0.0, 50.0, start, sweep), head))
    assert isinstance(shaft, Arc)
    assert shaft.start == start
    assert abs(shaft.sweep) < abs(sweep)
    assert shaft.sweep * sweep >= 0.0
    assert tip.points[0] == pytest.approx(on_circle(0.0, 0.0, 50.0, start + sweep))


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_that_a_straight_arrow_points_along_its_line(x: float, y: float) -> None:
    shaft, head = arrow_parts(Arrow(Line(0.0, 0.0, x, y), 5.0))
    assert isinstance(shaft, Line)
    assert head.points[0] == (x, y)
    length = math.hypot(x, y)
    back = ((head.points[1][0] + head.points[2][0]) / 2.0, (head.points[1][1] + head.points[2][1]) / 2.0)
    assert math.dist(back, (x, y)) == pytest.approx(min(5.0, length), abs=1e-6)
    assert math.hypot(*back) <= length + 1e-6


@given(st.floats(0.0, 360.0), st.floats(-360.0, 360.0), st.floats(0.0, 360.0))
def test_that_hatching_lies_inside_its_ring(start: float, sweep: float, slant: float) -> None:
    lines = hatch_lines(HatchedRing(10.0, 20.0, 30.0, 50.0, start, sweep, 4.0, slant))
    for line in lines:
        for part in (0.001, 0.5, 0.999):
            x, y = line.x1 + (line.x2 - line.x1) * part - 10.0, line.y1 + (line.y2 - line.y1) * part - 20.0
            assert 30.0 - 1e-6 <= math.hypot(x, y) <= 50.0 + 1e-6
            begin = min(start, start + sweep)
            angle = (math.degrees(math.atan2(x, -y)) - begin) % 360.0
            assert angle <= abs(sweep) + 1e-3 or angle >= 360.0 - 1e-3


def test_that_the_hatching_of_a_ring_covers_its_area_at_the_spacing_asked_for() -> None:
    lines = hatch_lines(HatchedRing(0.0, 0.0, 30.0, 50.0, 0.0, 360.0, 2.0, 30.0))
    length = sum(math.dist((line.x1, line.y1), (line.x2, line.y2)) for line in lines)
    assert length * 2.0 == pytest.approx(math.pi * (50.0**2 - 30.0**2), rel=0.02)


@pytest.mark.parametrize("slant", [0.0, 30.0, 45.0, 90.0])
def test_that_the_hatching_of_a_box_covers_its_area_at_the_spacing_asked_for(slant: float) -> None:
    lines = hatch_lines(HatchedBox(3.0, 4.0, 80.0, 40.0, 2.0, slant))
    length = sum(math.dist((line.x1, line.y1), (line.x2, line.y2)) for line in lines)
    assert length * 2.0 == pytest.approx(80.0 * 40.0, rel=0.06)


def painted(*shapes: Shape) -> Image.Image:
    """Give the grey picture of shapes on a square of 100 points, four dots a point."""
    document = paper(Picture(Drawing(100.0, 100.0, shapes), 100.0 / 72 * 25.4, 100.0 / 72 * 25.4))
    (page,) = pictures(document, "a4", 4.0)
    left = round(LEFT * 4)
    above = _content_top()
    return page.crop((left, above, left + 400, above + 400))


def _content_top() -> int:
    mark = Polygon(((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)), None, "ink")
    document = paper(Picture(Drawing(100.0, 100.0, (mark,)), 100.0 / 72 * 25.4, 100.0 / 72 * 25.4))
    (page,) = pictures(document, "a4", 4.0)
    column = page.crop((round(LEFT * 4) + 390, 0, round(LEFT * 4) + 391, page.height))
    dark = [y for y in range(column.height) if column.getpixel((0, y)) == 0]
    return next(y for y in dark if all(y + step in set(dark) for step in range(300)))


def ink_at(picture: Image.Image, x: float, y: float) -> bool:
    near = picture.crop((round(4 * x) - 4, round(4 * y) - 4, round(4 * x) + 4, round(4 * y) + 4))
    return bool(near.getextrema()[0] < 128)  # type: ignore[operator]


def test_that_paper_shows_each_shape_where_the_drawing_puts_it() -> None:
    picture = painted(
        Line(10.0, 90.0, 40.0, 90.0, Stroke("thick")),
        Arc(50.0, 50.0, 40.0, 0.0, 90.0, Stroke("thick")),
        Circle(20.0, 20.0, 8.0, None, "ink"),
        Circle(20.0, 60.0, 10.0, Stroke("medium"), "quiet"),
        Polygon(((60.0, 60.0), (80.0, 60.0), (80.0, 80.0)), Stroke("thin"), "stop"),
        HatchedBox(60.0, 85.0, 30.0, 10.0, 1.0),
        Line(0.0, 99.0, 50.0, 99.0, Stroke("heavy", dashed=True)),
    )
    on = [(20, 90), (50, 10), (90, 50), on_circle(50.0, 50.0, 40.0, 45.0), (20, 20), (20, 60), (75, 65), (75, 90)]
    off = [(10, 50), (50, 90), (50, 50), (65, 75), (70, 98), on_circle(50.0, 50.0, 40.0, 225.0), (5, 80)]
    assert [ink_at(picture, *place) for place in on] == [True] * len(on)
    assert [ink_at(picture, *place) for place in off] == [False] * len(off)


def test_that_words_stand_at_their_anchor() -> None:
    start, middle, end = (painted(Words(50.0, 50.0, "MMMM", 10.0, anchor)) for anchor in ("start", "middle", "end"))
    boxes = [
        ImageChops.invert(picture).point(lambda value: value if value > 80 else 0).getbbox()
        for picture in (start, middle, end)
    ]
    assert all(boxes)
    lefts = [box[0] / 4 for box in boxes if box]
    rights = [box[2] / 4 for box in boxes if box]
    assert lefts[0] == pytest.approx(50.0, abs=1.5)
    assert (lefts[1] + rights[1]) / 2 == pytest.approx(50.0, abs=1.0)
    assert rights[2] == pytest.approx(50.0, abs=1.5)
    assert [box[3] / 4 for box in boxes if box] == pytest.approx([50.0] * 3, abs=0.8)


def test_that_three_rings_and_three_boxes_look_different_without_colour() -> None:
    drawings = [
        ring("closed"),
        ring("half"),
        ring("crossed"),
        *(tick_box(mark) for mark in ("empty", "ticked", "struck")),
    ]
    pictures = [painted(*drawing.shapes) for drawing in drawings]
    for number, one in enumerate(pictures):
        for other in pictures[number + 1 :]:
            difference = ImageChops.difference(one, other).point(lambda value: 255 if value > 128 else 0)
            assert sum(difference.histogram()[255:]) > 200
