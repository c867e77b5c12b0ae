"""The axes of the drift drawing: hours across, deviation up, both in steps that are read easily."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from desktop.core.shop.orders.visits import History
from desktop.core.typed_text import plain

WIDTH, HEIGHT = 432.0, 300.0
LEFT, RIGHT, TOP, BOTTOM = 42.0, 352.0, 30.0, 220.0
"""The plot's edges; the limits' words stand to the right of it, hours and signs below."""
_SIDE, _BAND = 0.05, 0.17  # of the range: free space at the sides, and beyond the outermost value
_LEAST_RANGE = 1.0  # degrees or hours: flatter than that, there is nothing to tell apart
_MOST_FORECAST = 1.5  # of the hours that were seen: farther ahead the forecast runs off the picture
_MOST_TICKS = 6


@dataclass(frozen=True, slots=True)
class Axes:
    """What range of hours and of crankshaft degrees (positive advanced) the plot shows."""

    first: float
    last: float
    least: float
    most: float

    def x(self, hours: float) -> float:
        """Return where hours stand."""
        return LEFT + (hours - self.first) / (self.last - self.first) * (RIGHT - LEFT)

    def y(self, deviation: float) -> float:
        """Return where a deviation stands; advanced is up."""
        return BOTTOM - (deviation - self.least) / (self.most - self.least) * (BOTTOM - TOP)

    def hour_ticks(self) -> Iterator[tuple[float, str]]:
        """Yield round hours with their numbers."""
        for value in _ticks(self.first, self.last):
            yield value, plain(value)

    def degree_ticks(self) -> Iterator[tuple[float, str]]:
        """Yield round deviations; which way they go is said at the ends of the axis, so none has a sign."""
        for value in _ticks(self.least, self.most):
            yield value, f"{plain(abs(value))}°"


def axes_of(history: History, limits: tuple[Fraction, Fraction], ahead: Fraction | None) -> Axes:
    """Return the axes for a history, its limits (most advanced, most retarded) and the hours of its forecast."""
    hours = [float(history.hours(visit)) for visit in history.compared]
    seen = max(hours[-1] - hours[0], _LEAST_RANGE)
    last = hours[-1] + (min(float(ahead), _MOST_FORECAST * seen) if ahead is not None else 0.0)
    values = [float(value) for visit in history.compared for value in (visit.found, visit.left) if value is not None]
    least, most = min(*values, -float(limits[1])), max(*values, float(limits[0]))
    range_ = max(most - least, _LEAST_RANGE)
    free = max(last - hours[0], _LEAST_RANGE) * _SIDE
    return Axes(hours[0] - free, last + free, least - range_ * _BAND, most + range_ * _BAND)


def _ticks(least: float, most: float) -> Iterator[float]:
    step = _step((most - least) / _MOST_TICKS)
    for number in range(math.ceil(least / step), math.floor(most / step) + 1):
        yield number * step


def _step(at_least: float) -> float:
    """Return the smallest of 1, 2 and 5 times a power of ten that is at least so much."""
    power = 10.0 ** math.floor(math.log10(at_least))
    return next(times * power for times in (1.0, 2.0, 5.0, 10.0) if times * power >= at_least)
