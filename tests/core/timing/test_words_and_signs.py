"""Signs: before top dead centre is positive, early is positive, and a direct drive speaks of (-180, 180]."""

import pytest

from tests.toml_card import marks_card, result_of, sound_card


def left_with(light: str, began: str, nominal: str = "22") -> dict[str, object]:
    changes = {
        "left.approach": [{"from": began, "light": light}],
        "limits.left_btdc": nominal,
        "limits.advanced_most": "400",
        "limits.retarded_most": "400",
    }
    said: dict[str, object] = result_of(sound_card(), changes)["left"]
    return said


@pytest.mark.parametrize(
    ("light", "began", "btdc"),
    [
        ("338", "310", 22),
        ("0", "340", 0),
        ("360", "340", 0),
        ("5", "340", -5),
        ("359.5", "340", 0.5),
        ("0.5", "340", -0.5),
        ("180", "100", 180),
        ("179.5", "100", -179.5),
        ("180.5", "100", 179.5),
        ("181", "100", 179),
    ],
)
def test_that_degrees_before_top_dead_centre_are_positive_and_those_after_negative(
    light: str, began: str, btdc: float
) -> None:
    assert left_with(light, began)["btdc"] == btdc


@pytest.mark.parametrize(
    ("light", "nominal", "deviation"),
    [("338", "22", 0), ("337", "22", 1), ("339", "22", -1), ("338", "0", 22), ("10", "22", -32)],
)
def test_that_early_is_a_positive_deviation_and_late_a_negative_one(light: str, nominal: str, deviation: float) -> None:
    assert left_with(light, "300", nominal)["deviation"] == deviation


def test_that_a_deviation_is_a_plain_difference_and_is_not_brought_around_the_circle() -> None:
    assert left_with("190", "100", "0")["deviation"] == 170
    assert left_with("170", "100", "170")["deviation"] == -340


def test_that_a_geared_disc_reaches_beyond_half_a_turn_of_the_crankshaft() -> None:
    changes = {
        "measure": {"by": "gauge", "marking": "full", "counts": "up", "read_to": "0.5", "on": "propeller"}
        | {"zeroed": True, "centre_by_feel": "26"},
        "engine.propeller_turns_per_crank_turn": "0.5",
        # Half the arc is 40 crankshaft degrees, 20 of the disc: the long way is 140 of the disc.
        "stop": [{"with": "6", "against": "226"}, {"with": "340", "against": "200", "after_zeroing": True}],
        "left.approach": [{"from": "180", "light": "181"}],
        "right.approach": [{"from": "179.5", "light": "180"}],
    }
    said = result_of(sound_card(), changes)
    assert said["tdc"]["arc"] == 80
    assert said["left"]["btdc"] == 358
    assert said["right"]["btdc"] == 360


def test_that_marks_are_degrees_before_top_dead_centre_themselves() -> None:
    for light, btdc in (("22 before", 22), ("3 after", -3), ("0", 0), ("0.5 before", 0.5)):
        said = result_of(marks_card(), {"left.approach": [{"from": "170 before", "light": light}]})
        assert said["left"]["btdc"] == btdc
    straight = {"left.approach": [{"from": "compression", "light": "180"}]}
    assert result_of(marks_card(), straight)["left"]["btdc"] == 180


@pytest.mark.parametrize(
    ("cylinders", "poles", "lag", "click"),
    [(4, 2, "25", -3), (4, 4, "25", -28), (6, 2, "24", 6), (9, 4, "9", 14), (14, 8, "7", 14), (1, 2, "5", 2)],
)
def test_that_the_ratio_is_cylinders_over_twice_the_poles(cylinders: int, poles: int, lag: str, click: float) -> None:
    changes = {
        "engine.cylinders": cylinders,
        "engine.firing_order": list(range(1, cylinders + 1)),
        "left.poles": poles,
        "left.impulse_lag": lag,
    }
    assert result_of(sound_card(), changes)["left"]["click_btdc"] == click
