"""Deviations that look like a known mistake: each within 2 crankshaft degrees is named, inside the limits too.

Six cylinders and two poles: ratio 1.5. Of 30 teeth one is 8 crankshaft degrees, a lag of 33 is 22, an E-gap of 12 is
16 either way.
"""

import pytest

from tests.toml_card import GONE, Changes, result_of, rules_in, sound_card

WIDE: Changes = {"limits.advanced_most": "90", "limits.retarded_most": "90", "limits.apart_most": GONE}


def mistakes(deviation: float, data: Changes, *, when: str = "as left") -> list[str]:
    """The mistakes named for the left magneto, whose light lies so far from 22."""
    row = {"when": when, "from": "compression", "light": f"{(338 - deviation) % 360:.8f}", "click_passed": True}
    if "impulse_lag" not in data:
        del row["click_passed"]
    rows: list[dict[str, object]] = [dict(row)]
    if when == "as found":
        rows.append({**row, "when": "as left", "light": "333"})
    changes = {**WIDE, **{f"left.{key}": value for key, value in data.items()}, "left.approach": rows}
    return [rule for rule in rules_in(result_of(sound_card(), changes), severity="note") if "mistake" in rule]


@pytest.mark.parametrize(
    ("deviation", "data", "named"),
    [
        (-22, {}, ["mistake-tdc-mark"]),
        (-20, {}, ["mistake-tdc-mark"]),
        (-24, {}, ["mistake-tdc-mark"]),
        (-19.99999999, {}, []),
        (-24.00000001, {}, []),
        (22, {}, []),
        (0, {}, []),
        (8, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (-8, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (6, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (5.99999999, {"drive_gear_teeth": 30}, []),
        (10, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (10.00000001, {"drive_gear_teeth": 30}, []),
        (12, {"drive_gear_teeth": 30}, []),
        (16, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (-40, {"drive_gear_teeth": 30}, ["mistake-teeth"]),
        (0, {"drive_gear_teeth": 30}, []),
        # A finer gear: 4 crankshaft degrees a tooth; halfway between two teeth both are named.
        (6, {"drive_gear_teeth": 60}, ["mistake-teeth", "mistake-teeth"]),
        (-6, {"drive_gear_teeth": 60}, ["mistake-teeth", "mistake-teeth"]),
        (7, {"drive_gear_teeth": 60}, ["mistake-teeth"]),
        (2, {"drive_gear_teeth": 60}, ["mistake-teeth"]),
        (1.9, {"drive_gear_teeth": 60}, []),
        # Finer still, 2 crankshaft degrees a tooth: 4 is near one, two and three teeth, nothing near one either way.
        (4, {"drive_gear_teeth": 120}, ["mistake-teeth"] * 3),
        (0, {"drive_gear_teeth": 120}, ["mistake-teeth"] * 2),
        (16, {"e_gap": "12"}, ["mistake-wrong-hand"]),
        (-16, {"e_gap": "12"}, ["mistake-wrong-hand"]),
        (18, {"e_gap": "12"}, ["mistake-wrong-hand"]),
        (14, {"e_gap": "12"}, ["mistake-wrong-hand"]),
        (-18.00000001, {"e_gap": "12"}, []),
        (13.99999999, {"e_gap": "12"}, []),
        (8, {"e_gap": "12"}, []),
        (-15, {"impulse_lag": "22.5"}, ["mistake-lag"]),
        (-17, {"impulse_lag": "22.5"}, ["mistake-lag"]),
        (-13, {"impulse_lag": "22.5"}, ["mistake-lag"]),
        (-12.99999999, {"impulse_lag": "22.5"}, []),
        (15, {"impulse_lag": "22.5"}, []),
        (-15, {"impulse_lag": "15", "impulse_lag_in": "crankshaft"}, ["mistake-lag"]),
        (-10, {"impulse_lag": "15", "impulse_lag_in": "crankshaft"}, []),
        # Every match is named.
        (
            -22,
            {"impulse_lag": "33", "drive_gear_teeth": 30, "e_gap": "16.5"},
            ["mistake-lag", "mistake-tdc-mark", "mistake-teeth", "mistake-wrong-hand"],
        ),
        (-17, {"impulse_lag": "22.5", "e_gap": "12"}, ["mistake-lag", "mistake-wrong-hand"]),
    ],
)
def test_that_every_known_mistake_within_2_degrees_is_named(deviation: float, data: Changes, named: list[str]) -> None:
    assert mistakes(deviation, data) == named


def test_that_a_mistake_is_named_inside_the_limits_too() -> None:
    coupling = {"left.impulse_lag": "3", "left.approach[1].click_passed": True, "left.approach[2].click_passed": True}
    said = result_of(sound_card(), coupling)
    assert (said["left"]["verdict"], said["nothing_stops"]) == ("within", True)
    assert rules_in(said) == ["mistake-lag"]


def test_that_a_mistake_is_named_as_found_too_and_says_when() -> None:
    assert mistakes(-22, {}, when="as found") == ["mistake-tdc-mark"]
    assert mistakes(-19, {}, when="as found") == []
    found = {"when": "as found", "from": "compression", "light": "0"}
    said = result_of(sound_card(), {"left.approach": [found, {"from": "310", "light": "338"}]})
    (finding,) = (finding for finding in said["findings"] if finding["rule"] == "mistake-tdc-mark")
    assert "as found" in finding["sentence"]
    assert finding["where"].startswith("left")


def test_that_an_unestablished_timing_names_no_mistake() -> None:
    said = result_of(sound_card(), {"left.approach": [{"from": "10", "light": "0"}]})
    assert [rule for rule in rules_in(said) if "mistake" in rule] == []


def test_that_the_nominal_of_its_own_side_counts() -> None:
    changes = WIDE | {"limits.right_btdc": "30", "right.approach": [{"from": "310", "light": "0"}]}
    assert [rule for rule in rules_in(result_of(sound_card(), changes), side="right") if "mistake" in rule] == [
        "mistake-tdc-mark"
    ]
    staggered = WIDE | {"limits.right_btdc": "30", "right.approach": [{"from": "310", "light": "352"}]}
    assert "mistake-tdc-mark" not in rules_in(result_of(sound_card(), staggered), side="right")
