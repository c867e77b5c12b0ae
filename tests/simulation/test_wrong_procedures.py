"""What was not properly measured establishes nothing, whatever number it would give; the rule that is broken is named.

Beside each stands what the same reading would have been worth to somebody who only takes a difference.
"""

from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.disc import written
from tests.simulation.job import Job
from tests.simulation.jobs import PATIENCE, jobs, thousandths
from tests.simulation.mechanic import Mechanic
from tests.simulation.truth import (
    assert_near,
    assert_not_established,
    assert_timing_recovered,
    find_centre,
    rules_of,
    stopped_by,
)

TIMED_RIGHT = thousandths("0", "0")
AHEAD = thousandths("10", "38")  # where the points of any of the engines are still open


def at_centre(job: Job) -> Mechanic:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    return mechanic


def without_play(job: Job) -> Job:
    free = {side: replace(magneto, play=Fraction(0)) for side, magneto in job.engine.magnetos.items()}
    return replace(job, engine=replace(job.engine, magnetos=MappingProxyType(free)))


@given(jobs(sides=("left",)), AHEAD)
@PATIENCE
def test_that_an_approach_against_rotation_establishes_nothing(job: Job, ahead: Fraction) -> None:
    mechanic = at_centre(job)
    mechanic.approach_against_rotation("left", ahead)
    said = check(mechanic.toml())
    assert_not_established(said, "left", "against-rotation")


@given(jobs(sides=("left",)), AHEAD)
@PATIENCE
def test_that_a_good_approach_before_or_a_known_backlash_does_not_save_one_against_rotation(
    job: Job, ahead: Fraction
) -> None:
    mechanic = at_centre(job)
    mechanic.approach("left")
    mechanic.approach_against_rotation("left", ahead)
    said = check(mechanic.toml())
    assert_not_established(said, "left", "against-rotation")
    assert_near(said["left"]["backlash"], job.engine.magnetos["left"].play, job.resolution + job.line)


@given(jobs(sides=("left",), off_by=TIMED_RIGHT), AHEAD)
@PATIENCE
def test_that_against_rotation_shows_the_play_as_a_deviation_and_only_without_play_the_truth(
    job: Job, ahead: Fraction
) -> None:
    def naive_deviation(of: Job) -> Fraction:
        mechanic = at_centre(of)
        mechanic.approach_against_rotation("left", ahead)
        # Written as if it had been reached the right way, so that the program takes the difference for us.
        mechanic.approaches["left"][0]["from"] = "compression"
        return Fraction(str(check(mechanic.toml())["left"]["deviation"]))

    play = job.engine.magnetos["left"].play
    assert_near(float(naive_deviation(job)), play, job.resolution)
    free = without_play(job)
    assert abs(naive_deviation(free)) <= job.resolution + Fraction(1, 10_000)
    mechanic = at_centre(free)
    mechanic.approach_against_rotation("left", ahead)
    assert_not_established(check(mechanic.toml()), "left", "against-rotation")


@given(jobs(sides=("left",)), st.fractions(0, 1), st.fractions(0, 1), st.booleans())
@PATIENCE
def test_that_an_approach_begun_within_the_play_establishes_nothing(
    job: Job, backed: Fraction, forward: Fraction, known_before: bool
) -> None:
    play = job.engine.magnetos["left"].play
    assume(play > 3 * job.line)
    mechanic = at_centre(job)
    if known_before:
        mechanic.approach("left")
    inside = (play - 2 * job.line) * backed  # clear of the edge, where rounding could carry it over
    mechanic.approach_within_the_play("left", inside, inside * forward, back=not known_before)
    said = check(mechanic.toml())
    assert_not_established(said, "left", "within-backlash", "against-rotation")


@given(jobs(sides=("left",), off_by=TIMED_RIGHT), st.fractions(0, 1))
@PATIENCE
def test_that_within_the_play_a_mere_difference_would_pass_a_false_number(job: Job, part: Fraction) -> None:
    play = job.engine.magnetos["left"].play
    assume(play > 5 * job.line)
    mechanic = at_centre(job)
    backed = (play - 3 * job.line) * (1 + part) / 2
    row = mechanic.approach_within_the_play("left", backed, Fraction(0), back=False)
    row["from"] = "compression"
    naive = Fraction(str(check(mechanic.toml())["left"]["deviation"]))
    assert abs(naive - backed) <= job.resolution + Fraction(1, 10_000), "early by as much as was backed off"


