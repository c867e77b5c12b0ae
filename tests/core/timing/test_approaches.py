"""What an approach must be to establish a timing, and the rule of each reason for which it does not."""

import pytest

from tests.toml_card import GONE, Changes, result_of, rules_in, sound_card

COUPLING = {"left.impulse_lag": "25"}
ONE = {"left.approach[2]": GONE}


def one_approach(row: Changes, data: Changes | None = None) -> Changes:
    """Changes that leave one approach of the left magneto."""
    magneto = {f"left.{key}": value for key, value in (data or {}).items()}
    return {**magneto, "left.approach": [dict(row)]}


@pytest.mark.parametrize(
    ("row", "data", "stops"),
    [
        ({"from": "310", "light": "338"}, {}, []),
        # 1: with rotation only, and never nothing.
        ({"from": "337.99999999", "light": "338"}, {}, []),
        ({"from": "338", "light": "338"}, {}, ["against-rotation"]),
        ({"from": "339", "light": "338"}, {}, ["against-rotation"]),
        ({"from": "158", "light": "338"}, {}, []),
        ({"from": "157.5", "light": "338"}, {}, ["against-rotation"]),
        ({"from": "compression", "light": "338"}, {}, []),
        # 2: both limits inclusive.
        ({"from": "328", "light": "338"}, {"back_off_least": "10"}, []),
        ({"from": "328.5", "light": "338"}, {"back_off_least": "10"}, ["back-off-least"]),
        ({"from": "298", "light": "338"}, {"back_off_most": "40"}, []),
        ({"from": "297.5", "light": "338"}, {"back_off_most": "40"}, ["back-off-most"]),
        ({"from": "328", "light": "338"}, {"back_off_least": "10", "back_off_most": "10"}, []),
        ({"from": "compression", "light": "338"}, {"back_off_least": "10"}, []),
        ({"from": "compression", "light": "338"}, {"back_off_most": "40"}, ["back-off-most"]),
        ({"from": "compression", "light": "338"}, {"back_off_least": "10", "back_off_most": "359"}, ["back-off-most"]),
        # 3: greater than its own backlash.
        ({"from": "335.5", "light": "338", "back": "336"}, {}, []),
        ({"from": "336", "light": "338", "back": "336"}, {}, ["within-backlash"]),
        ({"from": "337", "light": "338", "back": "336"}, {}, ["within-backlash"]),
        ({"from": "compression", "light": "338", "back": "336"}, {}, []),
        # 4: an impulse coupling.
        ({"from": "310", "light": "338", "click_passed": True}, {"impulse_lag": "25"}, []),
        ({"from": "310", "light": "338", "click_passed": True, "snapped": False}, {"impulse_lag": "25"}, []),
        ({"from": "310", "light": "338"}, {"impulse_lag": "25"}, ["click-not-passed"]),
        ({"from": "310", "light": "338", "click_passed": False}, {"impulse_lag": "25"}, ["click-not-passed"]),
        ({"from": "310", "light": "338", "click_passed": True, "snapped": True}, {"impulse_lag": "25"}, ["snapped"]),
        ({"from": "310", "light": "338", "snapped": True}, {"impulse_lag": "25"}, ["click-not-passed", "snapped"]),
        ({"from": "compression", "light": "338"}, {"impulse_lag": "25"}, ["click-not-passed"]),
        # Several reasons at once are several findings.
        (
            {"from": "336.5", "light": "338", "back": "336"},
            {"back_off_least": "10", "impulse_lag": "25"},
            ["back-off-least", "click-not-passed", "within-backlash"],
        ),
    ],
)
def test_that_each_reason_for_which_the_last_approach_is_void_stops_on_its_own(
    row: Changes, data: Changes, stops: list[str]
) -> None:
    said = result_of(sound_card(), one_approach(row, data))
    assert rules_in(said, severity="stops", side="left") == stops
    assert said["left"]["verdict"] == ("not established" if stops else "within")
    assert said["nothing_stops"] is not bool(stops)
    for finding in said["findings"]:
        if finding["rule"] in stops:
            assert finding["where"].startswith("left.approach[1]")


@pytest.mark.parametrize(
    ("earlier", "began", "established"),
    [
        # The earlier approach knew 2 degrees; the last has none of its own.
        ({"back": "336"}, "336", False),
        ({"back": "336"}, "335.5", True),
        ({"when": "as found", "back": "336"}, "336", False),
        ({"when": "setting", "back": "336"}, "336", False),
        # A void approach knows it too.
        ({"from": "339", "back": "336"}, "336", False),
        # None known: any movement will do.
        ({}, "337.5", True),
    ],
)
def test_that_backlash_known_from_an_earlier_approach_holds_for_a_later_one(
    earlier: Changes, began: str, established: bool
) -> None:
    rows = [{"from": "310", "light": "338"} | dict(earlier), {"from": began, "light": "338"}]
    said = result_of(sound_card(), {"left.approach": rows})
    assert (said["left"]["verdict"] == "within") is established
    assert ("within-backlash" in rules_in(said, severity="stops", side="left")) is not established


