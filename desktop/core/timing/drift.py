"""How a magneto's timing drifts between visits, and when it would reach a limit: a forecast, never an interval."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing.readings import Limits


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit: the deviation found and the deviation left, in crankshaft degrees, at so many hours in service."""

    hours: Fraction
    found: Fraction | None
    left: Fraction | None


@dataclass(frozen=True, slots=True)
class Drift:
    """Crankshaft degrees per hour, negative towards late, and the hours until the nearer limit, None when steady."""

    per_hour: Fraction
    hours_to_limit: Fraction | None


def drift(visits: Sequence[Visit], limits: Limits) -> Drift | None:
    """Work out the drift over visits in the order of their hours; None where no two of them can be compared.

    Between two visits: (as found now - as left last time) / hours. Weighted by hours that is the sum of the changes
    over the sum of the hours. A last value already at or beyond its limit has 0 hours left.
    """
    changed = hours = Fraction(0)
    for last, now in itertools.pairwise(visits):
        if last.left is not None and now.found is not None and now.hours > last.hours:
            changed += now.found - last.left
            hours += now.hours - last.hours
    latest = next((visit.left for visit in reversed(visits) if visit.left is not None), None)
    if not hours or latest is None:
        return None
    per_hour = changed / hours
    if per_hour == 0:
        return Drift(per_hour, None)
    room = limits.advanced_most - latest if per_hour > 0 else latest + limits.retarded_most
    return Drift(per_hour, max(Fraction(0), room / abs(per_hour)))
