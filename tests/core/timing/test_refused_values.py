"""Structure faults: what each key allows, its edge and the first step beyond, and the key's path in the sentence."""

import pytest

from tests.toml_card import GONE, Changes, fault_of, geared_card, marks_card, sound_card, standing_card

TORQUE = {"what": "nut", "required": "60", "unit": "in-lb", "wrench": "10", "extension": "4"}
RUN_UP = {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"}
EXTRA: Changes = {
    "engine.stroke_mm": "98",
    "engine.rod_mm": "160",
    "measure.radius_mm": "75",
    "measure.centring_mm": "0.5",
    "left.impulse_lag": "25",
    "left.approach[1].click_passed": True,
    "run_up": RUN_UP,
    "torque": [TORQUE],
}


def split_card_with(reading: str) -> Changes:
    return {
        "measure.marking": "split",
        "measure.counts": GONE,
        "stop": GONE,
        "left.approach": [{"from": "50 before", "light": reading}],
        "right.approach": GONE,
    }


@pytest.mark.parametrize(
    ("key", "allowed", "refused"),
    [
        ("format", [1], [0, 2, -1]),
        ("engine.cylinders", [], [0, -1, 29, 5, 7]),
        (
            "engine.firing_order",
            [[6, 5, 4, 3, 2, 1]],
            [[], [1], [1, 4, 5, 2, 3], [1, 4, 5, 2, 3, 3], [0, 1, 2, 3, 4, 5]],
        ),
        ("engine.firing_order", [], [[1, 4, 5, 2, 3, 7], [1, 4, 5, 2, 3, 6, 6], [1, 4, 5, 2, 3, -6]]),
        ("engine.reference", [1, 6], [0, 7, -1]),
        ("engine.rotation", ["clockwise", "counter-clockwise"], ["anticlockwise", "Clockwise", "right", ""]),
        ("engine.propeller_rotation", ["clockwise", "counter-clockwise"], ["left", ""]),
        (
            "engine.propeller_turns_per_crank_turn",
            ["1", "2/2", "1,0"],
            ["0", "-1", "0/3", "1/0", "2 / 3", "1/2/3", "a"],
        ),
        ("engine.stroke_mm", ["0.1"], ["0", "-98", "98 mm"]),
        ("engine.rod_mm", ["160"], ["0", "-1"]),
        ("limits.left_btdc", ["0", "22"], ["", "22°", "BTDC"]),
        ("limits.right_btdc", ["22.5"], ["x"]),
        ("limits.advanced_most", ["0", "1"], ["-0.1", "-1"]),
        ("limits.retarded_most", ["0", "1"], ["-0.1"]),
        ("limits.apart_most", ["0", "1"], ["-0.1"]),
        ("limits.decision", ["simple", "guarded"], ["strict", "Simple"]),
        ("measure.by", ["disc"], ["protractor", ""]),
        ("measure.marking", ["full"], ["half"]),
        ("measure.counts", ["up", "down"], ["left"]),
        ("measure.read_to", ["0.1", "0,5", "0.00000001"], ["0", "-0.5", "0.0"]),
        ("measure.on", ["propeller", "crankshaft"], ["flange"]),
        ("measure.centre_by_feel", ["0", "360"], ["360.1", "-1", "40 before"]),
        ("measure.radius_mm", ["75"], ["0", "-75"]),
        ("measure.centring_mm", ["0.1"], ["-0.5"]),
        ("stop[1].with", ["0", "360"], ["360.00000001", "-1", "40 before", ""]),
        ("stop[2].against", ["39"], ["400", "39 after"]),
        ("left.rotation", ["right", "left"], ["clockwise"]),
        ("left.poles", [2, 4, 6, 8], [0, 1, 3, 5, 10, -2]),
        ("left.seen_from", ["back", "drive"], ["front"]),
        ("left.back_off_least", ["0", "10"], ["-1"]),
        ("left.back_off_most", ["0", "40"], ["-1"]),
        ("left.drive_gear_teeth", [1, 30], [0, -30]),
        ("left.slot_degrees", ["20"], ["-20"]),
        ("left.slot_radius_mm", ["38"], ["0", "-38"]),
        ("left.impulse_lag", ["25"], ["-25", "25°"]),
        ("left.impulse_lag_in", ["magneto", "crankshaft"], ["degrees"]),
        ("left.e_gap", ["10"], ["-10"]),
        ("left.approach[1].when", ["as left", "as found", "setting"], ["as-left", "As left", ""]),
        ("left.approach[1].from", ["0", "360", "compression"], ["361", "Compression", ""]),
        ("left.approach[2].light", ["0", "360"], ["361", "compression", "-0.5"]),
        ("right.approach[2].back", ["336"], ["361", "compression"]),
        ("run_up.both_rpm", ["1700"], ["0", "-1700"]),
        ("run_up.left_rpm", ["1700.5"], ["0", "-1"]),
        ("run_up.right_rpm", ["1"], ["0"]),
        ("run_up.drop_most", ["0"], ["-1"]),
        ("run_up.apart_most", ["0"], ["-1"]),
        ("torque[1].unit", ["in-lb", "ft-lb", "N·m"], ["Nm", "in-lbs", "kg"]),
        ("torque[1].required", ["60"], ["-60", "sixty"]),
        ("torque[1].wrench", ["10"], ["0", "-10"]),
        ("torque[1].extension", ["4"], ["0", "-4"]),
        ("torque[1].angle", ["0", "-30", "360"], ["right"]),
    ],
)
def test_that_a_value_outside_what_its_key_allows_is_refused_at_that_key(
    key: str, allowed: list[object], refused: list[object]
) -> None:
    for value in allowed:
        assert fault_of(sound_card(), EXTRA | {key: value}) is None, value
    for value in refused:
        said = fault_of(sound_card(), EXTRA | {key: value})
        assert said is not None, value
        # Cylinders that do not fit the firing order are a fault of the order.
        place = "engine.firing_order" if key == "engine.cylinders" and value in (5, 7) else key
        assert said.startswith(f"{place}:"), said


@pytest.mark.parametrize(
    "written",
    ["1e2", "1E2", "1_0", "nan", "inf", "-inf", "+1", ".5", "5.", "1.123456789", "1234567", "0x10",
     "\uff11\uff12", "\u0661\u0662", "1 ", " 1", "1\n", "1.5.2", "1,5,2", "--1", "1/2", "½", "", "-", "1;5", "1\u00a0"],
)  # fmt: skip
def test_that_a_number_has_one_written_form(written: str) -> None:
    said = fault_of(sound_card(), {"limits.advanced_most": written})
    assert said is not None
    assert said.startswith("limits.advanced_most: expected a number")
    assert "\n" not in said


@pytest.mark.parametrize("written", ["0", "1", "000001", "999999", "0.12345678", "1,5", "999999.99999999"])
def test_that_numbers_of_up_to_six_digits_and_eight_decimals_are_read(written: str) -> None:
    assert fault_of(sound_card(), {"limits.advanced_most": written}) is None


@pytest.mark.parametrize(
    ("reading", "read"),
    [("22 before", True), ("22 after", True), ("0", True), ("180", True), ("180 before", True), ("0 after", True),
     ("22.5 before", True), ("22,5 before", True), ("22", False), ("180.00000001", False), ("181 before", False),
     ("-22 before", False), ("22 Before", False), ("22before", False), ("before", False), ("22 before after", False),
     ("before 22", False), ("22 btdc", False), ("338", False), ("0.5", False), ("", False)],
)  # fmt: skip
def test_that_a_split_reading_has_a_side_unless_it_is_0_or_180(reading: str, read: bool) -> None:
    for said in (
        fault_of(sound_card(), split_card_with(reading)),
        fault_of(marks_card(), {"left.approach": [{"from": "50 before", "light": reading}]}),
    ):
        assert (said is None) is read
        assert said is None or said.startswith("left.approach[1].light: expected")


@pytest.mark.parametrize(
    "key",
    [
        "format",
        "engine",
        "engine.cylinders",
        "engine.firing_order",
        "engine.rotation",
        "limits",
        "limits.left_btdc",
        "limits.right_btdc",
        "limits.advanced_most",
        "limits.retarded_most",
        "measure",
        "measure.by",
        "measure.marking",
        "measure.counts",
        "measure.read_to",
        "measure.on",
        "measure.zeroed",
        "stop[1].with",
        "stop[2].against",
        "left.rotation",
        "left.poles",
        "left.seen_from",
        "left.approach[2].from",
        "right.approach[1].light",
        "run_up.both_rpm",
        "run_up.left_rpm",
        "run_up.right_rpm",
        "run_up.drop_most",
        "run_up.apart_most",
        "torque[1].what",
        "torque[1].required",
        "torque[1].unit",
        "torque[1].wrench",
        "torque[1].extension",
        "engine.stroke_mm",
        "engine.rod_mm",
        "measure.radius_mm",
        "measure.centring_mm",
    ],
)
def test_that_a_key_that_is_needed_is_asked_for(key: str) -> None:
    assert fault_of(sound_card(), EXTRA) is None
    card = sound_card() | {"run_up": dict(RUN_UP), "torque": [dict(TORQUE)]}
    card["engine"] |= {"stroke_mm": "98", "rod_mm": "160"}
    card["measure"] |= {"radius_mm": "75", "centring_mm": "0.5"}
    said = fault_of(card, {key: GONE})
    assert said is not None
    assert said.startswith(f"{key}:")
    assert "expected" in said


@pytest.mark.parametrize(
    "changes",
    [
        {"limits.apart_most": GONE},
        {"left": GONE},
        {"right": GONE, "limits.right_btdc": GONE},
        {"left": GONE, "limits.left_btdc": GONE},
        {"stop": GONE},
        {"left.approach": GONE},
        {"left.approach[1].back": GONE},
        {"magnetos": {}},
        {"magnetos": {"one_housing": True}},
        {"engine.reference": 5},
    ],
)
def test_that_a_key_that_may_be_left_out_is_not_asked_for(changes: Changes) -> None:
    assert fault_of(sound_card(), changes) is None


@pytest.mark.parametrize(
    ("make", "changes", "place"),
    [
        (sound_card, {"left": GONE, "right": GONE}, "left"),
        (sound_card, {"stop": []}, "stop"),
        (sound_card, {"left.approach": []}, "left.approach"),
        (sound_card, {"torque": []}, "torque"),
        (standing_card, {"stop[2].after_zeroing": True}, "stop[2].after_zeroing"),
        (sound_card, {"measure.marking": "split"}, "measure.counts"),
        (marks_card, {"measure.counts": "up"}, "measure.counts"),
        (marks_card, {"measure.marking": "split"}, "measure.marking"),
        (marks_card, {"measure.on": "crankshaft"}, "measure.on"),
        (marks_card, {"measure.zeroed": True}, "measure.zeroed"),
        (marks_card, {"measure.zeroed": False}, "measure.zeroed"),
        (marks_card, {"stop": [{"with": "40 before", "against": "38 after"}]}, "stop"),
        (marks_card, {"stop": []}, "stop"),
        (marks_card, {"measure.radius_mm": "75", "measure.centring_mm": "0.5"}, "measure.radius_mm"),
        (
            sound_card,
            {"measure.by": "gauge", "measure.radius_mm": "75", "measure.centring_mm": "0.5"},
            "measure.radius_mm",
        ),
        (sound_card, {"left.approach[2].click_passed": True}, "left.approach[2].click_passed"),
        (sound_card, {"right.approach[1].snapped": True}, "right.approach[1].snapped"),
        (geared_card, {"measure.centre_by_feel": "30 after"}, "measure.centre_by_feel"),
        (sound_card, {"torque": [TORQUE, TORQUE | {"angle": "180", "extension": "10"}]}, "torque[2].angle"),
        (sound_card, {"torque": [TORQUE | {"angle": "180", "extension": "11"}]}, "torque[1].angle"),
        (sound_card, {"torque": [TORQUE | {"angle": "120", "extension": "20"}]}, "torque[1].angle"),
    ],
)
def test_that_what_has_no_place_on_this_card_is_refused(make: object, changes: Changes, place: str) -> None:
    assert callable(make)
    said = fault_of(make(), changes)
    assert said is not None
    assert said.startswith(f"{place}:"), said


@pytest.mark.parametrize("fastener", [{"angle": "180", "extension": "9.9"}, {"angle": "120", "extension": "19.9"}])
def test_that_an_extension_that_leaves_some_pull_is_read(fastener: dict[str, str]) -> None:
    assert fault_of(sound_card(), {"torque": [TORQUE | fastener]}) is None
