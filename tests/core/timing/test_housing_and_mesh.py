"""What to turn and how far: the housing, one housing with two breakers, the mesh, and the coupling's click."""

import math
from typing import Any

import pytest

from tests.toml_card import GONE, Changes, result_of, rules_in, sound_card

WIDE: Changes = {"limits.advanced_most": "90", "limits.retarded_most": "90", "limits.apart_most": GONE}


def left_at(light: str, changes: Changes | None = None) -> dict[str, Any]:
    """The left magneto, ratio 1.5 unless changed, with its light at a place of the zeroed disc."""
    said: dict[str, Any] = result_of(
        sound_card(), {**WIDE, **(changes or {}), "left.approach": [{"from": "compression", "light": light}]}
    )["left"]
    return said


@pytest.mark.parametrize(
    ("hand", "seen_from", "rotor"),
    [
        ("right", "drive", "clockwise"),
        ("right", "back", "counter-clockwise"),
        ("left", "drive", "counter-clockwise"),
        ("left", "back", "clockwise"),
    ],
)
def test_that_an_advanced_housing_goes_the_way_the_rotor_turns_and_a_retarded_one_against_it(
    hand: str, seen_from: str, rotor: str
) -> None:
    against = "clockwise" if rotor == "counter-clockwise" else "counter-clockwise"
    plate = {"left.rotation": hand, "left.seen_from": seen_from}
    for light, direction, turn in (
        ("336", rotor, 3),
        ("340", against, 3),
        ("338", "none", 0),
        ("338.01", against, 0.015),
    ):
        housing = left_at(light, plate)["housing"]
        assert housing == {"turn": turn, "direction": direction, "seen_from": seen_from, "slot_mm": None}


def test_that_the_housing_is_advised_inside_the_limits_too() -> None:
    said = result_of(sound_card(), {"left.approach[2].light": "337.5"})
    assert said["left"]["housing"] == {
        "turn": 0.75,
        "direction": "counter-clockwise",
        "seen_from": "back",
        "slot_mm": None,
    }


def test_that_the_least_deviation_still_has_a_direction() -> None:
    housing = left_at("338.00000001")["housing"]
    assert (housing["turn"], housing["direction"]) == (0, "clockwise")


@pytest.mark.parametrize(("poles", "turn"), [(2, 3), (4, 1.5), (6, 1), (8, 0.75)])
def test_that_the_turn_is_the_deviation_in_magneto_degrees(poles: int, turn: float) -> None:
    assert left_at("336", {"left.poles": poles})["housing"]["turn"] == turn


def test_that_the_slot_is_the_radius_times_the_angle() -> None:
    housing = left_at("336", {"left.slot_radius_mm": "38"})["housing"]
    assert housing["slot_mm"] == pytest.approx(38 * math.radians(3), abs=5.1e-5)
    assert left_at("340", {"left.slot_radius_mm": "38"})["housing"]["slot_mm"] == housing["slot_mm"]
    assert left_at("338", {"left.slot_radius_mm": "38"})["housing"]["slot_mm"] == 0


def test_that_an_unestablished_timing_gives_no_advice() -> None:
    changes = {"left.slot_radius_mm": "38", "left.drive_gear_teeth": 30, "left.approach[2].from": "345"}
    left = result_of(sound_card(), changes)["left"]
    assert left["housing"] == {"turn": None, "direction": None, "seen_from": "back", "slot_mm": None}
    assert (left["mesh"], left["u"], left["p_within"], left["deviation"]) == (None, None, None, None)


@pytest.mark.parametrize(
    ("left", "right", "by"),
    [
        ("337.5", "338", "left"),
        ("338", "337.5", "right"),
        ("338", "338", "left"),
        ("337.5", "337.5", "left"),
        # Signed: the one late by less opens first.
        ("338.5", "339", "left"),
        ("339", "338.5", "right"),
        ("337", "339", "left"),
        ("339", "337", "right"),
    ],
)
def test_that_one_housing_is_turned_by_the_side_that_opens_first(left: str, right: str, by: str) -> None:
    changes = WIDE | {
        "magnetos": {"one_housing": True},
        "left.approach[2].light": left,
        "right.approach[2].light": right,
    }
    said = result_of(sound_card(), changes)
    other = "right" if by == "left" else "left"
    assert said[other]["housing"] is None
    deviation = 338 - float(left if by == "left" else right)
    assert said[by]["housing"]["turn"] == abs(deviation) * 1.5
    assert ("one-housing-difference" in rules_in(said, severity="note")) is (left != right)


def test_that_one_housing_compares_deviations_and_not_degrees() -> None:
    changes = WIDE | {
        "magnetos": {"one_housing": True},
        "limits.right_btdc": "20",
        "right.approach[2].light": "339.5",
    }
    said = result_of(sound_card(), changes)
    assert (said["left"]["housing"], said["right"]["housing"]["turn"]) == (None, 0.75)


