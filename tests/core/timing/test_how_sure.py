"""The uncertainty of a reading, part by part; numbers worked out by hand from a scale read to half a degree.

One reading: 0.5 / sqrt(12) = 0.144338; its variance is 1/48.
"""

import math
from statistics import NormalDist

import pytest

from tests.toml_card import Changes, geared_card, marks_card, result_of, rules_in, sound_card, standing_card

CLOSING = {"with": "321", "against": "39", "after_zeroing": True}


@pytest.mark.parametrize(
    ("changes", "variance"),
    [
        # TDC from one pair 1/96, the zeroing 1/48, the light 1/48.
        ({}, 1 / 96 + 1 / 48 + 1 / 48),
        # Two pairs before zeroing that agree: 1/192.
        ({"stop[3]": CLOSING, "stop[2]": {"with": "0", "against": "78"}},
         1 / 192 + 1 / 48 + 1 / 48),
        # Midpoints 39 and 40: standard deviation sqrt(1/2), over sqrt(2): a variance of 1/4.
        ({"stop[3]": CLOSING, "stop[2]": {"with": "1", "against": "79"}},
         1 / 4 + 1 / 48 + 1 / 48),
        # Lights 22 and 23: a sample variance of 1/2, larger than one reading.
        ({"left.approach[1].light": "337"}, 1 / 96 + 1 / 48 + 1 / 2),
        # Lights 22 and 22.1: 0.005 is smaller than one reading.
        ({"left.approach[1].light": "337.9"}, 1 / 96 + 1 / 48 + 1 / 48),
        # Lights 21, 22, 23: 1.
        ({"left.approach[1].light": "337", "left.approach[2].light": "338",
          "left.approach[3]": {"from": "310", "light": "339"}}, 1 / 96 + 1 / 48 + 1),
        # A void repeat does not count.
        ({"left.approach[1]": {"from": "345", "light": "337"}}, 1 / 96 + 1 / 48 + 1 / 48),
        # Nor does one as found, a setting, or one before the last setting.
        ({"left.approach[1]": {"when": "as found", "from": "310", "light": "330"}}, 1 / 96 + 1 / 48 + 1 / 48),
        ({"left.approach[2]": {"when": "setting", "from": "310", "light": "330"},
          "left.approach[3]": {"from": "310", "light": "338"}}, 1 / 96 + 1 / 48 + 1 / 48),
        # A disc read to a tenth.
        ({"measure.read_to": "0.1"}, 0.01 / 12 * 2.5),
    ],
)  # fmt: skip
def test_that_the_parts_add_up_as_the_root_of_their_squares(changes: Changes, variance: float) -> None:
    said = result_of(sound_card(), changes)
    assert said["left"]["u"] == pytest.approx(math.sqrt(variance), abs=5.1e-5)


def test_that_a_disc_as_it_stood_has_no_zeroing_in_it() -> None:
    said = result_of(standing_card())
    assert said["tdc"]["u"] == pytest.approx(math.sqrt(1 / 192), abs=5.1e-5)
    assert said["left"]["u"] == pytest.approx(math.sqrt(1 / 192 + 1 / 48), abs=5.1e-5)


def test_that_a_zeroing_stands_in_the_uncertainty_of_top_dead_centre() -> None:
    assert result_of(sound_card())["tdc"]["u"] == pytest.approx(math.sqrt(3 / 96), abs=5.1e-5)


def test_that_a_geared_scale_is_coarser_in_crankshaft_degrees() -> None:
    # 0.5 of the disc are 0.75 of the crankshaft: 0.75^2 / 12 = 3/64.
    said = result_of(geared_card())
    assert said["tdc"]["u"] == pytest.approx(math.sqrt(3 / 256), abs=5.1e-5)
    assert said["left"]["u"] == pytest.approx(math.sqrt(3 / 256 + 3 / 64), abs=5.1e-5)
    # Midpoints 26 and 26.5 of the disc: 0.75 of the crankshaft, a variance of 9/32, over two pairs 9/64.
    spread = result_of(geared_card(), {"stop[2]": {"with": "0.5", "against": "172.5"}})
    assert spread["tdc"]["u"] == pytest.approx(math.sqrt(9 / 64), abs=5.1e-5)
    # Lights 11 and 12: 1.5 of the crankshaft, a variance of 9/8.
    lights = result_of(geared_card(), {"left.approach[1].light": "12"})
    assert lights["left"]["u"] == pytest.approx(math.sqrt(3 / 256 + 9 / 8), abs=5.1e-5)


def test_that_marks_have_the_light_only() -> None:
    assert result_of(marks_card())["left"]["u"] == pytest.approx(1 / math.sqrt(12), abs=5.1e-5)
    two = {"left.approach[1].light": "20 before"}
    assert result_of(marks_card(), two)["left"]["u"] == pytest.approx(math.sqrt(2), abs=5.1e-5)


