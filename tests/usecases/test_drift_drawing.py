"""The drift drawing: signs at their hours and deviations, limits with words, and a forecast only where one is known."""

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import TypeAlias

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.core.shop.orders.visits import History, MagnetoVisit, history_of
from desktop.core.timing.readings import Decision, Limits
from desktop.usecases.drift_axes import BOTTOM, LEFT, RIGHT, TOP
from desktop.usecases.drift_drawing import drift_drawing, drift_words
from reports.drawing import Circle, Drawing, HatchedBox, Line, Polygon
from tests.core.shop.orders.test_visits import at
from tests.usecases.drawn import assert_sound, texts

Row: TypeAlias = tuple[int, str | None, str | None]
DRIFTS: list[Row] = [(10, None, "0"), (110, "-0.5", "0.5"), (210, "0", "0")]


def history(rows: list[Row], limits: tuple[str, str] = ("1", "1.5")) -> History:
    most = Limits(Fraction(limits[0]), Fraction(limits[1]), None, Decision.SIMPLE)
    return history_of("S-11", [replace(at(*row), order=place, limits=most) for place, row in enumerate(rows, 1)])


def drawn(rows: list[Row], limits: tuple[str, str] = ("1", "1.5")) -> Drawing:
    drawing = drift_drawing(history(rows, limits))
    assert drawing is not None
    return drawing


def signs(drawing: Drawing, kind: type[Circle] | type[Polygon]) -> list[tuple[float, float]]:
    """The middles of a kind of sign inside the plot; the legend stands below it."""
    found = []
    for shape in drawing.shapes:
        if isinstance(shape, kind):
            x, y = (shape.x, shape.y) if isinstance(shape, Circle) else _middle(shape)
            if y < BOTTOM:
                found.append((x, y))
    return found


def _middle(shape: Polygon) -> tuple[float, float]:
    return sum(x for x, _ in shape.points) / 4, sum(y for _, y in shape.points) / 4


def dashed(drawing: Drawing) -> list[Line]:
    return [one for one in drawing.shapes if isinstance(one, Line) and one.stroke.dashed and one.y1 < BOTTOM]


def test_that_as_found_and_as_left_are_two_shapes_at_their_hours_and_deviations() -> None:
    drawing = drawn(DRIFTS)
    found, left = signs(drawing, Circle), signs(drawing, Polygon)
    assert (len(found), len(left)) == (2, 3)
    assert [x for x, _ in left][1:] == pytest.approx([x for x, _ in found])
    first, second, third = (x for x, _ in left)
    assert second - first == pytest.approx(third - second)
    nominal = left[0][1]
    assert found[0][1] - nominal == pytest.approx(nominal - left[1][1])
    assert found[0][1] > nominal > left[1][1]


def test_that_the_limits_are_lines_with_words_and_the_window_is_hatched_between_them() -> None:
    drawing = drawn(DRIFTS)
    lines = sorted(one.y1 for one in drawing.shapes if isinstance(one, Line) and one.stroke.role == "good")
    [band] = [one for one in drawing.shapes if isinstance(one, HatchedBox) and one.y < BOTTOM]
    assert (band.y, band.y + band.height) == pytest.approx((lines[0], lines[1]))
    assert {"limit 1°", "limit 1.5°", "advanced", "retarded", "within limits"} <= set(texts(drawing))
    nominal = signs(drawing, Polygon)[0][1]
    assert (lines[1] - nominal) / (nominal - lines[0]) == pytest.approx(1.5)


def test_that_the_forecast_is_dashed_from_the_last_as_left_to_the_limit_and_named() -> None:
    # By hand: 0 to -0.5 and 0.5 to 0 are -1 in 200 hours; left at 0 the late limit of 1.5 is 300 hours away.
    drawing = drawn(DRIFTS)
    [line] = dashed(drawing)
    assert (line.x1, line.y1) == pytest.approx(signs(drawing, Polygon)[-1])
    limit = max(one.y1 for one in drawing.shapes if isinstance(one, Line) and one.stroke.role == "good")
    assert line.y2 == pytest.approx(limit)
    hour = (signs(drawing, Polygon)[1][0] - signs(drawing, Polygon)[0][0]) / 100
    assert line.x2 - line.x1 == pytest.approx(300 * hour)
    assert {"forecast", "forecast, not an interval"} <= set(texts(drawing))
    assert "Forecast, not an interval: at the limit of 1.5° retarded about 300 hours after" in drawing.says


def test_that_a_far_forecast_runs_off_the_picture_and_is_said_in_words() -> None:
    drawing = drawn([(0, None, "0"), (100, "0.01", "0")])
    [line] = dashed(drawing)
    assert line.x2 == pytest.approx(RIGHT)
    assert "at the limit of 1° advanced about 10000 hours" in drawing.says


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([(0, None, "0"), (100, "0", "0")], "Steady: what was found is what was left the time before."),
        ([(0, None, "0"), (100, "-2", "-1.5")], "It was left at the limit of 1.5° retarded, or beyond"),
        ([(0, "0", None), (100, "1", "0")], "No drift is known"),
    ],
)
def test_that_nothing_is_forecast_where_nothing_can_be(rows: list[Row], words: str) -> None:
    drawing = drawn(rows)
    assert dashed(drawing) == []
    assert not any("forecast" in text for text in texts(drawing))
    assert words in drawing.says


@pytest.mark.parametrize(
    ("left", "words"),
    [("-0.996", "less than 1 hour after"), ("-0.99", "about 1 hour after"), ("-0.9", "about 10 hours after")],
)
def test_that_the_hours_of_a_forecast_are_never_rounded_up(left: str, words: str) -> None:
    assert words in drift_words(history([(0, None, "0"), (100, "-1", left)], ("1", "1")))


def test_that_one_visit_gives_no_picture() -> None:
    assert drift_drawing(history([(10, "0", "0")])) is None
    assert drift_drawing(history_of("S-11", ())) is None
    assert drift_words(history_of("S-11", ())).startswith("No drift is known")


def test_that_limits_without_width_are_one_line() -> None:
    drawing = drawn([(0, None, "0"), (100, "0", "0")], ("0", "0"))
    assert [one for one in drawing.shapes if isinstance(one, HatchedBox) and one.y < BOTTOM] == []
    assert_sound(drawing)


DEVIATION = st.one_of(st.none(), st.decimals(-12, 12, places=1).map(str))


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 9000), DEVIATION, DEVIATION), min_size=2, max_size=6),
    st.tuples(*(st.decimals(0, 9, places=2).map(str) for _ in range(2))),
)
def test_that_all_ink_is_on_the_sheet_and_no_words_overlap(rows: list[Row], limits: tuple[str, str]) -> None:
    known: list[MagnetoVisit] = []
    most = Limits(Fraction(limits[0]), Fraction(limits[1]), None, Decision.SIMPLE)
    for place, (hours, found, left) in enumerate(sorted(rows, key=lambda row: row[0]), 1):
        if found is not None or left is not None:
            known.append(replace(at(hours, found, left), order=place, on=date(2030, 1, place), limits=most))
    drawing = drift_drawing(history_of("S-11", known))
    if drawing is None:
        assert len(known) < 2
        return
    assert_sound(drawing)
    for kind in (Circle, Polygon):
        for x, y in signs(drawing, kind):
            assert LEFT <= x <= RIGHT
            assert TOP <= y <= BOTTOM
