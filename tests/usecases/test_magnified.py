"""The magnified six degrees as a value: its sense, what it leaves out, and laws over random cards."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.usecases.dial import View
from desktop.usecases.magnified import DEGREE, HEIGHT, REACH, WIDTH, X, Y, magnified
from reports.drawing import Arrow, Drawing, HatchedBox, Line, Polygon
from tests.simulation.cards import Card, geared_card, zeroed_card
from tests.usecases.drawn import (
    assert_reflected,
    assert_sound,
    cards,
    middle_of,
    texts,
    words_at,
    work,
)

# By hand: at the top of the dial a pointer that runs clockwise moves to the right. It has not yet passed the earlier
# degrees' side, the left: so 23 stands left of 22. Seen from the other end all is the other way round.
SENSES = [
    ("clockwise", View.REAR, +1),
    ("clockwise", View.PROPELLER, -1),
    ("counter-clockwise", View.REAR, -1),
    ("counter-clockwise", View.PROPELLER, +1),
]


def of(card: Card, view: View = View.REAR) -> Drawing:
    return magnified(*work(card), view)


def clockwise_card(light: str = "338", back: str | None = "336", began: str = "310") -> Card:
    """The zeroed card on an engine that runs clockwise as seen from the rear, nominal 22."""
    card = zeroed_card()
    card["engine"]["rotation"] = "clockwise"
    card["left"]["approach"] = [{"from": began, "light": light} | ({"back": back} if back else {})]
    return card


def arrows(drawing: Drawing) -> list[Line]:
    return [shape.path for shape in drawing.shapes if isinstance(shape, Arrow) and isinstance(shape.path, Line)]


def markers(drawing: Drawing) -> list[Polygon]:
    return [shape for shape in drawing.shapes if isinstance(shape, Polygon)]


def lines_at(drawing: Drawing, y: float) -> list[Line]:
    """The level lines at a height, right end last."""
    lines = [shape for shape in drawing.shapes if isinstance(shape, Line)]
    return [line for line in lines if line.y1 == line.y2 == y]


@pytest.mark.parametrize(("rotation", "view", "way"), SENSES)
def test_that_movement_with_rotation_runs_as_on_top_of_the_dial(rotation: str, view: View, way: int) -> None:
    card = clockwise_card(back=None)
    card["engine"]["rotation"] = rotation
    drawing = of(card, view)
    assert middle_of(words_at(drawing, "23"))[0] == pytest.approx(X - way * DEGREE)
    (arrow,) = arrows(drawing)
    assert (arrow.x2 - arrow.x1) * way > 0
    assert (arrow.x2 - X) * way > 0


def test_that_a_geared_propeller_gives_the_sense_and_the_crankshaft_the_degrees() -> None:
    card = geared_card()
    card["engine"] |= {"rotation": "clockwise", "propeller_rotation": "counter-clockwise"}
    drawing = of(card)
    assert middle_of(words_at(drawing, "23"))[0] == pytest.approx(X + DEGREE / 2)
    assert "22.5 nominal" in texts(drawing)


def test_that_the_scale_has_a_stroke_each_half_degree_and_a_number_each_degree() -> None:
    drawing = of(clockwise_card(back=None))
    down = [line for line in drawing.shapes if isinstance(line, Line) and line.x1 == line.x2 and line.y1 == Y]
    assert len(down) == 2 * 2 * REACH + 1
    assert {"19", "20", "21", "22", "23", "24", "25"} <= set(texts(drawing))


def test_that_the_reading_is_marked_where_it_lies() -> None:
    # 336.5 is 23.5 before: a degree and a half before nominal, to the left.
    drawing = of(clockwise_card("336.5", None))
    (marker,) = markers(drawing)
    assert marker.points[0] == pytest.approx((X - 1.5 * DEGREE, Y))
    number = words_at(drawing, "23.5")
    assert number.bold
    assert middle_of(number)[0] < X - 1.5 * DEGREE
    assert "The light came at 23.5 degrees BTDC, left magneto." in drawing.says


@pytest.mark.parametrize(("light", "side"), [("334", -1), ("342", +1)])
def test_that_a_reading_beyond_the_scale_is_an_arrow_at_its_end_with_the_number(light: str, side: int) -> None:
    drawing = of(clockwise_card(light, None))
    assert not markers(drawing)
    (arrow,) = (path for path in arrows(drawing) if path.stroke.role == "act")
    assert (arrow.x2 - arrow.x1) * side > 0
    assert (arrow.x2 - X) * side > REACH * DEGREE
    assert str(360 - int(light)) in texts(drawing)


def test_that_a_reading_at_the_very_end_is_marked_there() -> None:
    assert markers(of(clockwise_card("341", None)))[0].points[0][0] == pytest.approx(X + REACH * DEGREE)


def test_that_a_reading_that_does_not_count_is_not_drawn() -> None:
    drawing = of(clockwise_card(began="350"))
    assert not markers(drawing)
    assert [path.stroke.role for path in arrows(drawing)] == ["ink"]
    assert not [text for text in texts(drawing) if "backlash" in text]
    assert "22 nominal" in texts(drawing)


def test_that_backlash_is_a_double_line_from_the_light_with_its_number() -> None:
    # The light at 22 before, gone again at 24: to the left of nominal.
    drawing = of(clockwise_card())
    for y in (75.0, 77.5):
        (line,) = lines_at(drawing, y)
        assert (line.x1, line.x2) == pytest.approx((X - 2 * DEGREE, X))
    assert middle_of(words_at(drawing, "backlash 2°"))[0] == pytest.approx(X - DEGREE)


def test_that_backlash_ends_open_where_the_scale_ends() -> None:
    drawing = of(clockwise_card("336", "330"))
    (line,) = lines_at(drawing, 75.0)
    assert (line.x1, line.x2) == pytest.approx((X - REACH * DEGREE, X - 2 * DEGREE))
    ends = [one for one in drawing.shapes if isinstance(one, Line) and one.x1 == one.x2 and one.y1 == 73.0]
    assert [end.x1 for end in ends] == pytest.approx([X - 2 * DEGREE])
    assert "backlash 6°" in texts(drawing)


@pytest.mark.parametrize(("light", "back"), [("334", "332"), ("338", "338"), ("338", None)])
def test_that_backlash_beyond_the_scale_or_of_nothing_is_not_drawn(light: str, back: str | None) -> None:
    assert not [text for text in texts(of(clockwise_card(light, back))) if "backlash" in text]


def test_that_the_window_is_hatched_between_its_limits() -> None:
    card = clockwise_card()
    card["limits"] |= {"advanced_most": "2", "retarded_most": "0.5"}
    (window,) = (shape for shape in of(card).shapes if isinstance(shape, HatchedBox))
    assert (window.x, window.x + window.width) == pytest.approx((X - 2 * DEGREE, X + DEGREE / 2))


def test_that_a_window_wider_than_the_scale_is_cut_and_has_no_end_there() -> None:
    card = clockwise_card()
    card["limits"] |= {"advanced_most": "5", "retarded_most": "1"}
    drawing = of(card)
    (window,) = (shape for shape in drawing.shapes if isinstance(shape, HatchedBox))
    assert window.x == pytest.approx(X - REACH * DEGREE)
    ends = [one for one in drawing.shapes if isinstance(one, Line) and one.x1 == one.x2 and one.stroke.role == "good"]
    assert [end.x1 for end in ends] == pytest.approx([X + DEGREE])


def test_that_a_window_without_width_is_a_stroke() -> None:
    card = clockwise_card()
    card["limits"] |= {"advanced_most": "0", "retarded_most": "0"}
    drawing = of(card)
    assert not [shape for shape in drawing.shapes if isinstance(shape, HatchedBox)]
    assert [one for one in drawing.shapes if isinstance(one, Line) and one.stroke.role == "good"]


@given(cards())
@settings(max_examples=60, deadline=None)
def test_that_the_other_view_is_the_reflected_drawing(card: Card) -> None:
    assert_reflected(of(card, View.PROPELLER), of(card, View.REAR), but=("", ""))


@given(cards(), st.sampled_from(View))
@settings(max_examples=150, deadline=None)
def test_that_all_ink_lies_on_the_sheet_and_no_words_overlap(card: Card, view: View) -> None:
    drawing = of(card, view)
    assert (drawing.width, drawing.height) == (WIDTH, HEIGHT)
    assert_sound(drawing)


@given(st.integers(-40, 40), st.integers(-40, 40), st.sampled_from(View))
@settings(max_examples=80, deadline=None)
def test_that_words_keep_apart_wherever_reading_and_backlash_lie(tenths: int, play: int, view: View) -> None:
    light = 338 - tenths / 10
    card = clockwise_card(f"{light:.1f}", f"{light - play / 10:.1f}")
    drawing = of(card, view)
    assert_sound(drawing)
    assert f"{360 - light:.1f}".removesuffix(".0") in texts(drawing)


def found_card(light: str) -> Card:
    """The card of which only one approach as found was taken; nominal 22 lies at 338."""
    card = clockwise_card(light, str(int(light) - 2))
    card["left"]["approach"][0]["when"] = "as found"
    return card


def test_that_the_scale_reaches_a_reading_as_found_that_lies_beyond_it() -> None:
    drawing = of(found_card("344"))
    # By hand: 16 BTDC is 6 retarded; 7 degrees to each side on 240 points are 120 / 7 points a degree, to the right.
    (marker,) = markers(drawing)
    assert marker.points[0][0] == pytest.approx(X + 6 * 120 / 7, abs=0.01)
    assert {"15", "16", "22", "29"} <= set(texts(drawing))
    assert "The light came at 16 degrees BTDC, left magneto." in drawing.says
    assert_sound(drawing)


def test_that_a_reading_as_found_near_nominal_leaves_the_scale_as_it_is() -> None:
    near = of(found_card("339"))
    (marker,) = markers(near)
    assert marker.points[0][0] == pytest.approx(X + DEGREE, abs=0.01)
    assert {"19", "25"} <= set(texts(near))


def test_that_far_readings_as_found_have_a_number_each_few_degrees_only() -> None:
    drawing = of(found_card("19"))
    numbers = [text for text in texts(drawing) if text.lstrip("-").isdigit()]
    assert len(numbers) < 20
    assert_sound(drawing)
    with_left = found_card("344")
    with_left["left"]["approach"].append({"from": "310", "light": "338", "back": "336"})
    (marker,) = markers(of(with_left))
    assert marker.points[0][0] == pytest.approx(X, abs=0.01)


def test_that_a_setting_after_it_takes_a_reading_as_found_off_the_scale() -> None:
    card = found_card("344")
    card["left"]["approach"].append({"when": "setting", "from": "310", "light": "338", "back": "336"})
    assert markers(of(card)) == []
