"""The advice is proved at the engine: do what the card says, as it says it, and measure again.

Which way is clockwise is settled in the simulation by an axis through the magneto and where somebody stands on it, not
by any table; the breaker stands in the housing, and where it stands is where the points open.
"""

from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.job import FINE, Job, Sheet
from tests.simulation.jobs import PATIENCE, jobs, thousandths
from tests.simulation.mechanic import Mechanic
from tests.simulation.truth import approach_rightly, assert_near, measured, number, rules_of

FAR_OUT = thousandths("-15", "15")


def with_sheet(job: Job, side: str, sheet: Sheet) -> Job:
    """The job with another sheet for one magneto."""
    return replace(job, sheets=MappingProxyType({**job.sheets, side: sheet}))


def again(mechanic: Mechanic, side: str) -> Fraction:
    """The deviation that the program gives after one more approach; the reading before becomes the one found."""
    for row in mechanic.approaches[side]:
        row["when"] = "as found"
    approach_rightly(mechanic, side)
    said = check(mechanic.toml())
    return number(said[side]["deviation"])


def true_deviation(mechanic: Mechanic, side: str) -> Fraction:
    """How early the magneto is now."""
    return mechanic.engine.magnetos[side].true_btdc - mechanic.job.sheets[side].nominal


@given(jobs(off_by=FAR_OUT), st.sampled_from(("left", "right")))
@PATIENCE
def test_that_turning_the_housing_as_advised_takes_the_deviation_away(job: Job, side: str) -> None:
    mechanic = measured(job)
    housing = check(mechanic.toml())[side]["housing"]
    mechanic.turn_housing(side, number(housing["turn"]), housing["direction"])
    assert abs(true_deviation(mechanic, side)) <= job.resolution + Fraction(1, 1000)
    assert abs(again(mechanic, side)) <= 2 * job.resolution


@given(jobs(sides=("left",), off_by=FAR_OUT, impulse=True))
@PATIENCE
def test_that_the_advice_holds_behind_an_impulse_coupling(job: Job) -> None:
    assume(abs(job.deviation("left")) < 8)
    mechanic = measured(job)
    housing = check(mechanic.toml())["left"]["housing"]
    mechanic.turn_housing("left", number(housing["turn"]), housing["direction"])
    assert abs(true_deviation(mechanic, "left")) <= job.resolution + Fraction(1, 1000)
    assert abs(again(mechanic, "left")) <= 2 * job.resolution


@given(jobs(sides=("left",), off_by=FAR_OUT))
@PATIENCE
def test_that_turning_the_other_way_would_double_the_deviation(job: Job) -> None:
    # The control: an advice of the wrong hand is seen.
    assume(abs(job.deviation("left")) > 3 * job.resolution)
    mechanic = measured(job)
    housing = check(mechanic.toml())["left"]["housing"]
    mechanic.turn_housing("left", -number(housing["turn"]), housing["direction"])
    assert abs(true_deviation(mechanic, "left")) > abs(job.deviation("left")) + job.resolution


@given(jobs(sides=("right",), off_by=FAR_OUT), st.integers(12, 60), st.sampled_from(("unknown", "narrow")))
@PATIENCE
def test_that_meshing_by_the_advised_teeth_and_turning_what_is_left_takes_the_deviation_away(
    job: Job, gear: int, slot: str
) -> None:
    sheet = replace(job.sheets["right"], gear_teeth=gear, slot_degrees=Fraction(1, 2) if slot == "narrow" else None)
    job = with_sheet(job, "right", sheet)
    mechanic = measured(job)
    said = check(mechanic.toml())["right"]
    tooth = Fraction(360, gear)
    out = abs(number(said["deviation"])) * job.engine.magnetos["right"].ratio
    if out <= tooth / 2 - Fraction(1, 100):
        assert said["mesh"] is None
        return
    assume(out >= tooth / 2 + Fraction(1, 100))
    teeth, left = said["mesh"]["teeth"], number(said["mesh"]["left_to_turn"])
    assert isinstance(teeth, int)
    assert abs(left) <= tooth / 2 + Fraction(1, 1000)
    # Early by so many teeth: the gear goes back by them. What is left is early (positive) or late, as the sign says.
    meshed = mechanic.engine.magnetos["right"].meshed(-teeth, gear)
    mechanic.engine = mechanic.engine.with_magneto("right", meshed)
    seen_from, hand = sheet.seen_from, meshed.hand
    with_rotor = "clockwise" if (hand == "right") == (seen_from == "drive") else "counter-clockwise"
    mechanic.turn_housing("right", left, with_rotor)
    assert abs(true_deviation(mechanic, "right")) <= job.resolution + Fraction(1, 1000)


