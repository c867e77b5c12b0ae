"""A reading exactly on a limit is within it, and the least step beyond is not: typed decimals are compared exactly."""

from copy import deepcopy
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.cards import (
    Card,
    as_text,
    direct_card,
    geared_card,
    marks_card,
    split_card,
    zeroed_card,
)
from tests.simulation.disc import split_text, written
from tests.simulation.jobs import PATIENCE, in_steps

LEAST = Fraction(1, 10**8)


def timed(card: Card, light: Fraction) -> dict[str, Any]:
    """The card with one approach that ends at `light` on a full disc."""
    card["left"]["approach"] = [{"from": written((light - 30) % 360), "light": written(light % 360)}]
    return check(as_text(card))


@given(in_steps(0, 40, "0.00000001"), in_steps(0, 9, "0.00000001"), st.sampled_from((1, -1)))
@PATIENCE
def test_that_a_deviation_exactly_on_a_limit_is_within_it(nominal: Fraction, limit: Fraction, way: int) -> None:
    card = zeroed_card()
    key = "advanced_most" if way > 0 else "retarded_most"
    card["limits"] |= {"left_btdc": written(nominal), key: written(limit)}
    light = -(nominal + way * limit)
    assert timed(card, light)["left"]["verdict"] == "within"
    beyond = timed(card, light - way * LEAST)
    assert beyond["left"]["verdict"] == ("advanced" if way > 0 else "retarded")
    assert beyond["nothing_stops"] is False


@given(in_steps(1, 40, "0.01"), in_steps(0, 9, "0.01"), st.sampled_from((1, -1)))
@PATIENCE
def test_that_a_limit_is_met_exactly_on_a_split_scale_and_on_marks(
    nominal: Fraction, limit: Fraction, way: int
) -> None:
    for card in (split_card(), marks_card()):
        key = "advanced_most" if way > 0 else "retarded_most"
        card["limits"] |= {"left_btdc": written(nominal), key: written(limit)}
        for light, verdict in (
            (-(nominal + way * limit), "within"),
            (-(nominal + way * limit) - way * LEAST, "advanced" if way > 0 else "retarded"),
        ):
            card["left"]["approach"] = [{"from": split_text(light - 30), "light": split_text(light)}]
            assert check(as_text(card))["left"]["verdict"] == verdict


@pytest.mark.parametrize(
    ("gear", "nominal", "limit", "light"),
    [
        # 23 crankshaft degrees are 14.7583333... of the disc at 77/120; 24 are 15.4 exactly, 22.8 are 14.63.
        ("77/120", "22", "2", "15.4"),
        ("77/120", "22", "0.8", "14.63"),
        ("2/3", "22", "0.5", "15"),
        ("16/21", "20", "1", "16"),
        ("0.7", "20", "1.3", "14.91"),
    ],
)
def test_that_a_limit_is_met_exactly_through_gears(gear: str, nominal: str, limit: str, light: str) -> None:
    card = geared_card()
    card["engine"]["propeller_turns_per_crank_turn"] = gear
    card["limits"] |= {"left_btdc": nominal, "advanced_most": limit}
    card["measure"] = zeroed_card()["measure"] | {"centre_by_feel": "0"}
    turns, half = Fraction(gear), 45
    against = written(round(turns * (half - 360) % 360 * 1000) / Fraction(1000))
    # Wide lines, so that contacts rounded to a thousandth are no trouble; only the light matters here.
    contact = written(round((360 - turns * half) * 1000) / Fraction(1000))
    card["stop"] = [{"with": contact, "against": against}] * 2
    card["stop"] = [card["stop"][0], card["stop"][1] | {"after_zeroing": True}]
    assert timed(deepcopy(card), -Fraction(light))["left"]["verdict"] == "within"
    assert timed(deepcopy(card), -Fraction(light) - LEAST)["left"]["verdict"] == "advanced"


@pytest.mark.parametrize(
    ("came", "least", "most", "established"),
    [
        ("10", "10", None, True),
        ("9.99999999", "10", None, False),
        ("40", None, "40", True),
        ("40.00000001", None, "40", False),
        ("10", "10", "10", True),
        ("0", None, None, False),
        ("0.00000001", None, None, True),
        ("180", None, None, True),
        ("180.00000001", None, None, False),
    ],
)
def test_that_back_off_limits_are_inclusive_and_only_forward_counts(
    came: str, least: str | None, most: str | None, established: bool
) -> None:
    card = zeroed_card()
    if least:
        card["left"]["back_off_least"] = least
    if most:
        card["left"]["back_off_most"] = most
    card["left"]["approach"] = [{"from": written((338 - Fraction(came)) % 360), "light": "338"}]
    assert (check(as_text(card))["left"]["btdc"] is not None) is established


