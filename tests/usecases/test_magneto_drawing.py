"""The magneto from where the mechanic stands: which way its housing and its rotor turn, and when nothing is drawn."""

import pytest
from hypothesis import given, settings

from desktop.usecases.magneto_drawing import BODY, HEIGHT, STUDS, WIDTH, X, Y, magneto_drawing
from reports.drawing import Arc, Arrow, Circle, Drawing
from tests.simulation.cards import Card, zeroed_card
from tests.usecases.drawn import assert_sound, cards, texts, work

# By hand: a right-hand rotor runs clockwise as seen from the drive end, so counter-clockwise seen from the back.
# Points that open too early (advanced) meet a housing that is turned the way the rotor runs; too late, against it.
# columns: hand, seen from, light (338 is nominal, smaller is earlier), rotor, housing (+1 clockwise)
TURNS = [
    ("right", "drive", "337", +1, +1),
    ("right", "drive", "339", +1, -1),
    ("right", "back", "337", -1, -1),
    ("right", "back", "339", -1, +1),
    ("left", "drive", "337", -1, -1),
    ("left", "drive", "339", -1, +1),
    ("left", "back", "337", +1, +1),
    ("left", "back", "339", +1, -1),
]


def card_of(light: str, **data: object) -> Card:
    """Nominal at 338 on a four-cylinder engine; four poles, so half a magneto turn a crankshaft turn."""
    card = zeroed_card()
    card["left"] |= data | {"approach": [{"from": "310", "light": light}]}
    return card


def of(card: Card) -> Drawing:
    drawing = magneto_drawing(work(card)[1])
    assert drawing is not None
    return drawing


def arrows(drawing: Drawing) -> tuple[list[Arc], list[Arc]]:
    """The arrows inside the body, and those outside it."""
    paths = [shape.path for shape in drawing.shapes if isinstance(shape, Arrow) and isinstance(shape.path, Arc)]
    return [path for path in paths if path.radius < BODY], [path for path in paths if path.radius > STUDS]


@pytest.mark.parametrize(("hand", "end", "light", "rotor", "housing"), TURNS)
def test_that_rotor_and_housing_turn_as_seen_from_where_the_mechanic_stands(
    hand: str, end: str, light: str, rotor: int, housing: int
) -> None:
    drawing = of(card_of(light, rotation=hand, seen_from=end))
    inside, outside = arrows(drawing)
    assert [path.sweep * rotor > 0 for path in inside] == [True]
    assert [path.sweep * housing > 0 for path in outside] == [True]
    assert ("clockwise" if housing > 0 else "counter-clockwise") in drawing.says.replace(".", "").split(" ")
    assert f"seen from the {'drive end' if end == 'drive' else 'back'}" in texts(drawing)


def test_that_the_way_to_turn_is_said_in_degrees_and_at_the_slot() -> None:
    # 1.5 crankshaft degrees are 0.75 of the magneto; 38 mm x 0.75 x pi / 180 = 0.497 mm.
    drawing = of(card_of("336.5", slot_radius_mm="38"))
    assert texts(drawing)[1:3] == ["turn 0.75°", "0.5 mm at the slot"]


def test_that_no_millimetres_are_said_while_the_slot_is_not_known() -> None:
    assert texts(of(card_of("336.5"))) == ["rotor", "turn 0.75°", "seen from the back"]


def test_that_exactly_on_nominal_nothing_is_to_be_turned() -> None:
    drawing = of(card_of("338", slot_radius_mm="38"))
    assert texts(drawing) == ["rotor", "do not turn", "seen from the back"]
    assert arrows(drawing)[1] == []


def test_that_a_turn_beyond_the_slots_sends_to_the_mesh() -> None:
    # 20 crankshaft degrees are 10 of the magneto; half of the slot is 5, and a tooth of 30 is 12.
    drawing = of(card_of("318", drive_gear_teeth=30, slot_degrees="10"))
    assert texts(drawing)[1:3] == ["10° is too far to turn", "move the mesh first"]


def test_that_two_slots_hold_two_studs_in_their_middles() -> None:
    studs = [(one.x, one.y) for one in of(card_of("337")).shapes if isinstance(one, Circle) and one.fill == "line"]
    (left, right) = sorted(studs)
    assert left == pytest.approx((X - STUDS, Y))
    assert right == pytest.approx((X + STUDS, Y))


@pytest.mark.parametrize(("degrees", "half"), [(None, 12), ("20", 10), ("2", 5), ("90", 25)])
def test_that_a_slot_is_as_long_as_the_data_say_within_what_can_be_drawn(degrees: str | None, half: float) -> None:
    data = {} if degrees is None else {"slot_degrees": degrees}
    edges = [one for one in of(card_of("337", **data)).shapes if isinstance(one, Arc) and one.radius == STUDS + 4]
    assert [edge.sweep for edge in edges] == pytest.approx([2 * half, 2 * half])


def test_that_nothing_is_drawn_while_the_deviation_is_not_known() -> None:
    card = zeroed_card()
    del card["left"]["approach"]
    assert magneto_drawing(work(card)[1]) is None


def test_that_nothing_is_drawn_where_the_other_side_turns_the_housing() -> None:
    # Both breakers in one housing; the right one opens first, so the housing is turned by the right side.
    card = card_of("338")
    card["right"] = card["left"] | {"approach": [{"from": "310", "light": "337"}]}
    card["limits"]["right_btdc"] = "22"
    card["magnetos"] = {"one_housing": True}
    worked, left = work(card)
    assert magneto_drawing(left) is None
    assert worked.right is not None
    assert magneto_drawing(worked.right) is not None


@given(cards())
@settings(max_examples=150, deadline=None)
def test_that_all_ink_lies_on_the_sheet_and_no_words_overlap(card: Card) -> None:
    drawing = magneto_drawing(work(card)[1])
    if drawing is not None:
        assert (drawing.width, drawing.height) == (WIDTH, HEIGHT)
        assert_sound(drawing)
