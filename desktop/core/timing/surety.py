"""How sure a reading is: standard uncertainties as variances, exact in fractions, in crankshaft degrees squared.

Sources: scale step d gives d / sqrt(12), JCGM 100:2008 F.2.2.1 (clause number from memory); root sum of squares and
k = 2, the same guide; probability of conformity, JCGM 106:2012 (from memory); an off-centre disc, International
Archives of Photogrammetry, Report of Commission V, p. GV-21.
"""

import math
from collections.abc import Sequence
from fractions import Fraction

from desktop.core.timing.angles import cosine, sample_variance
from desktop.core.timing.readings import Card, Limits

ENOUGH_FOR_SPREAD = 2
COVERAGE = 2


def one_reading(card: Card) -> Fraction:
    """Return the variance of one reading: (read_to / g)^2 / 12."""
    return (card.measure.read_to / card.carrier_ratio) ** 2 / 12


def tdc_variance(card: Card, from_middle: Sequence[Fraction]) -> Fraction:
    """Return the variance of TDC from the midpoints of its pairs, given as crankshaft degrees from the first."""
    pairs = len(from_middle)
    variance = one_reading(card) / (2 * pairs)
    if pairs >= ENOUGH_FOR_SPREAD:
        variance = max(variance, sample_variance(from_middle) / pairs)
    return variance + (one_reading(card) if card.measure.zeroed else 0)


def light_variance(card: Card, repeats: Sequence[Fraction]) -> Fraction:
    """Return the variance of where the light came; from two repeats on their spread counts, where it is larger."""
    variance = one_reading(card)
    if len(repeats) >= ENOUGH_FOR_SPREAD:
        variance = max(variance, sample_variance(repeats))
    return variance


def off_centre_variance(card: Card, arc: Fraction, btdc: Fraction) -> Fraction:
    """Return the variance that a disc centred only within e on radius R adds at so many degrees before TDC.

    Amplitude (e/R) sqrt(1 + k^2 - 2 k cos(180 g - g b)) in disc degrees, k = cos(g (360 - A) / 2); over sqrt(2).
    """
    radius, off = card.measure.radius_mm, card.measure.centring_mm
    if radius is None or off is None:
        return Fraction(0)
    g = card.carrier_ratio
    k = cosine(g * (360 - arc) / 2)
    amplitude = Fraction(math.degrees(off / radius)) ** 2 * (1 + k**2 - 2 * k * cosine(180 * g - g * btdc))
    return amplitude / 2 / g**2


def is_inside_by(limits: Limits, deviation: Fraction, variance: Fraction) -> bool:
    """Tell whether a deviation is inside both limits by U = 2 u; a margin of exactly U is inside."""
    margin = min(limits.advanced_most - deviation, deviation + limits.retarded_most)
    return margin >= 0 and margin**2 >= COVERAGE**2 * variance


def probability_within(limits: Limits, deviation: Fraction, variance: Fraction) -> float:
    """Return the probability from 0 to 1 that the true deviation lies within the limits."""
    u = math.sqrt(variance)
    above = float(limits.advanced_most - deviation) / u
    below = float(-limits.retarded_most - deviation) / u
    return normal(above) - normal(below)


def normal(x: float) -> float:
    """Return the probability that a standard normal value is at most x."""
    return math.erfc(-x / math.sqrt(2)) / 2
