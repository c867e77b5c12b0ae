"""Scales, root sum of squares, probability of conformity, the guard band, and an off-centre disc."""

import math
from fractions import Fraction

import pytest
from scipy.stats import norm

from desktop.core.timing.readings import Decision, Limits
from desktop.core.timing.surety import is_inside_by, normal, off_centre_variance, one_reading, probability_within
from tests.authorities.known import MEMORY, Known, core_card

GUM = f"JCGM 100:2008 4.3.7 and F.2.2.1, clause numbers {MEMORY}; the rule in open pages"
SCALES = [("2", Known(0.5774, GUM, 5e-5)), ("1", Known(0.2887, GUM, 5e-5)), ("0.5", Known(0.1443, GUM, 5e-5))]
CONFORMITY = f"computed from the normal distribution; JCGM 106:2012 ch. 7 {MEMORY}"
PROBABILITIES = [
    ("24.0", 0.5000), ("24.4", 0.8413), ("24.8", 0.9759), ("25.0", 0.9876), ("25.2", 0.9759), ("25.6", 0.8413),
    ("26.0", 0.5000), ("26.4", 0.1587),
]  # fmt: skip
NORMAL = "the standard normal distribution, computed"
NORMALS = [
    (1, Known(0.841345, NORMAL, 5e-7)),
    (1.645, Known(0.950015, NORMAL, 5e-7)),
    (1.96, Known(0.975002, NORMAL, 5e-7)),
    (2, Known(0.977250, NORMAL, 5e-7)),
]
PLUS_MINUS_TWO = Known(0.954500, NORMAL, 5e-7)
GUARD = "acceptance limit = tolerance limit - w: ILAC-G8:09/2019 4.2.2"
COMMISSION = "International Archives of Photogrammetry, Report of Commission V, p. GV-21; amplitude computed"
AMPLITUDES = [
    ("0.5", "100", Known(0.2865, COMMISSION, 5e-5)),
    ("1", "100", Known(0.5730, COMMISSION, 5e-5)),
    ("0.25", "75", Known(0.1910, COMMISSION, 5e-5)),
    ("0.5", "50", Known(0.5730, COMMISSION, 5e-5)),
]
LIMITS = Limits(Fraction(1), Fraction(1), None, Decision.GUARDED)
FOUR_TENTHS = Fraction("0.16")


@pytest.mark.parametrize(("step", "known"), SCALES)
def test_that_a_scale_is_as_sure_as_its_step_over_the_root_of_12(step: str, known: Known) -> None:
    assert known.agrees(math.sqrt(one_reading(core_card({"measure.read_to": step}))))


def test_that_parts_add_up_as_squares() -> None:
    together = Known(0.4787, f"two readings of a 1 degree scale and a light of 0.25, computed; {GUM}", 5e-5)
    expanded = Known(0.9574, "the same, k = 2", 1e-4)
    one = one_reading(core_card({"measure.read_to": "1"}))
    found = math.sqrt(one + one + Fraction("0.25") ** 2)
    assert together.agrees(found)
    assert expanded.agrees(2 * found)


@pytest.mark.parametrize(("reading", "probability"), PROBABILITIES)
def test_that_the_probability_of_25_plus_or_minus_1_is_this(reading: str, probability: float) -> None:
    known = Known(probability, CONFORMITY, 5.1e-5)
    assert known.agrees(probability_within(LIMITS, Fraction(reading) - 25, FOUR_TENTHS))


@pytest.mark.parametrize(
    ("advanced", "retarded", "deviation", "u"), [(1, 1, 0.3, 0.4), (2, 0.5, -0.7, 0.25), (0, 3, 0, 1), (1, 1, 40, 0.1)]
)
def test_that_the_probability_is_that_of_the_reference_library(
    advanced: float, retarded: float, deviation: float, u: float
) -> None:
    limits = Limits(Fraction(advanced), Fraction(retarded), None, Decision.SIMPLE)
    reference = norm.cdf(advanced, deviation, u) - norm.cdf(-retarded, deviation, u)
    found = probability_within(limits, Fraction(deviation), Fraction(u) ** 2)
    assert math.isclose(found, float(reference), abs_tol=1e-12)


@pytest.mark.parametrize(("x", "known"), NORMALS)
def test_that_the_normal_distribution_has_its_known_values(x: float, known: Known) -> None:
    assert known.agrees(normal(x))
    assert math.isclose(normal(x), float(norm.cdf(x)), rel_tol=1e-13)
    assert math.isclose(normal(-x), float(norm.sf(x)), rel_tol=1e-12)


def test_that_two_standard_deviations_either_way_hold_95_45_in_100() -> None:
    assert PLUS_MINUS_TWO.agrees(normal(2) - normal(-2))


@pytest.mark.parametrize(
    ("reading", "accepted"),
    [("24.79999999", False), ("24.8", True), ("25", True), ("25.2", True), ("25.20000001", False), ("26.5", False)],
)
def test_that_a_guard_band_of_eight_tenths_accepts_only_the_middle(reading: str, accepted: bool) -> None:
    assert is_inside_by(LIMITS, Fraction(reading) - 25, FOUR_TENTHS) is accepted, GUARD


@pytest.mark.parametrize(("off", "radius", "known"), AMPLITUDES)
def test_that_an_off_centre_disc_errs_by_its_offset_over_its_radius(off: str, radius: str, known: Known) -> None:
    card = core_card({"measure.centring_mm": off, "measure.radius_mm": radius})
    # With contacts half a turn apart the middle is free of the error, and the light carries the whole amplitude.
    variance = off_centre_variance(card, Fraction(180), Fraction(22))
    assert known.agrees(math.sqrt(2 * variance))


def test_that_the_error_goes_as_a_sine_around_the_circle() -> None:
    # An offset in every direction, one after the other: the mean square of what a true circle of readings shows.
    card = core_card({"measure.centring_mm": "0.5", "measure.radius_mm": "75"})
    arc, btdc, ratio = 78.0, 22.0, 0.5 / 75
    squares = []
    for degree in range(360):
        way = math.radians(degree)
        contact_with, contact_against = math.radians(-arc / 2), math.radians(arc / 2)
        shown = [math.degrees(ratio * math.sin(at - way)) for at in (contact_with, contact_against)]
        light = math.degrees(ratio * math.sin(math.radians(-btdc) - way))
        squares.append((light - sum(shown) / 2) ** 2)
    variance = float(off_centre_variance(card, Fraction(78), Fraction(22)))
    assert math.isclose(variance, sum(squares) / len(squares), rel_tol=1e-9), COMMISSION