@given(jobs(off_by=thousandths("-5", "5")))
@PATIENCE
def test_that_one_housing_is_turned_by_the_side_that_opens_first(job: Job) -> None:
    # Both breakers in one housing on one drive: what turns one turns the other by as many crankshaft degrees.
    left = job.engine.magnetos["left"]
    twin = replace(job.engine.magnetos["right"], hand=left.hand, poles=left.poles, ratio=left.ratio, play=left.play)
    job = replace(job, engine=job.engine.with_magneto("right", twin))
    mechanic = measured(job)
    mechanic.more["magnetos"] = {"one_housing": True}
    said = check(mechanic.toml())
    early = {side: number(said[side]["deviation"]) for side in job.sheets}
    first = "left" if early["left"] >= early["right"] else "right"
    other = "right" if first == "left" else "left"
    assert said[other]["housing"] is None
    housing = said[first]["housing"]
    for side in job.sheets:
        seen_from = job.sheets[first].seen_from
        magneto = mechanic.engine.magnetos[side].housing_turned(
            number(housing["turn"]), housing["direction"], seen_from
        )
        mechanic.engine = mechanic.engine.with_magneto(side, magneto)
    assert abs(true_deviation(mechanic, first)) <= job.resolution + Fraction(1, 1000)
    difference = true_deviation(mechanic, other) - true_deviation(mechanic, first)
    assert abs(difference - (job.deviation(other) - job.deviation(first))) <= Fraction(1, 1000)
    assert true_deviation(mechanic, other) <= 2 * job.resolution


@given(jobs(sides=("left",), off_by=FAR_OUT))
@PATIENCE
def test_that_slot_millimetres_are_the_arc_that_the_advised_turn_draws(job: Job) -> None:
    mechanic = measured(job)
    mechanic.more["left"] = {"slot_radius_mm": "40"}
    housing = check(mechanic.toml())["left"]["housing"]
    # A circle of 40 mm is 251.327 mm round.
    assert_near(housing["slot_mm"], number(housing["turn"]) / 360 * Fraction("251.3274123"), Fraction(1, 1000))


@given(jobs(sides=("left",), off_by=st.just(Fraction(0))), st.data())
@PATIENCE
def test_that_a_known_mistake_at_the_engine_is_named(job: Job, data: st.DataObject) -> None:
    assume(job.resolution < 1)
    magneto, sheet = job.engine.magnetos["left"], job.sheets["left"]
    mistake = data.draw(st.sampled_from(("tdc-mark", "teeth", "wrong-hand")))
    if mistake == "tdc-mark":
        opening = Fraction(0)
    elif mistake == "teeth":
        sheet = replace(sheet, gear_teeth=data.draw(st.integers(24, 60)))
        opening = magneto.meshed(data.draw(st.sampled_from((-1, 1))), sheet.gear_teeth or 1).opening
    else:
        sheet = replace(sheet, e_gap=data.draw(st.integers(5, 15).map(Fraction)))
        opening = magneto.opening + data.draw(st.sampled_from((-2, 2))) * (sheet.e_gap or 0) / magneto.ratio
    wrong = replace(magneto, opening=opening)
    job = with_sheet(replace(job, engine=job.engine.with_magneto("left", wrong)), "left", sheet)
    said = check(measured(job).toml())
    assert f"mistake-{mistake}" in rules_of(said, "left")


@given(jobs(sides=("left",), off_by=thousandths("-30", "30")))
@PATIENCE
def test_that_a_deviation_far_from_the_nominal_does_not_name_the_tdc_mark(job: Job) -> None:
    away = abs(job.deviation("left") + job.sheets["left"].nominal)
    assume(away > 2 + job.resolution + FINE)
    assert "mistake-tdc-mark" not in rules_of(check(measured(job).toml()))
