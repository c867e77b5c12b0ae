"""Disc, gauge and marks: which way they count, how a split one is written, and what each leaves out."""

from collections.abc import Callable

import pytest

from tests.toml_card import GONE, Card, changed, geared_card, marks_card, result_of, rules_in, sound_card, standing_card


def down_card() -> Card:
    """The sound card on a disc that counts down: every reading mirrored."""
    rows = [{"from": "50", "light": "22", "back": "24"}, {"from": "51", "light": "22", "back": "24"}]
    return changed(
        sound_card(),
        {
            "measure.counts": "down",
            "stop": [{"with": "78", "against": "0"}, {"with": "39", "against": "321", "after_zeroing": True}],
            "left.approach": rows,
            "right.approach": rows,
        },
    )


def split_card() -> Card:
    """The sound card on a disc that is marked each way."""
    rows = [{"from": "50 before", "light": "22 before", "back": "24 before"}] * 2
    return changed(
        sound_card(),
        {
            "measure.marking": "split",
            "measure.counts": GONE,
            "stop": [
                {"with": "40 before", "against": "38 after"},
                {"with": "39 before", "against": "39 after", "after_zeroing": True},
            ],
            "left.approach": rows,
            "right.approach": rows,
        },
    )


def test_that_a_disc_counting_down_mirrors_every_place() -> None:
    said = result_of(down_card())
    assert said["tdc"] == {
        "arc": 78,
        "half_arc": 39,
        "disc_setting_against": 321,
        "disc_setting_with": 39,
        "reading": 39,
        "u": 0.1768,
    }
    assert (said["left"]["target_reading"], said["left"]["btdc"], said["left"]["back_off"]) == (22, 22, 29)
    assert (said["left"]["backlash"], said["findings"]) == (2, [])


def test_that_a_disc_counting_down_as_it_stood_is_read_from_its_top_dead_centre() -> None:
    rows = [{"from": "89", "light": "61"}]
    pair = {"with": "78", "against": "0"}
    changes = {"measure.zeroed": False, "stop": [pair, pair], "left.approach": rows}
    said = result_of(down_card(), changes)
    assert (said["tdc"]["reading"], said["left"]["target_reading"], said["left"]["btdc"]) == (39, 61, 22)


def test_that_the_wrong_count_gives_no_top_dead_centre() -> None:
    said = result_of(down_card(), {"measure.counts": "up"})
    assert said["tdc"]["arc"] is None
    assert "no-tdc" in rules_in(said, severity="stops")


def test_that_a_split_disc_speaks_in_sides() -> None:
    said = result_of(split_card())
    assert said["tdc"] == {
        "arc": 78,
        "half_arc": 39,
        "disc_setting_against": "39 after",
        "disc_setting_with": "39 before",
        "reading": "1 before",
        "u": 0.1768,
    }
    assert (said["left"]["target_reading"], said["left"]["btdc"], said["left"]["back_off"]) == ("22 before", 22, 28)
    assert said["findings"] == []


@pytest.mark.parametrize(
    ("with_", "against", "reading", "setting_with", "setting_against"),
    [
        ("40 before", "40 after", "0", "40 before", "40 after"),
        ("40 before", "40.5 after", "0.25 after", "40.25 before", "40.25 after"),
        ("140 after", "140 before", "180", "40 before", "40 after"),
        ("150 after", "141 before", "175.5 before", "34.5 before", "34.5 after"),
        ("180", "100 before", "140 before", "40 before", "40 after"),
        ("180 before", "100 before", "140 before", "40 before", "40 after"),
        ("180 after", "100 before", "140 before", "40 before", "40 after"),
        ("0", "60 after", "30 after", "30 before", "30 after"),
        ("0 after", "60 after", "30 after", "30 before", "30 after"),
        ("60 before", "0 before", "30 before", "30 before", "30 after"),
    ],
)
def test_that_split_places_are_said_on_the_nearer_side(
    with_: str, against: str, reading: str, setting_with: str, setting_against: str
) -> None:
    changes = {"measure.zeroed": False, "stop": [{"with": with_, "against": against}]}
    tdc = result_of(split_card(), changes)["tdc"]
    assert (tdc["reading"], tdc["disc_setting_with"], tdc["disc_setting_against"]) == (
        reading,
        setting_with,
        setting_against,
    )


