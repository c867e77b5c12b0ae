"""Top dead centre from pairs of stop contacts, on a direct drive."""

import math

import pytest

from tests.toml_card import GONE, Changes, result_of, rules_in, sound_card, standing_card

NO_TDC = dict.fromkeys(("arc", "half_arc", "disc_setting_against", "disc_setting_with", "reading", "u"))


@pytest.mark.parametrize(
    ("with_", "against", "arc", "reading", "setting_against", "setting_with"),
    [
        ("0", "78", 78, 39, 39, 321),
        ("340", "20", 40, 0, 20, 340),
        ("350", "30", 40, 10, 20, 340),
        ("170", "200", 30, 185, 15, 345),
        ("355", "45", 50, 20, 25, 335),
        ("300", "360", 60, 330, 30, 330),
        ("0", "0.5", 0.5, 0.25, 0.25, 359.75),
        ("0.25", "180", 179.75, 90.125, 89.875, 270.125),
    ],
)
def test_that_the_middle_of_the_short_arc_is_top_dead_centre(
    with_: str, against: str, arc: float, reading: float, setting_against: float, setting_with: float
) -> None:
    tdc = result_of(standing_card(), {"stop": [{"with": with_, "against": against}]})["tdc"]
    assert (tdc["arc"], tdc["half_arc"], tdc["reading"]) == (arc, arc / 2, reading)
    assert (tdc["disc_setting_against"], tdc["disc_setting_with"]) == (setting_against, setting_with)


@pytest.mark.parametrize(
    ("with_", "against"), [("0", "180"), ("0", "0"), ("0", "360"), ("78", "0"), ("0", "180.5"), ("20", "340")]
)
def test_that_an_arc_outside_0_to_180_gives_no_top_dead_centre_and_says_what_to_check(with_: str, against: str) -> None:
    said = result_of(standing_card(), {"stop": [{"with": with_, "against": against}]})
    assert said["tdc"] == NO_TDC
    (finding,) = (finding for finding in said["findings"] if finding["rule"] == "no-tdc")
    assert (finding["severity"], finding["where"][:4]) == ("stops", "stop")
    for word in ("swapped", "slipped", "counts"):
        assert word in finding["sentence"]
    assert (said["left"]["btdc"], said["left"]["target_reading"], said["nothing_stops"]) == (None, None, False)


@pytest.mark.parametrize(("against", "short"), [("30", False), ("29.5", True)])
def test_that_an_arc_below_30_is_noted_as_too_short(against: str, short: bool) -> None:
    pair = {"with": "0", "against": against}
    said = result_of(standing_card(), {"stop": [pair, pair]})
    assert ("stop-short" in rules_in(said, severity="note")) is short


def test_that_several_pairs_give_the_first_midpoint_and_the_mean_difference_from_it() -> None:
    # Midpoints 359.5, 0, 1: differences 0, 0.5, 1.5, mean 2/3. Arcs 79, 80, 78. Read to a degree: the last is 1.25 off.
    stops = [{"with": "320", "against": "39"}, {"with": "320", "against": "40"}, {"with": "322", "against": "40"}]
    said = result_of(standing_card(), {"stop": stops, "measure.read_to": "1"})
    assert (said["tdc"]["arc"], said["tdc"]["half_arc"], said["tdc"]["reading"]) == (79, 39.5, 0.1667)
    assert (said["tdc"]["disc_setting_against"], said["tdc"]["disc_setting_with"]) == (39.5, 320.5)
    # The sample standard deviation of 0, 0.5, 1.5 is sqrt(7/12), over sqrt(3).
    assert said["tdc"]["u"] == pytest.approx(math.sqrt(7) / 6, abs=5e-5)


def test_that_one_bad_pair_leaves_no_top_dead_centre_at_all() -> None:
    good, bad = {"with": "0", "against": "78"}, {"with": "0", "against": "180"}
    for stops in ([good, bad, good], [bad, good, good], [good, good, bad]):
        said = result_of(standing_card(), {"stop": stops})
        assert said["tdc"] == NO_TDC
        assert (said["left"]["verdict"], said["right"]["verdict"]) == ("not established", "not established")
        assert "no-tdc" in rules_in(said, severity="stops")


def test_that_a_bad_closing_pair_leaves_no_top_dead_centre_either() -> None:
    said = result_of(sound_card(), {"stop[2].against": "141"})
    assert (said["tdc"], said["left"]["verdict"]) == (NO_TDC, "not established")


def test_that_a_zeroed_disc_keeps_its_target_without_top_dead_centre() -> None:
    said = result_of(sound_card(), {"stop[1].against": "180"})
    assert (said["tdc"]["reading"], said["left"]["target_reading"], said["left"]["btdc"]) == (None, 338, None)