def test_that_two_housings_say_nothing_about_a_difference_inside_one() -> None:
    cards: tuple[Changes, ...] = ({}, {"magnetos": {"one_housing": False}}, {"magnetos": {}})
    for changes in cards:
        said = result_of(sound_card(), {**changes, "left.approach[2].light": "337.5"})
        assert "one-housing-difference" not in rules_in(said)
        assert None not in (said["left"]["housing"], said["right"]["housing"])


@pytest.mark.parametrize(("void", "known"), [("left", "right"), ("right", "left")])
def test_that_one_housing_with_one_side_established_is_advised_by_that_side(void: str, known: str) -> None:
    changes = {
        "magnetos": {"one_housing": True},
        f"{void}.approach[2].from": "345",
        f"{known}.approach[2].light": "337.5",
    }
    said = result_of(sound_card(), changes)
    assert said[known]["housing"]["turn"] == 0.75
    assert (said[void]["housing"] or {"turn": None})["turn"] is None


def test_that_one_housing_with_one_magneto_on_the_card_is_advised_by_that_one() -> None:
    card = sound_card()
    del card["right"]
    said = result_of(card, {"magnetos": {"one_housing": True}, "left.approach[2].light": "337.5"})
    assert said["left"]["housing"]["turn"] == 0.75


@pytest.mark.parametrize(
    ("light", "data", "mesh"),
    [
        # Ratio 1.5, 30 teeth: a tooth is 12 magneto degrees. Half of the slot is 10.
        ("331.5", {"slot_degrees": "20"}, None),
        ("331", {"slot_degrees": "20"}, (1, -1.5)),
        ("345", {"slot_degrees": "20"}, (-1, 1.5)),
        ("344.5", {"slot_degrees": "20"}, None),
        # The turn needed is half of the slot exactly: the slot reaches.
        ("330", {"slot_degrees": "24"}, None),
        ("329.9", {"slot_degrees": "24"}, (1, 0.15)),
        # The slot is unknown: more than half a tooth.
        ("334", {}, None),
        ("333.9", {}, (1, -5.85)),
        ("342", {}, None),
        ("342.1", {}, (-1, 5.85)),
        # Half a tooth exactly rounds away from 0; so do one and a half.
        ("334", {"slot_degrees": "10"}, (1, -6)),
        ("342", {"slot_degrees": "10"}, (-1, 6)),
        ("326", {}, (2, -6)),
        ("350", {}, (-2, 6)),
        ("326.1", {}, (1, 5.85)),
        # Less than half a tooth is no tooth.
        ("336", {"slot_degrees": "4"}, None),
        ("334.1", {"slot_degrees": "4"}, None),
        # Without the gear nothing can be said.
        ("300", {"drive_gear_teeth": GONE}, None),
        ("300", {"drive_gear_teeth": GONE, "slot_degrees": "4"}, None),
        ("338", {}, None),
        ("322", {}, (2, 0)),
    ],
)
def test_that_the_mesh_moves_when_the_slots_do_not_reach(
    light: str, data: dict[str, object], mesh: tuple[int, float] | None
) -> None:
    changes: dict[str, object] = {"left.drive_gear_teeth": 30}
    for key, value in data.items():
        changes[f"left.{key}"] = value
    if changes["left.drive_gear_teeth"] is GONE:
        del changes["left.drive_gear_teeth"]
    said = left_at(light, changes)["mesh"]
    assert said == (None if mesh is None else {"teeth": mesh[0], "left_to_turn": mesh[1]})


def test_that_advice_on_the_mesh_follows_the_ratio() -> None:
    # Four cylinders, four poles: 0.5. Of 24 teeth one is 15 magneto degrees, 30 of the crankshaft.
    changes = {
        "engine.cylinders": 4,
        "engine.firing_order": [1, 3, 2, 4],
        "left.poles": 4,
        "left.drive_gear_teeth": 24,
    }
    assert left_at("316", changes)["mesh"] == {"teeth": 1, "left_to_turn": -4}
    assert left_at("323", changes)["mesh"] is None


@pytest.mark.parametrize(
    ("coupling", "click"),
    [
        ({}, None),
        ({"left.impulse_lag": "25"}, 5.3333),
        ({"left.impulse_lag": "25", "left.impulse_lag_in": "magneto"}, 5.3333),
        ({"left.impulse_lag": "25", "left.impulse_lag_in": "crankshaft"}, -3),
        ({"left.impulse_lag": "33"}, 0),
    ],
)
def test_that_a_coupling_clicks_late_by_its_lag(coupling: Changes, click: float | None) -> None:
    said = result_of(sound_card(), coupling)
    assert (said["left"]["click_btdc"], said["right"]["click_btdc"]) == (click, None)
