"""The mean of angles that lie close together, against the circular mean of the statistics books."""

import math
from fractions import Fraction

import pytest
from scipy.stats import circmean

from desktop.core.timing.angles import mean_around, sample_variance, wrapped
from tests.authorities.known import Known

SCIPY = "scipy.stats.circmean, documentation; run again"
WIDE = Known(7.294976657784009, SCIPY, 1e-12)
PLAIN = Known(126.666667, SCIPY, 1e-6)


@pytest.mark.parametrize(
    "angles",
    [
        ("359", "1"),
        ("39", "39.5", "38.75"),
        ("359.5", "0", "0.75"),
        ("0.25", "359.75", "0.5", "359.5"),
        ("179", "181", "180.5"),
        ("90",),
        ("270", "271", "272"),
    ],
)
def test_that_at_small_spreads_it_is_the_circular_mean(angles: tuple[str, ...]) -> None:
    exact = [Fraction(angle) for angle in angles]
    reference = Fraction(float(circmean([float(angle) for angle in exact], high=360, low=0)))
    # A thousandth of a degree; compared around the circle, for the reference says 360 where 0 is meant.
    assert abs(wrapped(mean_around(exact) - reference)) < Fraction(1, 1000)
    assert 0 <= mean_around(exact) < 360


def test_that_at_wide_spreads_it_stays_near_where_a_plain_mean_is_far_out() -> None:
    angles = [20, 30, 330]
    assert WIDE.agrees(float(circmean(angles, high=360, low=0)))
    assert PLAIN.agrees(sum(angles) / 3)
    found = mean_around([Fraction(angle) for angle in angles])
    # 20 and a third of (0 + 10 - 50).
    assert found == 20 - Fraction(40, 3)
    assert abs(float(found) - WIDE.value) < 0.7


def test_that_two_angles_agree_exactly_whatever_their_spread() -> None:
    for first, second in ((350, 30), (100, 20), (300, 10), (0, 179)):
        reference = float(circmean([first, second], high=360, low=0))
        assert math.isclose(float(mean_around([Fraction(first), Fraction(second)])), reference, abs_tol=1e-9)


def test_that_the_sample_variance_divides_by_one_less() -> None:
    source = "three values a unit apart have a sample standard deviation of 1: textbook"
    assert sample_variance([Fraction(21), Fraction(22), Fraction(23)]) == 1, source
