"""How sure the reading is, worked out again from the readings on the card, step by step in plain floats."""

from fractions import Fraction
from math import cos, erf, hypot, isfinite, radians, sqrt
from statistics import stdev
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.door import check
from tests.simulation.cards import as_text
from tests.simulation.disc import either_side, written
from tests.simulation.job import Job
from tests.simulation.jobs import PATIENCE, jobs
from tests.simulation.mechanic import Mechanic
from tests.simulation.paper import measure_table, place_said
from tests.simulation.truth import find_centre


def middle(job: Job, pair: dict[str, Any]) -> Fraction:
    """The place at TDC by one pair: half a turn of the crankshaft further than the mean of the contacts."""
    turns = job.sign * job.turns
    first, second = place_said(pair["with"]), place_said(pair["against"])
    swept = (job.sign * (first - second)) % 360  # the long way round
    arc = 360 - swept / job.turns
    return first + turns * arc / 2


def spread_on_crank(job: Job, values: list[Fraction]) -> float:
    """Sample standard deviation of places on the disc, in crankshaft degrees."""
    return stdev([float(either_side(value - values[0])) for value in values]) / float(job.turns)


def expected_u(mechanic: Mechanic, side: str) -> float:
    """Root sum of squares: the middle, the setting by hand, the light."""
    job = mechanic.job
    one = float(job.line) / sqrt(12)
    lights = [place_said(row["light"]) for row in mechanic.approaches[side]]
    light = one if len(lights) == 1 else max(one, spread_on_crank(job, lights))
    if job.by == "marks":
        return light
    pairs = [pair for pair in mechanic.stops if not pair.get("after_zeroing")]
    number = len(pairs)
    centre = one / sqrt(2 * number)
    if number > 1:
        centre = max(centre, spread_on_crank(job, [middle(job, pair) for pair in pairs]) / sqrt(number))
    return hypot(centre, one if job.zeroed else 0.0, light)


def within(d: float, u: float, retarded: Fraction, advanced: Fraction) -> float:
    """How likely the truth lies inside the limits, for a normal spread."""
    return (erf((float(advanced) - d) / u / sqrt(2)) - erf((-float(retarded) - d) / u / sqrt(2))) / 2


@given(jobs(sides=("left",)), st.integers(1, 3), st.lists(st.integers(-3, 3), max_size=3))
@PATIENCE
def test_that_the_uncertainty_is_the_root_sum_of_what_was_read(job: Job, pairs: int, shaken: list[int]) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic, pairs=pairs)
    mechanic.approach("left", back=False)
    for lines in shaken:  # a hand that does not come to the same line twice
        mechanic.move_disc(lines * job.engine.disc.read_to)
        mechanic.approach("left", back=False)
        mechanic.move_disc(-lines * job.engine.disc.read_to)
    said = check(mechanic.toml())
    u = expected_u(mechanic, "left")
    assert float(said["left"]["u"]) == pytest.approx(u, abs=6e-5)
    likely = within(float(said["left"]["deviation"]), u, job.retarded_most, job.advanced_most)
    assert float(said["left"]["p_within"]) == pytest.approx(likely, abs=2e-3)


@given(jobs(ways=("disc",), sides=("left",)), st.integers(1, 40))
@PATIENCE
def test_that_a_disc_centred_only_within_a_tolerance_adds_its_amplitude(job: Job, tenths: int) -> None:
    mechanic = Mechanic(job)
    find_centre(mechanic)
    mechanic.approach("left")
    card = mechanic.card()
    said = check(mechanic.toml())
    eccentric, radius = Fraction(tenths, 10), Fraction(80)
    card["measure"] = measure_table(job, mechanic.centre) | {
        "radius_mm": written(radius),
        "centring_mm": written(eccentric),
    }
    again = check(as_text(card))
    g, arc, btdc = float(job.turns), float(said["tdc"]["arc"]), float(said["left"]["btdc"])
    k = cos(radians(g * (360 - arc) / 2))
    ring = float(eccentric / radius) * sqrt(1 + k * k - 2 * k * cos(radians(180 * g - g * btdc)))
    added = ring * 57.29577951308232 / g / sqrt(2)
    assert isfinite(added)
    assert float(again["left"]["u"]) == pytest.approx(hypot(float(said["left"]["u"]), added), abs=5e-4)
