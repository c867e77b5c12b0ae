"""A propeller of 2/3: half the arc is 39 crankshaft degrees, 26 of the disc; top dead centre reads 26."""

import pytest

from tests.toml_card import GONE, changed, geared_card, result_of, rules_in


def test_that_disc_degrees_become_crankshaft_degrees() -> None:
    said = result_of(geared_card())
    # The long way is 2/3 of 282 = 188 disc degrees; settings 26 - 360 x 2/3 either way.
    assert said["tdc"] == {
        "arc": 78,
        "half_arc": 39,
        "disc_setting_against": 146,
        "disc_setting_with": 334,
        "reading": 26,
        "u": 0.1083,
    }
    left = said["left"]
    assert (left["target_reading"], left["btdc"], left["deviation"]) == (11, 22.5, 0)
    assert (left["back_off"], left["backlash"]) == (31.5, 2.25)
    # TDC 0.10825, light 0.21651: together 0.24206.
    assert (left["u"], said["findings"]) == (0.2421, [])


def test_that_a_geared_disc_counting_down_is_the_mirror_image() -> None:
    mirrored = {
        "measure.counts": "down",
        "measure.centre_by_feel": "330",
        "stop": [{"with": "0", "against": "188"}] * 2,
        "left.approach": [{"from": "10", "light": "349", "back": "350.5"}],
    }
    said = result_of(geared_card(), mirrored)
    assert (said["tdc"]["arc"], said["tdc"]["reading"]) == (78, 334)
    assert (said["tdc"]["disc_setting_against"], said["tdc"]["disc_setting_with"]) == (214, 26)
    assert (said["left"]["target_reading"], said["left"]["btdc"], said["left"]["back_off"]) == (349, 22.5, 31.5)


def test_that_a_zeroed_geared_disc_has_its_target_before_zero() -> None:
    closing = {"with": "334", "against": "146", "after_zeroing": True}
    changes = {
        "measure.zeroed": True,
        "stop[2]": closing,
        "left.approach": [{"from": "320", "light": "345"}],
        "right.approach": [{"from": "320", "light": "344.5"}],
    }
    said = result_of(geared_card(), changes)
    assert (said["left"]["target_reading"], said["left"]["btdc"], said["right"]["btdc"]) == (345, 22.5, 23.25)
    # One pair 0.75 / sqrt(24) and the zeroing 0.75 / sqrt(12).
    assert (said["tdc"]["u"], rules_in(said, severity="stops")) == (0.2652, [])


@pytest.mark.parametrize(
    ("feel", "agrees"), [("46", True), ("46.5", False), ("6", True), ("5.5", False), ("206", False)]
)
def test_that_the_centre_by_feel_may_lie_20_disc_degrees_away(feel: str, agrees: bool) -> None:
    said = result_of(geared_card(), {"measure.centre_by_feel": feel})
    assert ("centre-disagrees" in rules_in(said, severity="stops")) is not agrees
    assert said["tdc"]["reading"] == (26 if agrees else None)
    assert said["left"]["verdict"] == ("within" if agrees else "not established")
    assert ("approach-without-tdc" in rules_in(said, side="left")) is not agrees


def test_that_the_centre_by_feel_is_compared_around_the_circle() -> None:
    turned = {"stop": [{"with": "339", "against": "151"}] * 2, "measure.centre_by_feel": "350"}
    said = result_of(geared_card(), turned)
    assert (said["tdc"]["reading"], "centre-disagrees" in rules_in(said)) == (5, False)


def test_that_swapped_contacts_show_in_the_centre_by_feel_and_nowhere_else() -> None:
    swapped = {"stop": [{"with": "172", "against": "0"}] * 2}
    said = result_of(geared_card(), swapped)
    assert said["tdc"]["arc"] is None
    assert [rule for rule in rules_in(said, severity="stops") if not rule.startswith("approach")] == [
        "centre-disagrees"
    ]
    # Felt at the wrong centre, 172 + 2/3 of 51 = 206, the same contacts would pass.
    assert result_of(geared_card(), swapped | {"measure.centre_by_feel": "206"})["tdc"]["arc"] == 102


def test_that_a_geared_propeller_without_a_centre_by_feel_stops() -> None:
    said = result_of(geared_card(), {"measure.centre_by_feel": GONE})
    assert "centre-missing" in rules_in(said, severity="stops")
    assert (said["nothing_stops"], said["left"]["verdict"], said["left"]["btdc"]) == (False, "not established", None)


@pytest.mark.parametrize("gear", ["1", "1.0", "2/2", "1,00"])
def test_that_a_direct_drive_needs_no_centre_by_feel(gear: str) -> None:
    card = changed(geared_card(), {"measure.centre_by_feel": GONE, "engine.propeller_turns_per_crank_turn": gear})
    card["stop"] = [{"with": "0", "against": "52"}] * 2
    said = result_of(card)
    assert (said["tdc"]["reading"], "centre-missing" in rules_in(said)) == (26, False)


def test_that_the_closing_pair_is_compared_in_disc_degrees() -> None:
    # Read to 0.5: 0.75 of the disc are allowed, which are 1.125 of the crankshaft.
    for turned, moved in (("0.75", False), ("0.76", True)):
        closing = {"with": turned, "against": f"{172 + float(turned):.2f}"}
        assert ("disc-moved" in rules_in(result_of(geared_card(), {"stop[2]": closing}))) is moved


@pytest.mark.parametrize(
    ("back", "severity", "backlash"), [("12", "note", -1.5), ("12.01", "explain", -1.515), ("11.5", "note", -0.75)]
)
def test_that_negative_backlash_is_compared_with_the_scale_in_the_same_degrees(
    back: str, severity: str, backlash: float
) -> None:
    # Twice the scale is one degree of the disc, 1.5 of the crankshaft.
    said = result_of(geared_card(), {"left.approach[2].back": back})
    assert said["left"]["backlash"] == backlash
    assert "negative-backlash" in rules_in(said, severity=severity)


def test_that_a_fraction_and_its_decimals_are_the_same_ratio() -> None:
    half = {"stop": [{"with": "6", "against": "226"}] * 2, "engine.propeller_turns_per_crank_turn": "1/2"}
    decimals = half | {"engine.propeller_turns_per_crank_turn": "0.50"}
    assert result_of(geared_card(), half) == result_of(geared_card(), decimals)
    assert result_of(geared_card(), half)["tdc"]["arc"] == 80
