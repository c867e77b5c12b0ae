"""The shape of the result: every key, what is null when, and four decimals."""

import json
import re
from collections.abc import Callable

import pytest

from tests.toml_card import GONE, Card, Changes, geared_card, marks_card, result_of, sound_card, standing_card

MAGNETO = {
    "target_reading",
    "btdc",
    "deviation",
    "verdict",
    "back_off",
    "backlash",
    "u",
    "p_within",
    "as_found",
    "housing",
    "mesh",
    "click_btdc",
}
EVERYTHING: Changes = {
    "left.slot_radius_mm": "38",
    "left.drive_gear_teeth": 30,
    "left.slot_degrees": "20",
    "left.impulse_lag": "25",
    "left.e_gap": "10",
    "left.approach": [
        {"when": "as found", "from": "310", "light": "335", "click_passed": True},
        {"from": "310", "light": "328", "back": "326", "click_passed": True},
    ],
    "run_up": {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"},
    "torque": [{"what": "nut", "required": "60", "unit": "in-lb", "wrench": "10", "extension": "4"}],
}


@pytest.mark.parametrize("make", [sound_card, standing_card, geared_card, marks_card])
def test_that_the_result_has_these_keys_and_no_others(make: Callable[[], Card]) -> None:
    for changes in ({}, {"left.approach": GONE}, {"left.approach[2].from": "compression"}):
        said = result_of(make(), changes)
        assert list(said) == [
            "format",
            "tdc",
            "left",
            "right",
            "sync",
            "firing",
            "run_up",
            "torque",
            "findings",
            "nothing_stops",
        ]
        assert set(said["tdc"]) == {"arc", "half_arc", "disc_setting_against", "disc_setting_with", "reading", "u"}
        for side in ("left", "right"):
            if said[side] is not None:
                assert set(said[side]) == MAGNETO
                assert set(said[side]["housing"]) == {"turn", "direction", "seen_from", "slot_mm"}
        assert said["format"] == 1


def test_that_a_full_card_fills_every_part() -> None:
    said = result_of(sound_card(), EVERYTHING)
    left = said["left"]
    assert set(left["as_found"]) == {"btdc", "deviation", "verdict"}
    assert left["mesh"] == {"teeth": 1, "left_to_turn": 3}
    assert set(said["sync"]) == {"difference", "verdict"}
    assert [set(row) for row in said["firing"]] == [{"cylinder", "electrode", "crank"}] * 6
    assert set(said["run_up"]) == {"left_drop", "right_drop", "difference", "verdict"}
    assert [set(row) for row in said["torque"]] == [{"what", "set", "unit"}]
    assert None not in left.values()


def test_that_what_an_unestablished_timing_leaves_is_null() -> None:
    said = result_of(sound_card(), {**EVERYTHING, "left.approach[2].click_passed": False})
    left = said["left"]
    for key in ("btdc", "deviation", "u", "p_within", "mesh"):
        assert left[key] is None
    assert left["housing"] == {"turn": None, "direction": None, "seen_from": "back", "slot_mm": None}
    assert (left["verdict"], left["target_reading"], left["back_off"], left["backlash"]) == (
        "not established",
        338,
        18,
        2,
    )
    assert left["as_found"] == {"btdc": 25, "deviation": 3, "verdict": "advanced"}
    assert left["click_btdc"] == 5.3333


def test_that_an_absent_magneto_is_null_and_leaves_no_difference() -> None:
    for side, other in (("left", "right"), ("right", "left")):
        said = result_of(sound_card(), {side: GONE})
        assert (said[side], said["sync"]) == (None, None)
        assert said[other]["verdict"] == "within"


def numbers_in(value: object) -> list[float]:
    if isinstance(value, dict):
        return [number for part in value.values() for number in numbers_in(part)]
    if isinstance(value, list):
        return [number for part in value for number in numbers_in(part)]
    return [value] if isinstance(value, float) else []


def test_that_numbers_have_four_decimals_at_most() -> None:
    thirds = {
        **EVERYTHING,
        "left.approach[2].light": "328.12345678",
        "stop[1].with": "0.33333333",
        "engine.cylinders": 7,
        "engine.firing_order": [1, 3, 5, 7, 2, 4, 6],
    }
    said = result_of(sound_card(), thirds)
    numbers = numbers_in({key: part for key, part in said.items() if key != "torque"})
    assert len(numbers) > 15
    assert all(round(number, 4) == number for number in numbers)
    assert (said["left"]["btdc"], said["left"]["deviation"]) == (31.8765, 9.8765)


def test_that_no_number_is_a_negative_nothing() -> None:
    said = result_of(sound_card(), {"left.approach[2].light": "338.00000001", "limits.apart_most": GONE})
    assert (said["left"]["deviation"], said["sync"]["difference"]) == (0, 0)
    assert not re.search(r"-0(\.0+)?[,\s}\]]", json.dumps(said))


def test_that_a_setting_that_rounds_to_a_full_turn_is_said_as_0() -> None:
    changes = {
        "limits.left_btdc": "0.00001",
        "limits.advanced_most": "90",
        "limits.retarded_most": "90",
        "limits.apart_most": GONE,
    }
    assert result_of(sound_card(), changes)["left"]["target_reading"] == 0


def test_that_the_hardest_findings_stand_first() -> None:
    said = result_of(sound_card(), {"stop[2]": GONE, "left.approach[1]": GONE, "right.approach[2].light": "335"})
    severities = [finding["severity"] for finding in said["findings"]]
    assert set(severities) == {"stops", "explain", "note"}
    assert severities == sorted(severities, key=["stops", "explain", "note"].index)