def test_that_the_pairs_before_zeroing_give_arc_reading_and_number() -> None:
    closing = {"with": "320", "against": "40", "after_zeroing": True}
    said = result_of(sound_card(), {"stop[2]": closing, "stop[3]": closing})
    assert (said["tdc"]["arc"], said["tdc"]["reading"]) == (78, 39)
    # One pair: 0.5 / sqrt(12) / sqrt(2), and one reading more for the zeroing.
    assert said["tdc"]["u"] == pytest.approx(0.5 / math.sqrt(12) * math.sqrt(1.5), abs=5e-5)


def test_that_all_pairs_count_where_none_was_taken_before_zeroing() -> None:
    stops = [
        {"with": "321", "against": "39", "after_zeroing": True},
        {"with": "320.5", "against": "40.5", "after_zeroing": True},
    ]
    said = result_of(sound_card(), {"stop": stops})
    assert (said["tdc"]["arc"], said["tdc"]["reading"], rules_in(said)) == (79, 0.25, [])
    # Two midpoints 0.5 apart: standard deviation 0.5/sqrt 2, over sqrt 2 it is 0.25; and the zeroing.
    assert said["tdc"]["u"] == pytest.approx(math.sqrt(0.0625 + 0.25 / 12), abs=5e-5)


@pytest.mark.parametrize(
    ("with_", "against", "moved"),
    [
        ("321", "40.5", False),
        ("321.75", "39.75", False),
        ("321", "40.50000002", True),
        ("321", "41", True),
        ("320.25", "38.25", False),
        ("320.24", "38.25", True),
    ],
)
def test_that_a_pair_after_zeroing_must_have_its_middle_at_zero(with_: str, against: str, moved: bool) -> None:
    said = result_of(sound_card(), {"stop[2].with": with_, "stop[2].against": against})
    assert ("disc-moved" in rules_in(said, severity="stops")) is moved
    expected = "not established" if moved else "within"
    assert (said["left"]["verdict"], said["right"]["verdict"]) == (expected, expected)
    assert ("approach-disc-moved" in rules_in(said, severity="stops", side="left")) is moved
    assert said["tdc"]["reading"] == 39


def test_that_every_pair_after_zeroing_is_held_against_zero_and_not_only_the_last() -> None:
    closing = {"with": "321", "against": "39", "after_zeroing": True}
    said = result_of(sound_card(), {"stop[2]": closing | {"against": "45"}, "stop[3]": closing})
    assert "disc-moved" in rules_in(said, severity="stops")


def test_that_a_closing_pair_on_the_far_side_of_zero_is_not_taken_for_near() -> None:
    said = result_of(sound_card(), {"stop[2].with": "141", "stop[2].against": "219"})
    assert "disc-moved" in rules_in(said, severity="stops")


@pytest.mark.parametrize(
    ("midpoints", "moved"),
    [
        ((40, 40.75), False),
        ((40, 40.76), True),
        ((40, 41, 41.25), False),
        ((40, 41, 41.26), True),
        ((40, 41, 39.75), False),
        ((41, 40, 39.74), True),
        ((359.75, 0.5), False),
        ((359.75, 0.51), True),
    ],
)
def test_that_the_last_pair_of_a_standing_disc_is_held_against_the_mean_of_the_others(
    midpoints: tuple[float, ...], moved: bool
) -> None:
    stops = [{"with": f"{(mid - 40) % 360:.2f}", "against": f"{(mid + 40) % 360:.2f}"} for mid in midpoints]
    said = result_of(standing_card(), {"stop": stops})
    assert ("disc-moved" in rules_in(said)) is moved
    assert ("approach-disc-moved" in rules_in(said, side="right")) is moved


def test_that_the_sentence_on_a_moved_disc_asks_for_the_pair_first_and_then_the_readings() -> None:
    said = result_of(sound_card(), {"stop[2].against": "45"})
    (finding,) = (finding for finding in said["findings"] if finding["rule"] == "disc-moved")
    assert finding["sentence"].index("pair again") < finding["sentence"].index("readings again")
    assert finding["where"].startswith("stop[2]")


@pytest.mark.parametrize(
    ("base", "changes", "missing"),
    [
        (sound_card, {}, False),
        (sound_card, {"stop[2]": GONE}, True),
        (sound_card, {"stop[2]": GONE, "measure.by": "gauge"}, True),
        (sound_card, {"stop[2].after_zeroing": False, "stop[2].with": "0", "stop[2].against": "78"}, True),
        (standing_card, {}, False),
        (standing_card, {"stop[2]": GONE}, True),
    ],
)
def test_that_a_missing_closing_pair_asks_for_a_reason(base: object, changes: Changes, missing: bool) -> None:
    assert callable(base)
    said = result_of(base(), changes)
    assert ("no-closing-pair" in rules_in(said, severity="explain")) is missing
    assert said["nothing_stops"] is True