@pytest.mark.parametrize(("came", "established"), [("2", False), ("2.00000001", True), ("1.99999999", False)])
@pytest.mark.parametrize("known", ["own", "earlier", "as found", "void"])
def test_that_a_movement_must_be_greater_than_the_backlash(came: str, known: str, established: bool) -> None:
    card = zeroed_card()
    row = {"from": written(338 - Fraction(came)), "light": "338"}
    if known == "own":
        card["left"]["approach"] = [row | {"back": "336"}]
    elif known == "void":
        card["left"]["approach"] = [{"from": "350", "light": "338", "back": "336"}, row]
    else:
        first = {"from": "310", "light": "337", "back": "335"}
        card["left"]["approach"] = [first if known == "earlier" else first | {"when": "as found"}, row]
    assert (check(as_text(card))["left"]["btdc"] is not None) is established


@pytest.mark.parametrize(
    ("shift", "moved"), [("0.75", False), ("0.75000001", True), ("359.25", False), ("359.24999999", True)]
)
@pytest.mark.parametrize("zeroed", [True, False])
def test_that_a_closing_pair_may_be_one_and_a_half_lines_out_and_no_more(shift: str, moved: bool, zeroed: bool) -> None:
    card = zeroed_card()
    card["measure"]["zeroed"] = zeroed
    by = Fraction(shift)
    closing: dict[str, object] = {"with": written((321 + by) % 360), "against": written((39 + by) % 360)}
    if zeroed:
        closing["after_zeroing"] = True
        card["stop"] = [card["stop"][0], closing]
    else:
        card["stop"] = [{"with": "321", "against": "39"}, closing]
    said = check(as_text(card))
    assert ("disc-moved" in {finding["rule"] for finding in said["findings"]}) is moved
    assert (said["left"]["btdc"] is None) is moved


def test_that_with_three_pairs_the_last_is_held_against_the_mean_of_the_others() -> None:
    card = direct_card()
    card["measure"]["read_to"] = "0.5"
    for last, moved in (("1", False), ("1.00000002", True)):
        # Midpoints 40 and 40.5, mean 40.25; the last at 41 is 0.75 away.
        card["stop"] = [
            {"with": "0", "against": "80"},
            {"with": "0.5", "against": "80.5"},
            {"with": last, "against": "81"},
        ]
        said = check(as_text(card))
        assert ("disc-moved" in {finding["rule"] for finding in said["findings"]}) is moved


@pytest.mark.parametrize(
    ("against", "found"), [("179.99999999", True), ("180", False), ("180.00000001", False), ("0", False), ("0.1", True)]
)
def test_that_the_arc_must_lie_between_nothing_and_half_a_turn(against: str, found: bool) -> None:
    card = zeroed_card()
    card["measure"]["zeroed"] = False
    card["stop"] = [{"with": "0", "against": against}]
    said = check(as_text(card))
    assert (said["tdc"]["arc"] is not None) is found
    assert ("no-tdc" in {finding["rule"] for finding in said["findings"]}) is not found


@pytest.mark.parametrize(
    ("feel", "agrees"), [("90", True), ("90.00000001", False), ("50", True), ("49.99999999", False)]
)
def test_that_the_centre_by_feel_may_be_twenty_degrees_of_the_disc_out(feel: str, agrees: bool) -> None:
    card = geared_card()
    card["measure"]["centre_by_feel"] = feel
    said = check(as_text(card))
    assert (said["tdc"]["reading"] == 70) is agrees
    assert ("centre-disagrees" in {finding["rule"] for finding in said["findings"]}) is not agrees


@pytest.mark.parametrize(("right", "verdict"), [("21", "within"), ("20.99999999", "outside")])
def test_that_magnetos_exactly_as_far_apart_as_allowed_are_within(right: str, verdict: str) -> None:
    card = zeroed_card()
    card["limits"] |= {"right_btdc": "22", "apart_most": "1", "retarded_most": "2"}
    card["right"] = deepcopy(card["left"])
    card["right"]["approach"] = [{"from": "310", "light": written(360 - Fraction(right))}]
    said = check(as_text(card))
    assert said["sync"]["verdict"] == verdict


@pytest.mark.parametrize(
    ("left", "right", "verdict"),
    [
        ("1550", "1560", "within"),
        ("1549.99999999", "1560", "outside"),
        ("1600", "1650", "within"),
        ("1599.99999999", "1650", "outside"),
        ("1700", "1690", "outside"),
        ("1699.99999999", "1690", "within"),
    ],
)
def test_that_drops_on_their_limits_are_within_and_no_drop_is_not(left: str, right: str, verdict: str) -> None:
    card = direct_card()
    card["run_up"] |= {"left_rpm": left, "right_rpm": right}
    assert check(as_text(card))["run_up"]["verdict"] == verdict


def test_that_under_the_guarded_rule_a_margin_of_the_uncertainty_decides() -> None:
    card = zeroed_card()
    card["limits"] |= {"decision": "guarded", "advanced_most": "9", "retarded_most": "9"}
    u = Fraction(str(timed(card, Fraction(338))["left"]["u"]))
    for margin, verdict in ((2 * u + Fraction(1, 1000), "within"), (2 * u - Fraction(1, 1000), "too close")):
        said = timed(card, Fraction(round((329 + margin) * 10**6), 10**6))
        assert said["left"]["verdict"] == verdict
        assert said["nothing_stops"] is (verdict == "within")
