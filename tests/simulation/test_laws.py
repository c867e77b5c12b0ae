"""Laws that hold for every card, whatever is on it."""

from copy import deepcopy
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.cards import (
    Card,
    Make,
    Turn,
    as_text,
    changed,
    direct_card,
    geared_card,
    leaves,
    marks_card,
    readings_mapped,
    split_card,
    zeroed_card,
)
from tests.simulation.disc import apart
from tests.simulation.job import Job
from tests.simulation.jobs import PATIENCE, in_steps, jobs
from tests.simulation.mechanic import Mechanic
from tests.simulation.truth import find_centre, measured

FULL = [direct_card, zeroed_card, geared_card]
ALL = [*FULL, split_card, marks_card]
OTHER_WAY = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise", "none": "none", None: None}
ON_DISC = (("tdc", "reading"), ("left", "target_reading"), ("right", "target_reading"))
SETTINGS = (("tdc", "disc_setting_against"), ("tdc", "disc_setting_with"))


def ids(findings: list[dict[str, str]]) -> list[tuple[str, str, str]]:
    return sorted((finding["rule"], finding["severity"], finding["where"]) for finding in findings)


def rest(said: dict[str, Any], but: tuple[tuple[str, str], ...]) -> dict[str, Any]:
    """What was said without some places and without the wording of findings."""
    copy = deepcopy(said)
    for table, key in but:
        if copy[table] is not None:
            copy[table].pop(key)
    copy["findings"] = ids(copy["findings"])
    return copy


def places(said: dict[str, Any], which: tuple[tuple[str, str], ...]) -> list[Fraction]:
    return [
        Fraction(str(said[table][key]))
        for table, key in which
        if said[table] is not None and said[table][key] is not None
    ]


def assert_all_moved(said: dict[str, Any], other: dict[str, Any], way: int, by: Fraction) -> None:
    for which in (ON_DISC, SETTINGS):
        shift = by if which is ON_DISC else Fraction(0)
        for here, there in zip(places(said, which), places(other, which), strict=True):
            assert apart(way * here + shift, there) <= Fraction(2, 10_000)


@pytest.mark.parametrize("card", [direct_card, geared_card])
@given(by=in_steps(0, 360, "0.5"))
@PATIENCE
def test_that_turning_the_whole_disc_changes_no_timing(card: Make, by: Fraction) -> None:
    said = check(as_text(card()))
    turned = check(as_text(readings_mapped(card(), Turn(by))))
    assert rest(turned, ON_DISC) == rest(said, ON_DISC)
    assert_all_moved(said, turned, 1, by)


@given(jobs(ways=("disc", "gauge"), zeroed=False), st.integers(0, 3600))
@PATIENCE
def test_that_a_disc_clamped_elsewhere_by_whole_lines_changes_no_timing(job: Job, lines: int) -> None:
    def timing(of: Job, by: Fraction) -> dict[str, Any]:
        mechanic = Mechanic(of)
        mechanic.move_disc(by)
        find_centre(mechanic)
        for side in of.sheets:
            mechanic.approach(side)
        return rest(check(mechanic.toml()), ON_DISC)

    # By lines that go evenly into a turn; then every reading moves by the same number of them.
    assert timing(job, lines * job.engine.disc.read_to) == timing(job, Fraction(0))


def mirrored(card: Card) -> Card:
    """The engine in a mirror: everything that turns, turns the other way, and the disc is read as it stands there."""
    card = readings_mapped(card, Turn(mirrored=True)) if card["measure"].get("marking") == "full" else deepcopy(card)
    if "counts" in card["measure"]:
        card["measure"]["counts"] = {"up": "down", "down": "up"}[card["measure"]["counts"]]
    for key in ("rotation", "propeller_rotation"):
        if key in card["engine"]:
            card["engine"][key] = OTHER_WAY[card["engine"][key]]
    for side in ("left", "right"):
        if side in card:
            card[side]["rotation"] = {"right": "left", "left": "right"}[card[side]["rotation"]]
    return card


def assert_mirrored(card: Card) -> None:
    said, seen = check(as_text(card)), check(as_text(mirrored(card)))
    for side in ("left", "right"):
        if said[side] is not None:
            direction = said[side]["housing"]["direction"]
            assert seen[side]["housing"]["direction"] == OTHER_WAY[direction]
            seen[side]["housing"]["direction"] = direction
    if card["measure"].get("marking") == "full":
        assert_all_moved(said, seen, -1, Fraction(0))
        assert rest(seen, (*ON_DISC, *SETTINGS)) == rest(said, (*ON_DISC, *SETTINGS))
    else:
        assert rest(seen, ()) == rest(said, ())