@given(jobs(sides=("left",)), thousandths("0.001", "8"), st.booleans())
@PATIENCE
def test_that_too_little_and_too_much_back_off_establish_nothing(job: Job, more: Fraction, too_far: bool) -> None:
    mechanic = at_centre(job)
    mechanic.approach("left")
    came = job.engine.magnetos["left"].play + job.beyond
    clear = job.line + Fraction(1, 100) + more
    bound = -((clear - came) // Fraction(1, 2)) / 2 - Fraction(1, 2) if too_far else came + clear
    bound = round(bound * 1000) / Fraction(1000)
    assume(bound >= 0)
    mechanic.more["left"] = {"back_off_most" if too_far else "back_off_least": written(bound)}
    assume(came - bound > job.line + Fraction(1, 100) if too_far else bound - came > job.line)
    assert_not_established(check(mechanic.toml()), "left", "back-off-most" if too_far else "back-off-least")


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_back_off_limits_that_were_kept_to_change_nothing(job: Job) -> None:
    mechanic = at_centre(job)
    mechanic.approach("left")
    came = round((job.engine.magnetos["left"].play + job.beyond) * 1000) / Fraction(1000)
    clear = round((job.line + Fraction(1, 100)) * 1000) / Fraction(1000)
    mechanic.more["left"] = {
        "back_off_least": written(max(came - clear, Fraction(0))),
        "back_off_most": written(came + clear),
    }
    assert_timing_recovered(check(mechanic.toml()), job, "left")


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_straight_from_compression_meets_a_least_back_off_but_never_a_greatest(job: Job) -> None:
    mechanic = at_centre(job)
    mechanic.approach_from_compression("left")
    mechanic.more["left"] = {"back_off_least": "40"}
    assert_timing_recovered(check(mechanic.toml()), job, "left")
    mechanic.more["left"] = {"back_off_most": "360"}
    assert_not_established(check(mechanic.toml()), "left", "back-off-most")


@given(jobs(sides=("left",), impulse=True), st.booleans())
@PATIENCE
def test_that_a_light_that_came_with_the_snap_establishes_nothing(job: Job, passed_before: bool) -> None:
    mechanic = at_centre(job)
    row = mechanic.approach_into_the_snap("left", passed_before=passed_before)
    assert row["snapped"] is True
    said = check(mechanic.toml())
    assert_not_established(said, "left", "snapped")
    assert ("click-not-passed" in stopped_by(said, "left")) is not passed_before


@given(jobs(sides=("left",), impulse=True, off_by=TIMED_RIGHT))
@PATIENCE
def test_that_the_snap_comes_late_by_the_lag_and_an_unticked_click_is_refused_all_the_same(job: Job) -> None:
    mechanic = at_centre(job)
    row = mechanic.approach_into_the_snap("left", passed_before=False)
    del row["snapped"]
    assert_not_established(check(mechanic.toml()), "left", "click-not-passed")
    row["click_passed"] = True  # somebody who heard nothing and ticks the box
    said = check(mechanic.toml())
    assume(said["left"]["deviation"] is not None)
    assert_near(said["left"]["deviation"], -job.engine.magnetos["left"].lag, job.resolution)
    assert "mistake-lag" in rules_of(said, "left")


@given(jobs(sides=("left",), impulse=True))
@PATIENCE
def test_that_a_good_approach_before_the_snap_was_passed_establishes_nothing(job: Job) -> None:
    mechanic = at_centre(job)
    row = mechanic.approach_past_the_click("left")
    del row["click_passed"]
    assert_not_established(check(mechanic.toml()), "left", "click-not-passed")


@given(jobs(sides=("left",)), AHEAD)
@PATIENCE
def test_that_only_the_last_as_left_counts_and_a_void_one_is_taken_again(job: Job, ahead: Fraction) -> None:
    mechanic = at_centre(job)
    mechanic.approach("left")
    mechanic.approach_against_rotation("left", ahead)
    assert_not_established(check(mechanic.toml()), "left", "against-rotation")
    mechanic.approach("left")
    said = check(mechanic.toml())
    assert_timing_recovered(said, job, "left")
    assert "approach-void" in rules_of(said, "left.approach[2]")
    assert stopped_by(said) <= {"advanced", "retarded"}


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_a_setting_after_the_last_as_left_takes_its_worth_away(job: Job) -> None:
    mechanic = at_centre(job)
    mechanic.approach("left")
    mechanic.approach("left", "setting")
    assert_not_established(check(mechanic.toml()), "left", "setting-after")
    mechanic.approach("left")
    assert_timing_recovered(check(mechanic.toml()), job, "left")


@given(jobs(sides=("left",)), AHEAD)
@PATIENCE
def test_that_a_void_as_found_is_recorded_and_stops_nobody(job: Job, ahead: Fraction) -> None:
    mechanic = at_centre(job)
    mechanic.approach_against_rotation("left", ahead, "as found")
    mechanic.approach("left")
    said = check(mechanic.toml())
    assert said["left"]["as_found"] == {"btdc": None, "deviation": None, "verdict": "not established"}
    assert "as-found-void" in rules_of(said)
    assert stopped_by(said) <= {"advanced", "retarded"}
    assert_timing_recovered(said, job, "left")


@given(jobs())
@PATIENCE
def test_that_a_card_without_readings_is_stopped_as_not_measured(job: Job) -> None:
    mechanic = Mechanic(job)
    said = check(mechanic.toml())
    assert "not-measured" in stopped_by(said)
    for side in job.sheets:
        assert_not_established(said, side, "not-measured")
        if job.zeroed:
            target = Fraction(said[side]["target_reading"]) if job.engine.disc.marking == "full" else None
            place = (-job.sign * job.turns * job.sheets[side].nominal) % 360
            assert target is None or abs(target - place) < Fraction(1, 5000)
    assert set(said["tdc"].values()) == {None}
