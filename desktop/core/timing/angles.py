"""Angles in exact fractions of a degree."""

import math
from collections.abc import Sequence
from fractions import Fraction

_EXACT_COSINES = {
    Fraction(0): Fraction(1),
    Fraction(60): Fraction(1, 2),
    Fraction(90): Fraction(0),
    Fraction(120): Fraction(-1, 2),
    Fraction(180): Fraction(-1),
}


def around(angle: Fraction) -> Fraction:
    """Bring an angle in degrees into [0, 360)."""
    return angle % 360


def wrapped(angle: Fraction) -> Fraction:
    """Bring an angle in degrees into (-180, 180]."""
    rest = angle % 360
    return rest - 360 if rest > 180 else rest  # noqa: PLR2004 - half a turn


def mean(values: Sequence[Fraction]) -> Fraction:
    """Return the exact mean of at least one value."""
    return sum(values, Fraction(0)) / len(values)


def differences_from_first(angles: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """Return how far each angle lies from the first, each in (-180, 180] degrees."""
    return tuple(wrapped(angle - angles[0]) for angle in angles)


def mean_around(angles: Sequence[Fraction]) -> Fraction:
    """Return the mean of angles that lie close together, in [0, 360): the first plus the mean difference from it.

    At small spreads this is the circular mean of the statistics books, and unlike that it is exact.
    """
    return around(angles[0] + mean(differences_from_first(angles)))


def sample_variance(values: Sequence[Fraction]) -> Fraction:
    """Return the sample variance (divisor n - 1) of at least two values, exactly."""
    middle = mean(values)
    return sum(((value - middle) ** 2 for value in values), Fraction(0)) / (len(values) - 1)


def cosine(angle: Fraction) -> Fraction:
    """Return the cosine of an angle in degrees; exact at the multiples of 60 and 90 degrees."""
    folded = abs(wrapped(angle))
    exact = _EXACT_COSINES.get(folded)
    return Fraction(math.cos(math.radians(folded))) if exact is None else exact
