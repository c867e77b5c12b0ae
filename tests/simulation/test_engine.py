"""The simulated engine itself is held to plain geometry before it may judge anybody."""

from fractions import Fraction
from types import MappingProxyType

import pytest
from hypothesis import given

from tests.simulation.disc import Disc, apart, either_side, engine_marks, split_text, to_the_nearest, written
from tests.simulation.engine import THOUSANDTH, Crankcase, Engine
from tests.simulation.job import Job
from tests.simulation.jobs import PATIENCE, jobs
from tests.simulation.magneto import Magneto
from tests.simulation.mechanic import Mechanic
from tests.simulation.paper import place_said

CASE = Crankcase((1, 4, 5, 2, 3, 6), "clockwise", Fraction(4), Fraction(6), Fraction(1))
PLAIN = Magneto("right", 2, Fraction(3, 2), Fraction(22), Fraction(3))
COUPLED = Magneto("right", 2, Fraction(3, 2), Fraction(22), Fraction(3), Fraction(15), Fraction(20))


def engine(magneto: Magneto, crank: int = -120) -> Engine:
    disc = Disc(Fraction(1), 1, "full", Fraction(1, 2), Fraction(123))
    standing = Engine(CASE, disc, MappingProxyType({"left": magneto}), Fraction(crank))
    return standing.turned(Fraction(-50)).turned(Fraction(50))


@pytest.mark.parametrize(
    ("crank", "depth"),
    [(5, 0.01014), (10, 0.04044), (25, 0.24722), (45, 0.75483), (60, 1.25544), (90, 2.34315), (180, 4.0)],
)
def test_that_the_piston_goes_down_as_slider_and_crank_say(crank: int, depth: float) -> None:
    assert CASE.piston_depth(Fraction(crank)) == pytest.approx(depth, abs=6e-6)
    assert CASE.piston_depth(Fraction(-crank)) == pytest.approx(depth, abs=6e-6)


def test_that_a_stop_holds_the_piston_on_both_sides_of_either_top() -> None:
    stopped = engine(PLAIN).stop_fitted(0.24722)
    assert stopped.stop == pytest.approx(25, abs=0.002)
    assert stopped.turned(Fraction(300)).crank == pytest.approx(-25, abs=0.002)
    assert stopped.turned(Fraction(300)).turned(Fraction(-600)).crank == pytest.approx(-335, abs=0.002)


def test_that_no_stop_goes_in_under_a_piston_at_the_top() -> None:
    with pytest.raises(ValueError, match="where the stop would go"):
        engine(PLAIN, -3).stop_fitted(0.5)


@pytest.mark.parametrize(
    ("value", "text"), [("0", "0"), ("0.25", "0.25"), ("-0.05", "-0.05"), ("12.500", "12.5"), ("359.999", "359.999")]
)
def test_that_numbers_are_written_as_a_hand_writes_them(value: str, text: str) -> None:
    assert written(Fraction(value)) == text


def test_that_a_split_disc_names_the_side_and_a_full_one_comes_round() -> None:
    assert [split_text(Fraction(value)) for value in (-22, 0, 180, 3)] == ["22 before", "0", "180", "3 after"]
    disc = Disc(Fraction(1), -1, "full", Fraction(1, 2), Fraction(10))
    assert [disc.read(Fraction(crank)) for crank in (0, 10, 20)] == ["10", "0", "350"]
    assert disc.read(Fraction("10.2")) == "0"
    assert engine_marks(Fraction(1)).read(Fraction(-22)) == "22 before"
    assert place_said("22.5 before") == Fraction("-22.5")
    assert [either_side(Fraction(340)), apart(Fraction(359), Fraction(2))] == [Fraction(-20), Fraction(3)]
    assert to_the_nearest(Fraction("0.26"), Fraction(1, 2)) == Fraction(1, 2)


def test_that_the_points_open_at_their_angle_forward_and_close_later_by_the_play() -> None:
    at = engine(PLAIN)
    opened, closed = None, None
    for _ in range(1200):
        at, before = at.turned(Fraction(1, 10)), at
        if at.magnetos["left"].points_open and not before.magnetos["left"].points_open:
            opened = at.crank
    for _ in range(1200):
        at, before = at.turned(Fraction(-1, 10)), at
        if before.magnetos["left"].points_open and not at.magnetos["left"].points_open:
            closed = before.crank
    assert opened == Fraction(-22)
    assert closed == Fraction(-25)


def test_that_a_right_hand_housing_turned_clockwise_from_the_drive_end_opens_the_points_later() -> None:
    # Clockwise there is the way a right-hand rotor turns: the breaker runs away from the lobe, which comes to it later.
    later = PLAIN.housing_turned(Fraction(3), "clockwise", "drive")
    assert later.true_btdc == 20
    assert PLAIN.housing_turned(Fraction(3), "counter-clockwise", "back") == later
    assert PLAIN.housing_turned(Fraction(3), "clockwise", "back").true_btdc == 24


def test_that_a_caught_rotor_opens_late_with_a_snap_and_a_free_one_on_time() -> None:
    def where_light_comes(start: Engine) -> tuple[Fraction, int]:
        at = start
        while not at.magnetos["left"].points_open:
            at = at.turned(Fraction(1, 10))
        return at.crank, at.magnetos["left"].snaps - start.magnetos["left"].snaps

    caught = engine(COUPLED).turned(Fraction(70))
    assert where_light_comes(caught) == (Fraction(-2), 1)
    through = caught.turned(Fraction(60))
    assert where_light_comes(through.turned(Fraction(-22 - 3 - 5) - through.crank)) == (Fraction(-22), 0)
    assert where_light_comes(through.turned(Fraction(-22 - 3 - 16) - through.crank)) == (Fraction(-2), 1)


@given(jobs(sides=("left",)))
@PATIENCE
def test_that_turning_step_by_step_finds_the_openings_where_the_drawing_puts_them(job: Job) -> None:
    mechanic = Mechanic(job)
    mechanic.turn_back_to(mechanic.closed_at("left") - job.beyond)
    mechanic.turn_slowly(1, mechanic.lit("left"))
    magneto = job.engine.magnetos["left"]
    assert abs(mechanic.engine.crank + magneto.true_btdc) <= THOUSANDTH
    mechanic.turn_slowly(-1, mechanic.dark("left"))
    assert abs(mechanic.engine.crank - mechanic.closed_at("left")) <= THOUSANDTH


@given(jobs(sides=("left",), impulse=True))
@PATIENCE
def test_that_the_coupling_clicks_its_lag_after_the_opening(job: Job) -> None:
    mechanic = Mechanic(job)
    mechanic.go_through_the_snap("left")
    magneto = job.engine.magnetos["left"]
    assert abs(mechanic.engine.crank - (magneto.lag - magneto.true_btdc)) <= THOUSANDTH


@given(jobs(ways=("disc", "gauge")))
@PATIENCE
def test_that_the_stop_is_met_as_far_before_one_top_as_after_the_one_before(job: Job) -> None:
    mechanic = Mechanic(job)
    mechanic.take_pair()
    rests = mechanic.engine.crank
    assert rests == (job.half_arc - 360 if job.with_first else -job.half_arc)
    assert 0 < job.half_arc < 90
