"""Torque wrenches with extensions: printed examples, and settings that a right angle leaves alone."""

import pytest

from tests.authorities.known import GENERAL, Known
from tests.toml_card import result_of, sound_card

ARMY = "TM 1-1500-204-23-9, near figs. 8-15 to 8-17"
EXAMPLES = [
    ("300", "in-lb", "10", "4", "0", Known(214.2857, ARMY + ", printed as 214", 5e-5)),
    ("300", "in-lb", "10", "4", "180", Known(500, "the same, pointing backwards; computed")),
    ("70", "in-lb", "12", "2", "0", Known(60, "TM 9-254 fig. 4-5")),
    ("40", "ft-lb", "12", "4", "0", Known(30, "TM 9-2350-277-40&P")),
    ("19", "ft-lb", "22", "3", "0", Known(16.72, "TM 5-3805-274-13&P, WP 0051, inputs; exact value computed", 1e-4)),
    ("100", "in-lb", "12", "6", "0", Known(66.67, "NAVEDTRA 14315 fig. 3-45, inputs; exact value computed", 5e-3)),
    ("100", "in-lb", "12", "6", "60", Known(80, "TM 9-254 fig. 4-6, sign computed: 12 + 6 cos 60 = 15")),
    ("100", "in-lb", "12", "6", "90", Known(100, "NAVEDTRA 14008 ch. 2")),
]
# Oil-free cadmium-plated threads, inch-pounds: tension, shear, and the most of each.
TABLE = "AC 43.13-1B table 7-1"
ROWS = {
    "8-36": (12, 15, 7, 9, 20, 12),
    "10-32": (20, 25, 12, 15, 40, 25),
    "1/4-28": (50, 70, 30, 40, 100, 60),
    "5/16-24": (100, 140, 60, 85, 225, 140),
    "3/8-24": (160, 190, 95, 110, 390, 240),
    "7/16-20": (450, 500, 270, 300, 840, 500),
    "1/2-20": (480, 690, 290, 410, 1100, 660),
}


def setting(required: str, unit: str, wrench: str, extension: str, angle: str) -> float:
    job = {"what": "nut", "required": required, "unit": unit, "wrench": wrench, "extension": extension, "angle": angle}
    (said,) = result_of(sound_card(), {"torque": [job]})["torque"]
    assert said["unit"] == unit
    return float(said["set"])


@pytest.mark.parametrize(("required", "unit", "wrench", "extension", "angle", "known"), EXAMPLES)
def test_that_a_printed_example_comes_out(
    required: str, unit: str, wrench: str, extension: str, angle: str, known: Known
) -> None:
    assert known.agrees(setting(required, unit, wrench, extension, angle))


@pytest.mark.parametrize("thread", ROWS)
def test_that_a_right_angle_leaves_the_table_torques_alone(thread: str) -> None:
    for torque in ROWS[thread]:
        known = Known(torque, f"{TABLE}; right angle: NAVEDTRA 14008 ch. 2")
        assert known.agrees(setting(str(torque), "in-lb", "10", "4", "90"))
        assert known.agrees(setting(str(torque), "in-lb", "10", "4", "-90"))


def test_that_inch_pounds_over_12_are_foot_pounds() -> None:
    source = f"{GENERAL} p. 7-50"
    inches, feet = setting("480", "in-lb", "12", "4", "0"), setting("40", "ft-lb", "12", "4", "0")
    assert inches / 12 == feet, source


def test_that_lengths_may_be_in_any_one_unit() -> None:
    source = f"{GENERAL} p. 7-51: wrench lever over wrench lever and extension, a ratio"
    inches, millimetres = setting("300", "in-lb", "10", "4", "0"), setting("300", "in-lb", "254", "101.6", "0")
    assert inches == millimetres, source
