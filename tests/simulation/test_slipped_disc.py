"""A disc that moved is found by the closing pair, at whatever moment it moved; swapped contacts are found as well."""

from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.disc import apart
from tests.simulation.job import Job
from tests.simulation.jobs import PATIENCE, jobs, thousandths
from tests.simulation.mechanic import Mechanic
from tests.simulation.truth import (
    Said,
    assert_not_established,
    assert_tdc_recovered,
    assert_timing_recovered,
    find_centre,
    rules_of,
    stopped_by,
)

DISCS = jobs(ways=("disc", "gauge"))
CLEARLY = 9  # lines; half of it is still far beyond one and a half


def slip_of(job: Job, lines: int, more: Fraction, way: int) -> Fraction:
    """A slip of so many lines and `more` disc degrees."""
    return way * (lines * job.engine.disc.read_to + more)


def first_reading(job: Job) -> int:
    """The number of the first contact among the readings: a centre by feel comes before it."""
    return 1 if job.turns != 1 else 0


def slipped_at(job: Job, pairs: int, moment: int, slip: Fraction) -> Said:
    """What is said when the disc slips just before the stop or light reading of that number; the closing pair is last.

    Where the program refuses the pairs before the disc is set to zero, the work ends there and so does the card.
    """
    mechanic = Mechanic(job, (first_reading(job) + moment, slip))
    if find_centre(mechanic, pairs=pairs, closing=False):
        for side in job.sheets:
            mechanic.approach(side)
        mechanic.take_pair(after_zeroing=job.zeroed)
    return check(mechanic.toml())


@given(DISCS, st.integers(1, 2), st.integers(1, 11), thousandths("0", "20"), st.sampled_from((1, -1)))
@PATIENCE
def test_that_a_disc_that_slips_between_the_first_and_the_last_contact_is_found(
    job: Job, pairs: int, moment: int, more: Fraction, way: int
) -> None:
    assume(moment < 2 * pairs + 8)  # three readings an approach, then the closing pair
    assume(not (job.zeroed and moment < 2 * pairs and moment % 2 == 0))  # between whole pairs: see the next test
    # Two pairs before it halve what a slip in the first one shows.
    said = slipped_at(job, pairs, moment, slip_of(job, CLEARLY * 2, more, way))
    stopped = stopped_by(said)
    assert stopped & {"disc-moved", "no-tdc", "centre-disagrees"}
    if 2 * pairs <= moment <= 2 * pairs + 6:
        assert "disc-moved" in stopped, "the pairs themselves are good, only the disc is not where it was"
    for side in job.sheets:
        assert said[side]["verdict"] == "not established"
        assert said[side]["btdc"] is None
    assert said["nothing_stops"] is False


@given(jobs(ways=("disc", "gauge"), zeroed=True), thousandths("0", "9"), st.sampled_from((1, -1)))
@PATIENCE
def test_that_a_slip_between_pairs_before_the_disc_is_set_to_zero_does_no_harm(
    job: Job, more: Fraction, way: int
) -> None:
    # Only the arc is taken from those pairs, and each pair by itself has the true one.
    slip = slip_of(job, 1, more, way)
    assume(job.turns == 1 or abs(slip) < 20 - 4 * job.turns - job.engine.disc.read_to * 2)
    said = slipped_at(job, 2, 2, slip)
    assert not stopped_by(said) & {"disc-moved", "no-tdc", "centre-disagrees"}
    for side in job.sheets:
        assert_timing_recovered(said, job, side)


@given(DISCS, thousandths("0", "20"), st.sampled_from((1, -1)))
@PATIENCE
def test_that_a_slip_after_the_closing_pair_is_beyond_finding(job: Job, more: Fraction, way: int) -> None:
    # The control: the same slip at a moment that no pair sees is not found, so that finding it above means something.
    mechanic = Mechanic(job)
    find_centre(mechanic)
    mechanic.move_disc(slip_of(job, CLEARLY, more, way))
    for side in job.sheets:
        mechanic.approach(side)
    said = check(mechanic.toml())
    assert "disc-moved" not in rules_of(said)
    off = abs(Fraction(str(said["left"]["deviation"])) - job.deviation("left"))
    assert off > job.resolution


@given(DISCS, st.integers(2, 3))
@PATIENCE
def test_that_a_still_disc_is_never_said_to_have_moved(job: Job, pairs: int) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, pairs=pairs)
    mechanic.approach("left")
    mechanic.approach("right")
    said = check(mechanic.toml())
    assert not rules_of(said) & {"disc-moved", "no-closing-pair", "no-tdc", "centre-disagrees", "centre-missing"}


@given(DISCS)
@PATIENCE
def test_that_without_a_closing_pair_somebody_must_explain(job: Job) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, closing=False)
    mechanic.approach("left")
    mechanic.approach("right")
    said = check(mechanic.toml())
    severities = {finding["rule"]: finding["severity"] for finding in said["findings"]}
    assert severities["no-closing-pair"] == "explain"
    assert_tdc_recovered(said, job)
    for side in job.sheets:
        assert_timing_recovered(said, job, side)


@given(DISCS, st.integers(1, 3), st.integers(0, 2))
@PATIENCE
def test_that_contacts_written_in_each_others_place_give_no_centre(job: Job, pairs: int, which: int) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, pairs=pairs, closing=False)
    swapped = mechanic.stops[which % pairs]
    swapped["with"], swapped["against"] = swapped["against"], swapped["with"]
    for side in job.sheets:
        mechanic.approach(side)
    said = check(mechanic.toml())
    # On a geared propeller the swapped arc may look like an arc; then the centre by feel does not agree.
    assert stopped_by(said) & ({"no-tdc"} if job.turns == 1 else {"no-tdc", "centre-disagrees", "disc-moved"})
    if pairs == 1 or job.turns == 1:
        assert set(said["tdc"].values()) == {None}
    for side in job.sheets:
        assert said[side]["verdict"] == "not established"


@given(jobs(ways=("disc", "gauge"), geared=True), thousandths("31", "329"))
@PATIENCE
def test_that_a_geared_propeller_needs_a_centre_by_feel_that_agrees(job: Job, off: Fraction) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, closing=False)
    mechanic.approach("left")
    mechanic.approach("right")
    mechanic.centre = None
    said = check(mechanic.toml())
    assert "centre-missing" in stopped_by(said)
    assert_not_established(said, "left", "centre-missing", "approach-without-tdc")
    mechanic.centre = job.engine.disc.read(off / job.turns)
    assert apart(job.engine.disc.place(off / job.turns), job.engine.disc.at_tdc) > 20
    said = check(mechanic.toml())
    assert "centre-disagrees" in stopped_by(said)
    assert set(said["tdc"].values()) == {None}
    assert_not_established(said, "right", "centre-disagrees", "approach-without-tdc")