def test_that_the_latest_known_backlash_counts_and_its_own_before_it() -> None:
    first, second = {"from": "310", "light": "338", "back": "330"}, {"from": "310", "light": "338", "back": "336"}
    last = {"from": "335.5", "light": "338"}
    assert result_of(sound_card(), {"left.approach": [first, second, last]})["left"]["verdict"] == "within"
    assert result_of(sound_card(), {"left.approach": [second, first, last]})["left"]["verdict"] == "not established"
    own = last | {"back": "337"}
    assert result_of(sound_card(), {"left.approach": [second, first, own]})["left"]["verdict"] == "within"


def test_that_a_later_approach_and_the_other_magneto_teach_no_backlash() -> None:
    early, late = {"from": "336.5", "light": "338"}, {"from": "310", "light": "338", "back": "336"}
    said = result_of(sound_card(), {"left.approach": [early, late]})
    assert "approach-void" not in rules_in(said)
    other = result_of(sound_card(), {"left.approach": [late], "right.approach": [early]})
    assert other["right"]["verdict"] == "within"


@pytest.mark.parametrize(("began", "noted"), [("334", False), ("334.5", True), ("335.5", True), ("310", False)])
def test_that_a_movement_under_twice_the_backlash_is_noted(began: str, noted: bool) -> None:
    row = {"from": began, "light": "338", "back": "336"}
    said = result_of(sound_card(), {"left.approach": [row]})
    assert ("under-twice-backlash" in rules_in(said, severity="note")) is noted
    assert said["left"]["verdict"] == "within"


def test_that_a_declared_direction_has_no_back_off_and_is_noted() -> None:
    said = result_of(sound_card(), {"left.approach[2].from": "compression"})
    assert (said["left"]["back_off"], said["left"]["verdict"], said["left"]["u"]) == (None, "within", 0.2282)
    assert rules_in(said) == ["direction-declared"]


def test_that_nothing_is_established_without_top_dead_centre() -> None:
    said = result_of(sound_card(), {"stop[1].against": "180"})
    for side in ("left", "right"):
        assert rules_in(said, severity="stops", side=side) == ["approach-without-tdc"]
        assert said[side]["btdc"] is None
        assert (said[side]["back_off"], said[side]["backlash"]) == (29, 2)


def test_that_nothing_is_established_once_the_disc_moved() -> None:
    said = result_of(sound_card(), {"stop[2].against": "45"})
    for side in ("left", "right"):
        assert rules_in(said, severity="stops", side=side) == ["approach-disc-moved"]
        assert (said[side]["btdc"], said[side]["back_off"], said[side]["backlash"]) == (None, 29, 2)


@pytest.mark.parametrize("snapped", [True, False])
def test_that_a_snap_is_a_matter_of_the_coupling_of_that_magneto_only(snapped: bool) -> None:
    changes = COUPLING | {
        "left.approach[1].click_passed": True,
        "left.approach[2].click_passed": True,
        "left.approach[2].snapped": snapped,
    }
    said = result_of(sound_card(), changes)
    assert said["left"]["verdict"] == ("not established" if snapped else "within")
    assert said["right"]["verdict"] == "within"


@pytest.mark.parametrize(
    ("back", "severity", "backlash"),
    [
        ("338", None, 0),
        ("338.5", "note", -0.5),
        ("339", "note", -1),
        ("339.00000001", "explain", -1),
        ("340", "explain", -2),
        ("336", None, 2),
    ],
)
def test_that_negative_backlash_is_noted_within_twice_the_scale_and_explained_beyond(
    back: str, severity: str | None, backlash: float
) -> None:
    said = result_of(sound_card(), {"left.approach[2].back": back})
    found = [finding["severity"] for finding in said["findings"] if finding["rule"] == "negative-backlash"]
    assert found == ([severity] if severity else [])
    assert (said["left"]["backlash"], said["left"]["verdict"]) == (backlash, "within")


def test_that_backlash_is_measured_around_the_circle() -> None:
    changes = {"limits.left_btdc": "0", "left.approach": [{"from": "340", "light": "1", "back": "359"}]}
    assert result_of(sound_card(), changes | {"limits.retarded_most": "1"})["left"]["backlash"] == 2