@pytest.mark.parametrize(
    ("light", "off_centre"),
    [
        # k = cos 141 = -0.777146. At 22: sqrt(1 + k^2 - 2 k cos 158) = 0.403537, times 0.5/75 rad, over sqrt(2).
        ("338", 0.108991),
        # At the contacts' own middle, 0: 1 + k with cos 180 = -1, that is 0.222854.
        ("0", 0.060190),
        # Half a turn away cos 0 = 1: 1 - k = 1.777146.
        ("180", 0.479988),
    ],
)
def test_that_a_disc_off_its_centre_adds_a_part_that_depends_on_the_place(light: str, off_centre: float) -> None:
    changes = {
        "measure.radius_mm": "75",
        "measure.centring_mm": "0.5",
        "left.approach": [{"from": "compression", "light": light}],
    }
    expected = math.sqrt(1 / 96 + 1 / 48 + 1 / 48 + off_centre**2)
    assert result_of(sound_card(), changes)["left"]["u"] == pytest.approx(expected, abs=5.1e-5)


def test_that_the_part_off_centre_is_in_disc_degrees_and_is_brought_to_the_crankshaft() -> None:
    # g = 2/3, A = 78, b = 22.5: k = cos 94 = -0.069756, cos(120 - 15) = -0.258819; the root is 0.984255.
    # Times 1/50 rad that is 1.127873 disc degrees; over sqrt(2), times 3/2: 1.196290 of the crankshaft.
    changes = {"measure.radius_mm": "50", "measure.centring_mm": "1"}
    expected = math.sqrt(3 / 256 + 3 / 64 + 1.196290**2)
    assert result_of(geared_card(), changes)["left"]["u"] == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize(
    ("lights", "advanced", "retarded", "deviation"),
    [
        (("21", "22", "23"), "3", "3", 1),
        (("21", "22", "23"), "2", "9", 1),
        (("21", "22", "23"), "1", "1", 1),
        (("21", "22", "23"), "0.5", "1", 1),
        (("23", "22", "21"), "1", "4", -1),
        (("23", "21", "22"), "2", "1", 0),
    ],
)
def test_that_the_probability_within_is_that_of_the_normal_distribution(
    lights: tuple[str, ...], advanced: str, retarded: str, deviation: float
) -> None:
    rows = [{"from": "50 before", "light": f"{light} before"} for light in lights]
    changes = {"limits.advanced_most": advanced, "limits.retarded_most": retarded, "left.approach": rows}
    said = result_of(marks_card(), changes)
    about = NormalDist(deviation, 1)
    expected = about.cdf(float(advanced)) - about.cdf(-float(retarded))
    assert said["left"]["p_within"] == pytest.approx(expected, abs=5.1e-5)
    assert ("probability-low" in rules_in(said, severity="note")) is (expected < 0.95)


@pytest.mark.parametrize(("advanced", "low"), [("1.65", False), ("1.64", True)])
def test_that_a_probability_below_95_in_100_is_noted(advanced: str, low: bool) -> None:
    # Lights 23, 21, 22: deviation 0, u = 1; the late limit is far away. 0.95 is reached at 1.645.
    rows = [{"from": "50 before", "light": f"{light} before"} for light in ("23", "21", "22")]
    changes = {"limits.advanced_most": advanced, "limits.retarded_most": "9", "left.approach": rows}
    assert ("probability-low" in rules_in(result_of(marks_card(), changes), severity="note")) is low


@pytest.mark.parametrize(
    ("typed", "read_to", "noted"),
    [("338", "0.5", False), ("338.5", "0.5", False), ("338.0", "0.5", False), ("338.25", "0.5", True),
     ("338.00", "0.5", True), ("338.0", "1", True), ("338", "1", False), ("338.25", "0.25", False)],
)  # fmt: skip
def test_that_more_decimals_than_the_scale_has_are_noted(typed: str, read_to: str, noted: bool) -> None:
    changes = {"measure.read_to": read_to, "left.approach[2].light": typed, "limits.retarded_most": "2"}
    said = result_of(sound_card(), changes)
    notes = [finding["where"] for finding in said["findings"] if finding["rule"] == "more-decimals"]
    assert notes == (["left.approach[2].light"] if noted else [])


@pytest.mark.parametrize(
    "where",
    ["stop[1].with", "stop[2].against", "left.approach[1].from", "left.approach[2].back", "right.approach[1].light"],
)
def test_that_every_reading_is_looked_at_for_decimals(where: str) -> None:
    readings = {
        "stop[1].with": "0.00",
        "stop[2].against": "39.00",
        "left.approach[1].from": "310.00",
        "left.approach[2].back": "336.00",
        "right.approach[1].light": "338.00",
    }
    said = result_of(sound_card(), {where: readings[where]})
    assert [(finding["rule"], finding["where"]) for finding in said["findings"]] == [("more-decimals", where)]