@pytest.mark.parametrize("card", ALL)
def test_that_a_mirrored_card_gives_the_same_timing_and_mirrored_advice(card: Make) -> None:
    assert_mirrored(card())


@given(jobs())
@PATIENCE
def test_that_a_mirrored_engine_gives_the_same_timing_and_mirrored_advice(job: Job) -> None:
    assert_mirrored(deepcopy(measured(job).card()))


@pytest.mark.parametrize("card", [direct_card])
def test_that_exchanging_the_magnetos_exchanges_what_is_said_of_them(card: Make) -> None:
    straight, crossed = card(), card()
    crossed["left"], crossed["right"] = straight["right"], straight["left"]
    limits = crossed["limits"]
    limits["left_btdc"], limits["right_btdc"] = limits["right_btdc"], limits["left_btdc"]
    run_up = crossed["run_up"]
    run_up["left_rpm"], run_up["right_rpm"] = run_up["right_rpm"], run_up["left_rpm"]
    here, there = check(as_text(straight)), check(as_text(crossed))
    assert (there["left"], there["right"]) == (here["right"], here["left"])
    assert there["sync"] == {"difference": -here["sync"]["difference"], "verdict": here["sync"]["verdict"]}
    assert there["run_up"]["difference"] == -here["run_up"]["difference"]
    assert there["run_up"]["left_drop"] == here["run_up"]["right_drop"]
    assert there["tdc"] == here["tdc"]


@given(jobs(), st.integers(2, 3))
@PATIENCE
def test_that_the_order_of_good_pairs_does_not_matter(job: Job, pairs: int) -> None:
    mechanic = measured(job, pairs=pairs)
    forward = check(mechanic.toml())
    before = pairs if job.by != "marks" else 0
    mechanic.stops[:before] = reversed(mechanic.stops[:before])
    assert rest(check(mechanic.toml()), ()) == rest(forward, ())


@pytest.mark.parametrize("card", ALL)
def test_that_a_comma_is_as_good_as_a_point_and_noughts_change_nothing(card: Make) -> None:
    def retyped(typed: str) -> str:
        number, space, side = typed.partition(" ")
        return f"{number if '.' in number else number + '.0'}{space}{side}".replace(".", ",")

    numbers = [
        (path, value)
        for path, value in leaves(card())
        if isinstance(value, str) and value[0].isdigit() and "/" not in value
    ]
    assert len(numbers) >= 7
    other = card()
    for path, value in numbers:
        other = changed(other, path, retyped(value))
    assert rest(check(as_text(other)), ()) == rest(check(as_text(card())), ())


@pytest.mark.parametrize("card", ALL)
def test_that_the_same_card_says_the_same_twice(card: Make) -> None:
    assert check(as_text(card())) == check(as_text(card()))


@pytest.mark.parametrize("card", ALL)
def test_that_every_sample_card_of_the_laws_is_itself_established(card: Make) -> None:
    said = check(as_text(card()))
    for side in ("left", "right"):
        if said[side] is not None:
            assert said[side]["btdc"] is not None, said["findings"]


def last_as_left_void(card: Card, row: dict[str, object]) -> dict[str, Any]:
    card["left"]["approach"].append(row)
    return check(as_text(card))


@pytest.mark.parametrize("card", FULL)
@given(light=in_steps(0, 360, "0.5"), by=in_steps(1, 119, "0.5"))
@PATIENCE
def test_that_an_approach_against_rotation_establishes_nothing_whatever_the_number(
    card: Make, light: Fraction, by: Fraction
) -> None:
    typed = Turn()
    row = {"from": typed(str(light + by)), "light": typed(str(light)), "click_passed": True}
    if "impulse_lag" not in card()["left"]:
        del row["click_passed"]
    said = last_as_left_void(card(), row)
    assert said["left"]["verdict"] == "not established"
    assert said["left"]["btdc"] is None
    assert "against-rotation" in {finding["rule"] for finding in said["findings"] if finding["severity"] == "stops"}
    assert said["nothing_stops"] is False
