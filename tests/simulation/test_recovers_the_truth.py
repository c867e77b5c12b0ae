"""The simulated engine is turned step by step, and the program must find out what is true of it.

Tolerances come from the scale alone: a reading is at most half a line out, and so is the mean of two. On the crankshaft
a line is `read_to` over the turns of the disc; see `Job.resolution`. Where the truth lies nearer to a limit than that,
no verdict is asked for.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.job import FINE, Job
from tests.simulation.jobs import PATIENCE, jobs, thousandths
from tests.simulation.mechanic import Mechanic
from tests.simulation.truth import (
    approach_rightly,
    assert_backlash_recovered,
    assert_near,
    assert_same_place,
    assert_tdc_recovered,
    assert_timing_recovered,
    find_centre,
    measured,
    rules_of,
    stopped_by,
)


@given(jobs(), st.integers(1, 3))
@PATIENCE
def test_that_every_way_of_measuring_recovers_the_truth(job: Job, pairs: int) -> None:
    said = check(measured(job, pairs=pairs).toml())
    assert_tdc_recovered(said, job)
    for side in job.sheets:
        assert_timing_recovered(said, job, side)
        assert_backlash_recovered(said, job, side)
    assert said["format"] == 1


@given(jobs(impulse=True))
@PATIENCE
def test_that_the_truth_is_recovered_behind_an_impulse_coupling(job: Job) -> None:
    said = check(measured(job).toml())
    assert_tdc_recovered(said, job)
    for side, sheet in job.sheets.items():
        assert_timing_recovered(said, job, side)
        assert_backlash_recovered(said, job, side)
        click = sheet.nominal - job.engine.magnetos[side].lag
        assert_near(said[side]["click_btdc"], click, Fraction(0))


@given(jobs(geared=True, ways=("disc", "gauge")))
@PATIENCE
def test_that_a_geared_propeller_recovers_the_truth(job: Job) -> None:
    assume(job.turns != 1)
    said = check(measured(job).toml())
    assert_tdc_recovered(said, job)
    for side in job.sheets:
        assert_timing_recovered(said, job, side)
        assert_backlash_recovered(said, job, side)


@given(jobs(ways=("disc", "gauge"), zeroed=True), st.integers(1, 2))
@PATIENCE
def test_that_a_zeroed_disc_needs_only_the_pairs_taken_after(job: Job, pairs: int) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, closing=False)
    mechanic.stops.clear()
    for _ in range(pairs):
        mechanic.take_pair(after_zeroing=True)
    if job.turns != 1:
        mechanic.feel_for_centre()
    for side in job.sheets:
        mechanic.approach(side)
    said = check(mechanic.toml())
    assert_same_place(said["tdc"]["reading"], Fraction(0), job.engine.disc.read_to * Fraction(3, 2))
    for side in job.sheets:
        assert_timing_recovered(said, job, side)


@given(jobs())
@PATIENCE
def test_that_a_closing_pair_taken_last_of_all_is_as_good(job: Job) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, closing=False)
    for side in job.sheets:
        mechanic.approach(side)
    if job.by != "marks":
        mechanic.take_pair(after_zeroing=job.zeroed)
    said = check(mechanic.toml())
    assert "disc-moved" not in rules_of(said)
    for side in job.sheets:
        assert_timing_recovered(said, job, side)


@given(jobs())
@PATIENCE
def test_that_only_the_truth_stops_an_honest_card(job: Job) -> None:
    said = check(measured(job).toml())
    difference = job.deviation("left") - job.deviation("right")
    doubt = job.line + FINE
    assert_near(said["sync"]["difference"], difference, doubt)
    expected: set[str] = set()
    for side in job.sheets:
        verdict = job.verdict(side)
        assume(verdict is not None)
        if verdict in {"advanced", "retarded"}:
            expected.add(str(verdict))
    assume(abs(abs(difference) - job.apart_most) > doubt)
    if abs(difference) > job.apart_most:
        expected.add("magnetos-apart")
    assert said["sync"]["verdict"] == ("outside" if "magnetos-apart" in expected else "within")
    assert stopped_by(said) == expected
    assert said["nothing_stops"] == (not expected)


@given(jobs(sides=("right",)), st.integers(2, 3))
@PATIENCE
def test_that_repeats_of_a_still_engine_say_the_same(job: Job, times: int) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    for _ in range(times):
        mechanic.approach("right")
    said = check(mechanic.toml())
    assert_timing_recovered(said, job, "right")
    assert_backlash_recovered(said, job, "right")
    assert said["left"] is None
    assert said["sync"] is None


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_coming_straight_from_compression_recovers_the_truth(job: Job) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    mechanic.approach_from_compression("left")
    said = check(mechanic.toml())
    assert_timing_recovered(said, job, "left")
    assert said["left"]["back_off"] is None
    assert "direction-declared" in rules_of(said, "left")


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_the_back_off_is_how_far_the_approach_came(job: Job) -> None:
    said = check(measured(job).toml())
    came = job.engine.magnetos["left"].play + job.beyond
    assert_near(said["left"]["back_off"], came, job.line + FINE)


@given(jobs(sides=("left",), off_by=thousandths("-5", "5")), thousandths("-9", "9"))
@PATIENCE
def test_that_what_was_found_and_what_was_left_are_told_apart(job: Job, turned: Fraction) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    found = job.deviation("left")
    mechanic.approach("left", "as found")
    mechanic.turn_housing("left", abs(turned), "clockwise" if turned > 0 else "counter-clockwise")
    mechanic.approach("left", "setting")
    mechanic.approach("left")
    said = check(mechanic.toml())
    assert_near(said["left"]["as_found"]["deviation"], found, job.resolution)
    left = mechanic.engine.magnetos["left"].true_btdc - job.sheets["left"].nominal
    assert_near(said["left"]["deviation"], left, job.resolution)


@given(jobs(ways=("disc", "gauge"), sides=("left",)))
@PATIENCE
def test_that_the_target_reading_is_where_the_crankshaft_stands_at_the_nominal_angle(job: Job) -> None:
    mechanic = measured(job)
    said = check(mechanic.toml())
    place = mechanic.engine.disc.place(-job.sheets["left"].nominal)
    assert_same_place(said["left"]["target_reading"], place, job.resolution * job.turns)


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_the_firing_table_is_the_order_in_which_the_points_open(job: Job) -> None:
    mechanic = measured(job)
    at = mechanic.engine.turned(Fraction(-30))
    opened: list[Fraction] = []
    while len(opened) <= len(job.engine.case.firing_order):
        further = at.turned(Fraction(1, 2))
        if further.magnetos["left"].points_open and not at.magnetos["left"].points_open:
            opened.append(further.crank)
        at = further
    firing = check(mechanic.toml())["firing"]
    assert [row["cylinder"] for row in firing] == list(job.engine.case.firing_order)
    assert [row["electrode"] for row in firing] == list(range(1, len(firing) + 1))
    for row, crank in zip(firing, opened, strict=False):
        assert_near(row["crank"], crank - opened[0], Fraction(1, 2))


@given(jobs(sides=("left",)), st.sampled_from((1, -1)))
@PATIENCE
def test_that_the_truth_check_fails_for_another_truth(job: Job, way: int) -> None:
    said = check(measured(job).toml())
    magneto = job.engine.magnetos["left"]
    elsewhere = replace(magneto, opening=magneto.opening + way * (2 * job.resolution + Fraction(1, 100)))
    with pytest.raises(AssertionError, match="allowed"):
        assert_timing_recovered(said, replace(job, engine=job.engine.with_magneto("left", elsewhere)), "left")


@given(jobs(sides=("left",), impulse=True))
@PATIENCE
def test_that_an_honest_card_with_a_coupling_has_no_void_approach(job: Job) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    approach_rightly(mechanic, "left")
    assert stopped_by(check(mechanic.toml())) <= {"advanced", "retarded"}