@pytest.mark.parametrize(
    ("nominal", "target"),
    [("22", "22 before"), ("0", "0"), ("180", "180"), ("22.50", "22.5 before"), ("200", "160 after")],
)
def test_that_a_split_target_is_a_number_and_a_side(nominal: str, target: str) -> None:
    for card in (split_card(), marks_card()):
        assert result_of(card, {"limits.left_btdc": nominal})["left"]["target_reading"] == target


def test_that_a_split_target_has_four_decimals_at_most() -> None:
    geared = {
        "engine.propeller_turns_per_crank_turn": "77/120",
        "measure.centre_by_feel": "10 before",
        "limits.left_btdc": "20",
    }
    assert result_of(split_card(), geared)["left"]["target_reading"] == "12.8333 before"


def test_that_a_full_target_is_a_number_from_0_to_under_360() -> None:
    for nominal, target in (("22", 338), ("0", 0), ("357", 3), ("180", 180), ("22.25", 337.75)):
        said = result_of(sound_card(), {"limits.left_btdc": nominal})
        assert said["left"]["target_reading"] == target


@pytest.mark.parametrize("make", [sound_card, standing_card, geared_card, split_card, down_card])
def test_that_a_gauge_reads_like_a_disc(make: Callable[[], Card]) -> None:
    assert result_of(make(), {"measure.by": "gauge"}) == result_of(make())


def test_that_marks_need_no_stop_and_leave_top_dead_centre_empty() -> None:
    said = result_of(marks_card())
    names = {"arc", "half_arc", "disc_setting_against", "disc_setting_with", "reading", "u"}
    assert said["tdc"] == dict.fromkeys(names)
    assert said["left"]["target_reading"] == "22 before"
    assert rules_in(said) == ["one-magneto"]
    assert said["nothing_stops"] is True


def test_that_marks_on_a_geared_engine_are_crankshaft_degrees() -> None:
    changes = {
        "engine.propeller_turns_per_crank_turn": "2/3",
        "limits.advanced_most": "9",
        "left.approach[2].light": "23 before",
    }
    said = result_of(marks_card(), changes)
    assert (said["left"]["btdc"], said["left"]["back_off"], said["left"]["backlash"]) == (23, 27, 1)
    assert rules_in(said) == ["one-magneto"]


def test_that_a_disc_on_the_crankshaft_of_a_geared_engine_needs_no_gears() -> None:
    geared = {"engine.propeller_turns_per_crank_turn": "2/3", "measure.on": "crankshaft"}
    assert result_of(sound_card(), geared) == result_of(sound_card())


def test_that_typed_decimals_are_compared_exactly() -> None:
    tenths = {"measure.read_to": "0.1", "limits.left_btdc": "22.1", "limits.advanced_most": "0.2"}
    on = result_of(sound_card(), tenths | {"left.approach[2].light": "337.7"})
    beyond = result_of(sound_card(), tenths | {"left.approach[2].light": "337.69999999"})
    assert (on["left"]["deviation"], on["left"]["verdict"]) == (0.2, "within")
    assert (beyond["left"]["deviation"], beyond["left"]["verdict"]) == (0.2, "advanced")


def test_that_a_decimal_comma_is_read_as_a_point() -> None:
    comma = {"left.approach[2].light": "337,5", "limits.advanced_most": "0,5", "measure.read_to": "0,5"}
    point = {"left.approach[2].light": "337.5", "limits.advanced_most": "0.5"}
    assert result_of(sound_card(), comma) == result_of(sound_card(), point)
