"""The bench example of the handbook: points open 10 degrees past neutral, and then the gap must lie in its window."""

from fractions import Fraction

import pytest

from desktop.core.timing.breaker import Window, contact_gap_error, e_gap_error
from tests.authorities.known import HANDBOOK, Known

SOURCE = f"{HANDBOOK} p. 4-29, one model"
E_GAP = Known(10, SOURCE)
LEAST_INCH, MOST_INCH = Known(0.012, SOURCE), Known(0.024, SOURCE)
MIDDLE_MM, HALF_MM = Known(0.4572, SOURCE, 5e-5), Known(0.1524, SOURCE, 5e-5)
INCH = Fraction("25.4")


def gap_window() -> Window:
    return Window(Fraction("0.018") - Fraction("0.006"), Fraction("0.018") + Fraction("0.006"))


def test_that_the_window_of_the_gap_has_these_ends() -> None:
    window = gap_window()
    assert LEAST_INCH.agrees(float(window.least))
    assert MOST_INCH.agrees(float(window.most))
    assert MIDDLE_MM.agrees(float((window.least + window.most) / 2 * INCH))
    assert HALF_MM.agrees(float((window.most - window.least) / 2 * INCH))


@pytest.mark.parametrize(
    ("gap", "error"),
    [("0.012", "0"), ("0.018", "0"), ("0.024", "0"), ("0.011", "-0.001"), ("0.025", "0.001"), ("0.030", "0.006")],
)
def test_that_a_gap_is_held_against_its_window_in_inches_and_millimetres(gap: str, error: str) -> None:
    window = gap_window()
    assert contact_gap_error(window, Fraction(gap)) == Fraction(error)
    metric = Window(window.least * INCH, window.most * INCH)
    assert contact_gap_error(metric, Fraction(gap) * INCH) == Fraction(error) * INCH


def test_that_points_opening_at_the_stated_e_gap_are_right_and_elsewhere_out() -> None:
    point = Window(Fraction(int(E_GAP.value)), Fraction(int(E_GAP.value)))
    assert e_gap_error(point, Fraction(10)) == 0
    assert e_gap_error(point, Fraction(9)) == -1
    # Set on the wrong side of neutral the rotor is out by twice the E-gap.
    assert e_gap_error(point, Fraction(-10)) == -20
