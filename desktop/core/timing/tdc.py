"""Top dead centre from contacts with a piston stop on both sides of it.

Source: the midpoint of the zone without piston travel, FAA-H-8083-32B p. 4-27; the positive stop itself is common
practice, no source. Between the two contacts lies the long way round.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing import surety
from desktop.core.timing.angles import around, differences_from_first, mean, mean_around, wrapped
from desktop.core.timing.measuring import is_measured_with_stop
from desktop.core.timing.readings import Card, Counts, StopPair

SHORT_ARC = 30
LONGEST_ARC = 180
CENTRE_AGREES_WITHIN = 20
ENOUGH_TO_COMPARE = 2
CLOSING_STEPS = Fraction(3, 2)


@dataclass(frozen=True, slots=True)
class Pair:
    """One pair of contacts worked out: arc through TDC in crankshaft degrees, disc reading at its middle."""

    place: int
    arc: Fraction
    midpoint: Fraction
    after_zeroing: bool

    @property
    def is_sound(self) -> bool:
        """An arc must lie between 0 and 180 crankshaft degrees."""
        return 0 < self.arc < LONGEST_ARC


@dataclass(frozen=True, slots=True)
class Tdc:
    """TDC as measured. Angles of the disc in disc degrees, arc and variance in crankshaft degrees."""

    arc: Fraction
    reading: Fraction
    setting_with: Fraction
    setting_against: Fraction
    pairs: int
    variance: Fraction


@dataclass(frozen=True, slots=True)
class TdcFinding:
    """Everything that the stop contacts say; ``tdc`` is None when they give none.

    ``centre_off`` is how far the rough centre lies from the middle of the contacts, in disc degrees, where a geared
    propeller needs that proof. ``moved_pair`` is the place of the pair that shows that the disc moved.
    """

    tdc: Tdc | None
    pairs: tuple[Pair, ...]
    centre_missing: bool
    centre_off: Fraction | None
    moved_pair: int | None
    moved_by: Fraction | None
    closing_taken: bool

    @property
    def disc_moved(self) -> bool:
        """A closing pair is off by more than the readings allow."""
        return self.moved_pair is not None


def find_tdc(card: Card) -> TdcFinding:
    """Work out TDC from all pairs of a card. One bad pair, or a centre that disagrees, leaves no TDC."""
    pairs = tuple(_pair(card, place, pair) for place, pair in enumerate(card.stops, 1))
    before = tuple(pair for pair in pairs if not pair.after_zeroing) or pairs
    sound = bool(pairs) and all(pair.is_sound for pair in pairs)
    geared = is_measured_with_stop(card) and card.carrier_ratio != 1 and bool(pairs)
    centre = card.measure.centre_by_feel
    centre_off = None
    if geared and sound and centre is not None:
        centre_off = wrapped(centre.value - mean_around([pair.midpoint for pair in before]))
    proved = not geared or (centre_off is not None and abs(centre_off) <= CENTRE_AGREES_WITHIN)
    moved_pair, moved_by = _moved(card, pairs) if sound and proved else (None, None)
    return TdcFinding(
        tdc=_tdc(card, before) if sound and proved else None,
        pairs=pairs,
        centre_missing=geared and centre is None,
        centre_off=centre_off,
        moved_pair=moved_pair,
        moved_by=moved_by,
        closing_taken=bool(closing_offs(card, pairs)),
    )


def _sense(card: Card) -> int:
    return 1 if card.measure.counts is Counts.UP else -1


def _pair(card: Card, place: int, pair: StopPair) -> Pair:
    """Work out one pair: the long way swept w, the arc A = 360 - w/g, the middle r1 + s g A/2."""
    first, second = pair.with_rotation.value, pair.against_rotation.value
    swept = around(_sense(card) * (first - second))
    arc = 360 - swept / card.carrier_ratio
    if card.carrier_ratio == 1:
        arc = around(arc)
    midpoint = around(first + _sense(card) * card.carrier_ratio * arc / 2)
    return Pair(place, arc, midpoint, pair.after_zeroing)


def _tdc(card: Card, pairs: tuple[Pair, ...]) -> Tdc:
    arc = mean([pair.arc for pair in pairs])
    towards = _sense(card) * card.carrier_ratio
    from_middle = [
        difference / card.carrier_ratio for difference in differences_from_first([p.midpoint for p in pairs])
    ]
    return Tdc(
        arc=arc,
        reading=mean_around([pair.midpoint for pair in pairs]),
        setting_with=around(-towards * arc / 2),
        setting_against=around(-towards * (360 - arc / 2)),
        pairs=len(pairs),
        variance=surety.tdc_variance(card, from_middle),
    )


def closing_offs(card: Card, pairs: tuple[Pair, ...]) -> tuple[tuple[int, Fraction], ...]:
    """Return each closing pair's place and how far it is off, in disc degrees; none where none was taken.

    On a zeroed disc a closing pair is off from 0; without zeroing the last of several, from the mean of the others.
    """
    if card.measure.zeroed:
        return tuple((pair.place, wrapped(pair.midpoint)) for pair in pairs if pair.after_zeroing)
    if len(pairs) < ENOUGH_TO_COMPARE:
        return ()
    others = mean_around([pair.midpoint for pair in pairs[:-1]])
    return ((pairs[-1].place, wrapped(pairs[-1].midpoint - others)),)


def closing_room(card: Card) -> Fraction:
    """Return how far a closing pair may be off, in disc degrees: 1.5 times what the disc is read to."""
    return CLOSING_STEPS * card.measure.read_to


def _moved(card: Card, pairs: tuple[Pair, ...]) -> tuple[int | None, Fraction | None]:
    """Find the first closing pair that is off by more than is allowed, and by how much."""
    for place, off in closing_offs(card, pairs):
        if abs(off) > closing_room(card):
            return place, off
    return None, None


def piston_depth(half_arc: float, stroke: float, rod: float) -> float:
    """Return how far the piston is below its top at so many degrees from TDC, in the unit of stroke and rod.

    r + l - (r cos a + sqrt(l^2 - r^2 sin^2 a)), r = stroke/2; rod longer than half the stroke, both above 0.
    Source: standard textbook relation of the crank drive. Raises ValueError for a rod too short to turn.
    """
    radius, angle = stroke / 2, math.radians(half_arc)
    return radius + rod - (radius * math.cos(angle) + math.sqrt(rod**2 - (radius * math.sin(angle)) ** 2))


def piston_slope(half_arc: float, stroke: float, rod: float) -> float:
    """Return how fast the piston falls there, in the unit of stroke and rod per crankshaft degree.

    The inverse says how many degrees a given doubt about the contact is worth. Errors as for the depth.
    """
    radius, angle = stroke / 2, math.radians(half_arc)
    sine = math.sin(angle)
    root = math.sqrt(rod**2 - (radius * sine) ** 2)
    return math.radians(radius * sine * (1 + radius * math.cos(angle) / root))
