"""Run-up drops and torque settings."""

from typing import Any

import pytest

from tests.toml_card import result_of, rules_in, sound_card

RUN_UP = {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"}


@pytest.mark.parametrize(
    ("typed", "drops", "verdict", "stops"),
    [
        ({}, (80, 90, -10), "within", []),
        ({"left_rpm": "1600.5"}, (99.5, 90, 9.5), "within", []),
        ({"left_rpm": "1550", "right_rpm": "1600"}, (150, 100, 50), "within", []),
        ({"left_rpm": "1600", "right_rpm": "1550"}, (100, 150, -50), "within", []),
        ({"left_rpm": "1549", "right_rpm": "1590"}, (151, 110, 41), "outside", ["drop-outside"]),
        ({"left_rpm": "1590", "right_rpm": "1549"}, (110, 151, -41), "outside", ["drop-outside"]),
        ({"left_rpm": "1600", "right_rpm": "1651"}, (100, 49, 51), "outside", ["drops-apart"]),
        ({"left_rpm": "1651", "right_rpm": "1600"}, (49, 100, -51), "outside", ["drops-apart"]),
        ({"left_rpm": "1540", "right_rpm": "1540"}, (160, 160, 0), "outside", ["drop-outside", "drop-outside"]),
        ({"left_rpm": "1700", "right_rpm": "1680"}, (0, 20, -20), "outside", ["no-drop"]),
        ({"left_rpm": "1699", "right_rpm": "1680"}, (1, 20, -19), "within", []),
        ({"left_rpm": "1680", "right_rpm": "1710"}, (20, -10, 30), "outside", ["no-drop"]),
        ({"left_rpm": "1700", "right_rpm": "1700"}, (0, 0, 0), "outside", ["no-drop", "no-drop"]),
        (
            {"left_rpm": "1700", "right_rpm": "1549"},
            (0, 151, -151),
            "outside",
            ["drop-outside", "drops-apart", "no-drop"],
        ),
    ],
)
def test_that_drops_are_held_against_their_limits(
    typed: dict[str, str], drops: tuple[float, float, float], verdict: str, stops: list[str]
) -> None:
    said = result_of(sound_card(), {"run_up": RUN_UP | typed})
    left, right, difference = drops
    assert said["run_up"] == {"left_drop": left, "right_drop": right, "difference": difference, "verdict": verdict}
    assert rules_in(said, severity="stops", side="run_up") == stops
    assert said["nothing_stops"] is not bool(stops)


@pytest.mark.parametrize(
    ("key", "grounded", "switch"), [("left_rpm", "right magneto", "L"), ("right_rpm", "left magneto", "R")]
)
def test_that_no_drop_names_the_other_magneto_as_not_grounded_and_the_danger(
    key: str, grounded: str, switch: str
) -> None:
    said = result_of(sound_card(), {"run_up": RUN_UP | {key: "1700"}})
    (finding,) = (finding for finding in said["findings"] if finding["rule"] == "no-drop")
    assert f"the {grounded} may not be grounded" in finding["sentence"]
    assert f"switch at {switch}" in finding["sentence"]
    assert "kill" in finding["sentence"]


def test_that_a_card_without_run_up_and_torque_says_nothing_of_them() -> None:
    said = result_of(sound_card())
    assert (said["run_up"], said["torque"]) == (None, [])


def torque(**typed: str) -> dict[str, Any]:
    job = {"what": "example nut", "required": "60", "unit": "in-lb", "wrench": "10", "extension": "5"} | typed
    (said,) = result_of(sound_card(), {"torque": [job]})["torque"]
    assert (said["what"], said["unit"]) == (job["what"], job["unit"])
    return dict(said)


@pytest.mark.parametrize(
    ("typed", "setting"),
    [
        ({}, 40),
        ({"angle": "0"}, 40),
        ({"angle": "60"}, 48),
        ({"angle": "90"}, 60),
        ({"angle": "180"}, 120),
        ({"angle": "270"}, 60),
        ({"angle": "-60"}, 48),
        ({"unit": "ft-lb"}, 40),
        ({"unit": "N·m", "required": "17.5", "wrench": "250", "extension": "100"}, 12.5),
    ],
)
def test_that_an_extension_lowers_the_setting_by_its_effective_length(typed: dict[str, str], setting: float) -> None:
    assert torque(**typed)["set"] == pytest.approx(setting, abs=5.1e-5)


def test_that_torques_stand_in_the_order_as_given() -> None:
    jobs = [
        {"what": name, "required": "60", "unit": "in-lb", "wrench": "10", "extension": "5"} for name in ("b", "a", "b")
    ]
    assert [job["what"] for job in result_of(sound_card(), {"torque": jobs})["torque"]] == ["b", "a", "b"]
