"""The dial as a value: where things stand for whom, what is not known, and laws over random cards."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.usecases.dial import View, dial
from desktop.usecases.dial_face import HEIGHT, RING, WIDTH, X, Y
from desktop.usecases.dial_work import APPROACH, BACKLASH
from reports.drawing import Arc, Arrow, Circle, Drawing, HatchedRing, Line, Point, Words, on_circle
from tests.simulation.cards import Card, geared_card, marks_card, split_card, zeroed_card
from tests.usecases.drawn import (
    assert_reflected,
    assert_sound,
    cards,
    clock,
    clocks_apart,
    extent,
    middle_of,
    texts,
    words_at,
    work,
)

CENTRE = (X, Y)
CAPTIONS = ("as you face the propeller", "as seen from the rear")

# Worked out by hand. TDC is on top. Seen from the rear the crankshaft runs as the data say; whoever faces the
# propeller sees it run the other way.
# - The pointer comes up to TDC in the way of the rotation, so 25 degrees BTDC stands 25 degrees to the side from
#   which it comes: clockwise comes from the left, 360 - 25 = 335; counter-clockwise comes from the right, 25.
# - A disc that counts up reads 30 when the pointer has gone 30 degrees past TDC: to the right of the top (30) when it
#   runs clockwise, to the left (330) when it runs counter-clockwise. One that counts down reads 30 when 30 degrees
#   are still to go: on the side of 25 BTDC.
# columns: rotation seen from the rear, view, counts, 25 BTDC, number 30, way of the arrow (+1 clockwise)
EIGHT_CASES = [
    ("clockwise", View.REAR, "up", 335, 30, +1),
    ("clockwise", View.REAR, "down", 335, 330, +1),
    ("clockwise", View.PROPELLER, "up", 25, 330, -1),
    ("clockwise", View.PROPELLER, "down", 25, 30, -1),
    ("counter-clockwise", View.REAR, "up", 25, 330, -1),
    ("counter-clockwise", View.REAR, "down", 25, 30, -1),
    ("counter-clockwise", View.PROPELLER, "up", 335, 30, +1),
    ("counter-clockwise", View.PROPELLER, "down", 335, 330, +1),
]


def of(card: Card, view: View = View.REAR) -> Drawing:
    return dial(*work(card), view)


def clockwise_card() -> Card:
    """The zeroed card on an engine that runs clockwise as seen from the rear."""
    card = zeroed_card()
    card["engine"]["rotation"] = "clockwise"
    return card


def radius(at: Point) -> float:
    return math.hypot(at[0] - X, at[1] - Y)


def way_to_turn(drawing: Drawing) -> Arc:
    (path,) = (
        shape.path
        for shape in drawing.shapes
        if isinstance(shape, Arrow) and isinstance(shape.path, Arc) and shape.path.radius > RING
    )
    return path


def approaches(drawing: Drawing) -> list[Arc]:
    return [
        shape.path
        for shape in drawing.shapes
        if isinstance(shape, Arrow) and isinstance(shape.path, Arc) and shape.path.radius < RING
    ]


def beginnings(drawing: Drawing) -> list[Circle]:
    return [shape for shape in drawing.shapes if isinstance(shape, Circle) and abs(radius_of(shape) - APPROACH) < 1e-6]


def radius_of(circle: Circle) -> float:
    return radius((circle.x, circle.y))


def rays(drawing: Drawing, outer: float) -> list[Line]:
    """The straight lines whose outer end stands at a radius."""
    lines = [shape for shape in drawing.shapes if isinstance(shape, Line)]
    return [line for line in lines if abs(radius((line.x1, line.y1)) - outer) < 1e-6]


def nominals(drawing: Drawing) -> list[float]:
    return [clock((line.x1, line.y1), CENTRE) for line in rays(drawing, RING + 12)]


def pointers(drawing: Drawing) -> list[Line]:
    return rays(drawing, RING - 1)


def double_arcs(drawing: Drawing) -> list[Arc]:
    return [shape for shape in drawing.shapes if isinstance(shape, Arc) and shape.radius in BACKLASH]


@pytest.mark.parametrize(("rotation", "view", "counts", "before", "thirty", "way"), EIGHT_CASES)
def test_that_the_dial_stands_for_each_place_as_worked_out_by_hand(
    rotation: str, view: View, counts: str, before: float, thirty: float, way: int
) -> None:
    card = zeroed_card()
    card["engine"]["rotation"] = rotation
    card["measure"]["counts"] = counts
    card["limits"]["left_btdc"] = "25"
    del card["left"]["approach"], card["stop"]
    drawing = of(card, view)
    assert clocks_apart(nominals(drawing)[0], before) < 1e-6
    assert clocks_apart(clock(middle_of(words_at(drawing, "30")), CENTRE), thirty) < 0.01
    assert math.copysign(1, way_to_turn(drawing).sweep) == way
    card["left"]["approach"] = [{"from": "335" if counts == "up" else "25", "light": "335" if counts == "up" else "25"}]
    (pointer,) = pointers(of(card, view))
    assert clocks_apart(clock((pointer.x1, pointer.y1), CENTRE), before) < 1e-6


def test_that_a_geared_propeller_is_drawn_in_its_own_degrees_and_its_own_way() -> None:
    # Two propeller turns for three of the crankshaft: 22.5 crankshaft degrees before TDC are 15 on the disc. The
    # spur gear turns the propeller counter-clockwise seen from the rear, so before TDC is to the right. TDC reads 70.
    card = geared_card()
    card["engine"] |= {"rotation": "clockwise", "propeller_rotation": "counter-clockwise"}
    drawing = of(card)
    assert clocks_apart(nominals(drawing)[0], 15) < 1e-6
    assert way_to_turn(drawing).sweep < 0
    assert clocks_apart(clock(middle_of(words_at(drawing, "90")), CENTRE), 360 - 20) < 0.01
    assert "propeller degrees" in texts(drawing)
    # From 40 to the light at 55 the pointer ran 15 disc degrees.
    assert [arc.sweep for arc in approaches(drawing)] == pytest.approx([-15])


def test_that_a_disc_on_the_crankshaft_of_a_geared_engine_runs_as_the_crankshaft() -> None:
    card = clockwise_card()
    card["engine"] |= {"propeller_turns_per_crank_turn": "2/3", "propeller_rotation": "counter-clockwise"}
    card["measure"]["on"] = "crankshaft"
    drawing = of(card)
    assert way_to_turn(drawing).sweep > 0
    assert clocks_apart(nominals(drawing)[0], 338) < 1e-6
    assert "propeller degrees" not in texts(drawing)


def test_that_a_disc_as_it_stood_carries_its_numbers_where_the_pointer_reads_them() -> None:
    # TDC reads 39 (contacts at 0 and 78), counting up, clockwise: the number 90 stands 51 past the top.
    card = clockwise_card()
    card["measure"]["zeroed"] = False
    card["stop"] = [{"with": "0", "against": "78"}]
    card["left"]["approach"] = [{"from": "350", "light": "17"}]
    drawing = of(card)
    assert clocks_apart(clock(middle_of(words_at(drawing, "90")), CENTRE), 51) < 0.01
    assert "nominal 17" in texts(drawing)


def test_that_a_split_disc_is_numbered_to_both_sides_of_zero() -> None:
    card = split_card()
    del card["left"]["approach"]
    said = texts(of(card))
    assert [said.count(number) for number in ("0", "30", "90", "150", "180")] == [1, 2, 2, 2, 1]
    assert "nominal 22 before" in said


def test_that_marks_are_numbered_before_tdc_only() -> None:
    card = marks_card()
    card["engine"]["rotation"] = "clockwise"
    del card["left"]["approach"]
    drawing = of(card)
    assert texts(drawing).count("60") == 1
    assert clocks_apart(clock(middle_of(words_at(drawing, "60")), CENTRE), 300) < 0.01
    assert "TDC" in texts(drawing)


def test_that_the_pointer_carries_its_number_as_typed() -> None:
    card = split_card()
    card["left"]["approach"][0]["light"] = "22,50 before"
    assert words_at(of(card), "22,50 before").bold


def test_that_nothing_but_the_way_to_turn_is_drawn_while_tdc_is_not_known() -> None:
    card = clockwise_card()
    card["measure"]["zeroed"] = False
    del card["stop"]
    drawing = of(card)
    assert texts(drawing) == ["with rotation", "TDC is not known yet", "as seen from the rear"]
    assert not [shape for shape in drawing.shapes if isinstance(shape, Line | HatchedRing)]
    assert way_to_turn(drawing).sweep > 0
    assert "TDC is not known yet." in drawing.says


def test_that_tdc_is_dashed_while_nothing_proves_where_the_disc_was_set() -> None:
    card = clockwise_card()
    assert [line.stroke.dashed for line in rays(of(card), RING + 20)] == [False]
    del card["stop"]
    assert [line.stroke.dashed for line in rays(of(card), RING + 20)] == [True]
    assert "TDC not proved" in texts(of(card))


def test_that_a_moved_disc_leaves_tdc_unproved() -> None:
    card = clockwise_card()
    card["stop"][1] |= {"with": "325"}
    assert "TDC not proved" in texts(of(card))


def test_that_no_pointer_stands_before_the_first_approach() -> None:
    card = clockwise_card()
    del card["left"]["approach"]
    drawing = of(card)
    assert not pointers(drawing)
    assert not approaches(drawing)
    assert not beginnings(drawing)
    assert not double_arcs(drawing)
    assert drawing.says.endswith("No reading yet.")


def test_that_the_approach_runs_from_where_it_began_to_where_the_light_came() -> None:
    # From 310 to 338 on a clockwise engine: 28 degrees clockwise, to 22 before the top.
    drawing = of(clockwise_card())
    (arc,) = approaches(drawing)
    assert (arc.start, arc.sweep) == pytest.approx((-50, 28))
    (circle,) = beginnings(drawing)
    assert (circle.x, circle.y) == pytest.approx(on_circle(X, Y, APPROACH, 310))
    assert not arc.stroke.dashed
    assert not pointers(drawing)[0].stroke.dashed
    assert "The light came at 22° BTDC." in drawing.says


def test_that_an_approach_against_rotation_is_dashed_and_runs_backwards() -> None:
    card = clockwise_card()
    card["left"]["approach"].append({"from": "350", "light": "338"})
    drawing = of(card)
    (arc,) = approaches(drawing)
    assert arc.sweep == pytest.approx(-12)
    assert arc.stroke.dashed
    assert pointers(drawing)[0].stroke.dashed
    assert "does not count" in drawing.says


def test_that_an_approach_without_movement_has_a_beginning_and_no_arrow() -> None:
    card = clockwise_card()
    card["left"]["approach"] = [{"from": "338", "light": "338"}]
    assert beginnings(of(card))
    assert not approaches(of(card))


def test_that_a_setting_after_the_last_reading_is_drawn_and_does_not_count() -> None:
    card = clockwise_card()
    card["left"]["approach"].append({"when": "setting", "from": "310", "light": "340"})
    assert [arc.stroke.dashed for arc in approaches(of(card))] == [True]
    assert "340" in texts(of(card))


def test_that_an_approach_from_compression_has_no_beginning() -> None:
    card = clockwise_card()
    card["left"]["approach"] = [{"from": "compression", "light": "338"}]
    drawing = of(card)
    assert not beginnings(drawing)
    assert [arc.sweep for arc in approaches(drawing)] == pytest.approx([180])


def test_that_backlash_is_a_double_arc_from_the_light_to_where_it_went() -> None:
    # The light at 338, gone again at 336: two degrees against the clock on a clockwise engine.
    arcs = double_arcs(of(clockwise_card()))
    assert [arc.start for arc in arcs] == pytest.approx([-22, -22])
    assert [arc.sweep for arc in arcs] == pytest.approx([-2, -2])


@pytest.mark.parametrize("back", [None, "338"])
def test_that_backlash_that_was_not_measured_or_is_nothing_is_not_drawn(back: str | None) -> None:
    card = clockwise_card()
    card["left"]["approach"] = [{"from": "310", "light": "338"} | ({"back": back} if back else {})]
    assert not double_arcs(of(card))


def test_that_the_window_reaches_from_the_earliest_to_the_latest_allowed() -> None:
    # Nominal 22, three advanced, one retarded: from 25 to 21 before the top of a clockwise engine.
    card = clockwise_card()
    card["limits"] |= {"advanced_most": "3", "retarded_most": "1"}
    (band,) = (shape for shape in of(card).shapes if isinstance(shape, HatchedRing))
    assert (band.start, band.sweep) == pytest.approx((-25, 4))


def test_that_a_window_without_width_is_two_strokes_and_no_hatching() -> None:
    card = clockwise_card()
    card["limits"] |= {"advanced_most": "0", "retarded_most": "0"}
    drawing = of(card)
    assert not [shape for shape in drawing.shapes if isinstance(shape, HatchedRing)]
    assert len(rays(drawing, RING + 9)) == 2


def test_that_each_degree_has_a_tick_near_the_work_and_each_tenth_elsewhere() -> None:
    # Window 23 to 21, so single degrees from 33 to 11 before the top, that is 327 to 349: 23 readings, of which
    # 330 and 340 are tens; and the 36 tens all around.
    ticks = rays(of(clockwise_card()), RING)
    assert len(ticks) == 36 + 23 - 2


@given(cards())
@settings(max_examples=60, deadline=None)
def test_that_the_other_view_is_the_reflected_drawing(card: Card) -> None:
    assert_reflected(of(card, View.PROPELLER), of(card, View.REAR), but=CAPTIONS)


@given(cards(), st.sampled_from(View))
@settings(max_examples=150, deadline=None)
def test_that_all_ink_lies_on_the_sheet_and_no_words_overlap(card: Card, view: View) -> None:
    drawing = of(card, view)
    assert (drawing.width, drawing.height) == (WIDTH, HEIGHT)
    assert_sound(drawing)


@pytest.mark.parametrize("light", ["80.12345678 before", "100.12345678 after"])
def test_that_a_long_number_without_room_at_the_side_stands_near_the_hub(light: str) -> None:
    card = split_card()
    card["limits"]["left_btdc"] = "90"
    card["left"]["approach"] = [{"from": "120 before", "light": light}]
    at = middle_of(words_at(of(card), light))
    assert at[0] == X
    assert abs(at[1] - Y) < 40
    assert abs(middle_of(words_at(of(card), "nominal 90 before"))[1] - Y) < 40


def test_that_a_number_of_the_disc_gives_way_to_the_pointer() -> None:
    card = clockwise_card()
    card["left"]["approach"] = [{"from": "290", "light": "329"}]
    assert "330" not in texts(of(card))
    assert {"300", "0"} <= set(texts(of(card)))


@given(cards(), st.sampled_from(View))
@settings(max_examples=60, deadline=None)
def test_that_pointer_tdc_nominal_and_leaders_cross_no_words(card: Card, view: View) -> None:
    drawing = of(card, view)
    for line in (ray for outer in (RING - 1, RING + 1, RING + 12, RING + 20) for ray in rays(drawing, outer)):
        for part in range(101):
            x, y = line.x1 + (line.x2 - line.x1) * part / 100, line.y1 + (line.y2 - line.y1) * part / 100
            for words in (shape for shape in drawing.shapes if isinstance(shape, Words)):
                left, top, right, bottom = extent(words)
                assert not (left < x < right and top < y < bottom), words


@given(cards(), st.sampled_from(View))
@settings(max_examples=60, deadline=None)
def test_that_nominal_and_reading_never_lack_their_numbers_once_tdc_is_known(card: Card, view: View) -> None:
    worked, result = work(card)
    said = texts(dial(worked, result, view))
    if worked.scale.zero is None:
        return
    assert [text for text in said if text.startswith("nominal ")]
    if result.judged:
        assert card["left"]["approach"][-1]["light"] in said
