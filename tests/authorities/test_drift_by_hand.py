"""Drift between visits, worked out by hand."""

from fractions import Fraction

from desktop.core.timing.drift import Visit, drift
from desktop.core.timing.readings import Decision, Limits
from tests.authorities.known import Known

BY_HAND = "computed by hand"
# 100 h: found 0.5 late of what was left, 0.5/100. 150 h later: left at 0, found 1 late. Together 1.5 in 250 hours.
PER_HOUR = Known(-0.006, BY_HAND, 1e-12)
# Left at 0.2 early, the late limit is 1: 1.2 / 0.006 hours.
HOURS = Known(200, BY_HAND, 1e-9)


def test_that_two_steps_of_drift_are_weighted_by_their_hours() -> None:
    visits = [
        Visit(Fraction(1000), Fraction(2), Fraction("0.5")),
        Visit(Fraction(1100), Fraction(0), Fraction(0)),
        Visit(Fraction(1250), Fraction(-1), Fraction("0.2")),
    ]
    found = drift(visits, Limits(Fraction("0.3"), Fraction(1), None, Decision.SIMPLE))
    assert found is not None
    assert PER_HOUR.agrees(float(found.per_hour))
    assert found.hours_to_limit is not None
    assert HOURS.agrees(float(found.hours_to_limit))
