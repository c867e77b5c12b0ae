"""For the cards: windows of the E-gap and of the contact gap, the retard breaker, and drift between visits."""

from fractions import Fraction

import pytest

from desktop.core.timing.breaker import Window, contact_gap_error, e_gap_error, retard_breaker_deviation
from desktop.core.timing.drift import Visit, drift
from desktop.core.timing.readings import Decision, Limits

LIMITS = Limits(advanced_most=Fraction(1), retarded_most=Fraction(2), apart_most=None, decision=Decision.SIMPLE)


@pytest.mark.parametrize(
    ("opened", "error"),
    [("8", "0"), ("10", "0"), ("12", "0"), ("12.01", "0.01"), ("7.99", "-0.01"), ("15", "3"), ("-10", "-18")],
)
def test_that_points_opening_past_the_window_are_late_on_the_rotor(opened: str, error: str) -> None:
    assert e_gap_error(Window(Fraction(8), Fraction(12)), Fraction(opened)) == Fraction(error)


@pytest.mark.parametrize(("gap", "error"), [("0.31", "0"), ("0.61", "0"), ("0.62", "0.01"), ("0.30", "-0.01")])
def test_that_a_contact_gap_is_a_length_with_both_ends_inside(gap: str, error: str) -> None:
    window = Window(Fraction("0.31"), Fraction("0.61"))
    assert contact_gap_error(window, Fraction(gap)) == Fraction(error)
    assert window.holds(Fraction(gap)) is (error == "0")


def test_that_a_window_with_its_ends_swapped_cannot_be_built() -> None:
    with pytest.raises(ValueError, match="window"):
        Window(Fraction(2), Fraction(1))
    assert Window(Fraction(1), Fraction(1)).holds(Fraction(1))


def test_that_a_retard_breaker_has_its_own_nominal_and_early_is_positive() -> None:
    assert retard_breaker_deviation(Fraction(-5), Fraction(-7)) == -2
    assert retard_breaker_deviation(Fraction(0), Fraction(3, 2)) == Fraction(3, 2)


def visit(hours: int, found: str | None, left: str | None) -> Visit:
    return Visit(Fraction(hours), Fraction(found) if found else None, Fraction(left) if left else None)


@pytest.mark.parametrize(
    ("visits", "per_hour", "hours"),
    [
        # One step: from 0 to -0.5 in 100 hours; left at 0.5 it is 2.5 from the late limit.
        ([visit(0, None, "0"), visit(100, "-0.5", "0.5")], "-0.005", "500"),
        # Weighted by hours: -0.5 in 100 and -0.4 in 20 are -0.9 in 120, not the mean of -0.005 and -0.02.
        ([visit(0, None, "0"), visit(100, "-0.5", "0"), visit(120, "-0.4", "0")], "-0.0075", str(Fraction(800, 3))),
        # Growing early runs to the early limit.
        ([visit(10, None, "0"), visit(60, "0.5", "0.5")], "0.01", "50"),
        # What was set at a visit is no drift.
        ([visit(0, "-3", "1"), visit(50, "1", "0")], "0", None),
        # On the limit there are no hours left.
        ([visit(0, None, "0"), visit(100, "-2", "-2")], "-0.02", "0"),
    ],
)
def test_that_drift_is_found_now_less_left_last_time_over_the_hours(
    visits: list[Visit], per_hour: str, hours: str | None
) -> None:
    said = drift(visits, LIMITS)
    assert said is not None
    assert said.per_hour == Fraction(per_hour)
    assert said.hours_to_limit == (None if hours is None else Fraction(hours))


@pytest.mark.parametrize(
    "visits",
    [[], [visit(0, "0", "0")], [visit(0, None, "0"), visit(100, None, "0")], [visit(0, "1", None), visit(9, "0", "0")]],
)
def test_that_without_two_values_to_compare_there_is_no_drift(visits: list[Visit]) -> None:
    assert drift(visits, LIMITS) is None
