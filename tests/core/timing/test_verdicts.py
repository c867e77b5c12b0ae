"""Limits, the guarded rule, and the two magnetos together."""

import pytest

from tests.toml_card import GONE, Changes, marks_card, result_of, rules_in, sound_card


@pytest.mark.parametrize(
    ("light", "verdict"),
    [
        ("338", "within"),
        ("337", "within"),
        ("336.99999999", "advanced"),
        ("336", "advanced"),
        ("340", "within"),
        ("340.00000001", "retarded"),
        ("341", "retarded"),
    ],
)
def test_that_both_limits_are_inclusive_and_each_has_its_own_size(light: str, verdict: str) -> None:
    changes = {"limits.retarded_most": "2", "limits.apart_most": GONE}
    said = result_of(sound_card(), changes | {"left.approach": [{"from": "310", "light": light}]})
    assert said["left"]["verdict"] == verdict
    assert said["nothing_stops"] is (verdict == "within")
    assert rules_in(said, severity="stops") == ([] if verdict == "within" else [verdict])


def test_that_a_limit_of_nothing_allows_nominal_only() -> None:
    none = {"limits.advanced_most": "0", "limits.retarded_most": "0"}
    assert result_of(sound_card(), none)["nothing_stops"] is True
    off = result_of(sound_card(), none | {"left.approach[2].light": "337.99"})
    assert (off["left"]["verdict"], off["right"]["verdict"]) == ("advanced", "within")


@pytest.mark.parametrize(
    ("lights", "limits", "verdict"),
    [
        # Three repeats a degree apart: the standard deviation is 1 exactly, U is 2.
        (("21", "22", "23"), {"advanced_most": "3", "retarded_most": "9"}, "within"),
        (("21", "22", "23"), {"advanced_most": "2.99999999", "retarded_most": "9"}, "too close"),
        (("21", "22", "23"), {"advanced_most": "1", "retarded_most": "9"}, "too close"),
        (("21", "22", "23"), {"advanced_most": "0.99999999", "retarded_most": "9"}, "advanced"),
        (("23", "22", "21"), {"advanced_most": "9", "retarded_most": "3"}, "within"),
        (("23", "22", "21"), {"advanced_most": "9", "retarded_most": "2.99999999"}, "too close"),
        (("23", "22", "21"), {"advanced_most": "9", "retarded_most": "1"}, "too close"),
        (("23", "22", "21"), {"advanced_most": "9", "retarded_most": "0.99999999"}, "retarded"),
        (("23", "21", "22"), {"advanced_most": "2", "retarded_most": "2"}, "within"),
        (("23", "21", "22"), {"advanced_most": "1.9", "retarded_most": "2"}, "too close"),
    ],
)
def test_that_under_the_guarded_rule_a_margin_of_exactly_the_uncertainty_is_within(
    lights: tuple[str, ...], limits: dict[str, str], verdict: str
) -> None:
    rows = [{"from": "50 before", "light": f"{light} before"} for light in lights]
    changes: dict[str, object] = {f"limits.{key}": value for key, value in limits.items()}
    changes["left.approach"] = rows
    said = result_of(marks_card(), changes | {"limits.decision": "guarded"})
    assert (said["left"]["u"], said["left"]["verdict"]) == (1, verdict)
    stops = {"within": [], "too close": ["too-close"]}.get(verdict, [verdict])
    assert rules_in(said, severity="stops") == stops
    simple = result_of(marks_card(), changes | {"limits.decision": "simple"})
    assert simple["left"]["verdict"] == ("within" if verdict == "too close" else verdict)
    assert simple == result_of(marks_card(), changes)


@pytest.mark.parametrize(
    ("changes", "difference", "verdict"),
    [
        ({}, 0, "within"),
        ({"left.approach[2].light": "337.5"}, 0.5, "within"),
        ({"right.approach[2].light": "337.5"}, -0.5, "within"),
        ({"left.approach[2].light": "337.5", "right.approach[2].light": "338.5"}, 1, "within"),
        ({"left.approach[2].light": "337.5", "right.approach[2].light": "338.50000001"}, 1, "outside"),
        ({"right.approach[2].light": "337.5", "left.approach[2].light": "338.5"}, -1, "within"),
        ({"right.approach[2].light": "337.5", "left.approach[2].light": "338.50000001"}, -1, "outside"),
        # Staggered: each is held against its own nominal.
        ({"limits.right_btdc": "20", "right.approach[2].light": "340"}, 0, "within"),
        ({"limits.right_btdc": "20", "right.approach[2].light": "340.5"}, 0.5, "within"),
        ({"left.approach[2].light": "337.5", "limits.apart_most": GONE}, 0.5, None),
        ({"left.approach[2].light": "337.5", "limits.apart_most": "0"}, 0.5, "outside"),
        ({"limits.apart_most": "0"}, 0, "within"),
        ({"left.approach[2].from": "345"}, None, "not established"),
        ({"right.approach[2].from": "345"}, None, "not established"),
    ],
)
def test_that_the_difference_is_left_less_right(
    changes: Changes, difference: float | None, verdict: str | None
) -> None:
    said = result_of(sound_card(), changes)
    assert said["sync"] == {"difference": difference, "verdict": verdict}
    assert ("magnetos-apart" in rules_in(said, severity="stops")) is (verdict == "outside")


def test_that_without_a_limit_an_unestablished_side_leaves_no_difference() -> None:
    said = result_of(sound_card(), {"limits.apart_most": GONE, "left.approach[2].from": "345"})
    assert said["sync"]["difference"] is None


def test_that_magnetos_within_their_limits_may_still_be_too_far_apart() -> None:
    said = result_of(sound_card(), {"left.approach[2].light": "337", "right.approach[2].light": "339"})
    assert (said["left"]["verdict"], said["right"]["verdict"]) == ("within", "within")
    assert rules_in(said, severity="stops") == ["magnetos-apart"]
    assert said["nothing_stops"] is False
