"""The breaker on the bench and the retard breaker on the engine.

Source of the bench example: FAA-H-8083-32B p. 4-29; the figures of a job come from the magneto's own data.
"""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Window:
    """A window for a measured value, both ends inclusive, in the unit of the value."""

    least: Fraction
    most: Fraction

    def __post_init__(self) -> None:
        """Refuse a window whose ends stand the wrong way round."""
        if self.least > self.most:
            raise ValueError("the least value of a window is above its most")

    def holds(self, value: Fraction) -> bool:
        """Tell whether a value lies in the window; on its edge is in."""
        return self.least <= value <= self.most


def e_gap_error(window: Window, opened_at: Fraction) -> Fraction:
    """Return how far outside the E-gap window the points opened, in magneto degrees past neutral; 0 inside.

    Positive: opened too late on the rotor. Negative: too early.
    """
    return _outside(window, opened_at)


def contact_gap_error(window: Window, gap: Fraction) -> Fraction:
    """Return how far outside its window the contact gap is, in the unit of the window; 0 inside, positive too wide."""
    return _outside(window, gap)


def retard_breaker_deviation(nominal: Fraction, btdc: Fraction) -> Fraction:
    """Return the retard breaker's deviation in crankshaft degrees, positive advanced; its nominal is its own."""
    return btdc - nominal


def _outside(window: Window, value: Fraction) -> Fraction:
    if window.holds(value):
        return Fraction(0)
    return value - window.most if value > window.most else value - window.least
