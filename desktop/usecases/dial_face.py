"""The dial without the work: ring, ticks, numbers, TDC, nominal and window, the carrier running clockwise."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from desktop.core.timing.angles import wrapped
from desktop.core.timing.measuring import Scale
from desktop.core.timing.readings import By, Card
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.usecases.dial_geometry import clock_of_btdc, clock_of_reading, is_tdc_proved
from desktop.usecases.drawn_words import LARGE, SMALL, Box, free_places, standing_on
from reports.drawing import Arc, Arrow, Circle, HatchedRing, Line, Shape, Stroke, Words, on_circle

WIDTH, HEIGHT = 284.0, 300.0
X, Y, RING = 142.0, 150.0, 96.0
NUMBERS = RING - 20  # where the disc's numbers have their middles
INSIDE = RING - 31  # lines of the face end here, clear of the numbers
HUB = 34.0  # and begin here, clear of the reading where it stands inside
BAND = (RING + 1.5, RING + 9.0)  # the window's hatching
NOMINAL_END = RING + 12

_NUMBER_EVERY, _TICK_EVERY, _NEAR = 30, 10, 10
_FULL_TURN = 360


def line_at(angle: float, inner: float, outer: float, stroke: Stroke) -> Line:
    """Return a line on a ray from the dial's centre."""
    return Line(*on_circle(X, Y, outer, angle), *on_circle(X, Y, inner, angle), stroke)


def ring() -> Iterator[Shape]:
    """Draw the circle and its hub."""
    yield Circle(X, Y, RING, Stroke("thin"))
    yield Circle(X, Y, 4.0, None, "ink")


def way_to_turn() -> tuple[Arrow, Words]:
    """Draw the large arrow outside the circle: a reading is approached with rotation only."""
    arrow = Arrow(Arc(X, Y, RING + 32, 24.0, 38.0, Stroke("thick")), 13.0)
    return arrow, standing_on(Words(0, 0, "with rotation", LARGE), X + 100, 24.0)


def top_dead_centre(worked: Worked) -> tuple[Words, Line, Line]:
    """Draw TDC on top; dashed while nothing proves where it was set."""
    proved = is_tdc_proved(worked)
    stroke = Stroke("medium", dashed=not proved)
    words = standing_on(Words(0, 0, "TDC" if proved else "TDC not proved", LARGE, bold=proved), X, Y - RING - 28)
    return words, line_at(0.0, RING - 12, RING + 20, stroke), line_at(0.0, HUB, INSIDE, stroke)


def nominal_lines(scale: Scale, result: MagnetoResult) -> Iterator[Line]:
    """Draw the nominal position as a fine line that the disc's numbers stay clear of."""
    angle = clock_of_btdc(scale, result.magneto.nominal)
    yield line_at(angle, RING - 12, NOMINAL_END, Stroke("fine"))
    yield line_at(angle, HUB, INSIDE, Stroke("fine"))


def window(worked: Worked, result: MagnetoResult) -> Iterator[Shape]:
    """Draw the allowed window as a hatched band outside the circle; advanced lies before nominal."""
    limits, ratio = worked.card.limits, worked.scale.carrier_ratio
    inner, outer = BAND
    sweep = float(min(ratio * (limits.advanced_most + limits.retarded_most), Fraction(_FULL_TURN)))
    start = clock_of_btdc(worked.scale, result.magneto.nominal + limits.advanced_most)
    edge = Stroke("thin", "good")
    if sweep:
        yield HatchedRing(X, Y, inner, outer, start, sweep, 1.8, start + 50.0, Stroke("fine", "good"))
        yield Arc(X, Y, outer, start, sweep, edge)
    if sweep < _FULL_TURN:
        yield line_at(start, inner, outer, edge)
        yield line_at(start + sweep, inner, outer, edge)


def ticks(worked: Worked, zero: Fraction, result: MagnetoResult) -> Iterator[Line]:
    """Draw each tenth degree of the disc, and each degree from the window's ends to ten beyond."""
    limits, scale = worked.card.limits, worked.scale
    earlier = float(scale.carrier_ratio * limits.advanced_most) + _NEAR
    later = float(scale.carrier_ratio * limits.retarded_most) + _NEAR
    nominal = clock_of_btdc(scale, result.magneto.nominal)
    for number in range(_FULL_TURN):
        angle = clock_of_reading(scale, zero, Fraction(number))
        if number % _NUMBER_EVERY == 0:
            yield line_at(angle, RING - 9, RING, Stroke("thin"))
        elif number % _TICK_EVERY == 0:
            yield line_at(angle, RING - 6.5, RING, Stroke("thin", "quiet"))
        elif -earlier <= _from(nominal, angle) <= later:
            long = number % 5 == 0
            yield line_at(angle, RING - (5.0 if long else 3.5), RING, Stroke("fine"))


def numbers(card: Card, scale: Scale, zero: Fraction, taken: Sequence[Box]) -> Iterator[Words]:
    """Write each thirtieth degree where the pointer would read it, except where something else stands."""
    for number in _numbered(card, scale):
        x, y = on_circle(X, Y, NUMBERS, clock_of_reading(scale, zero, Fraction(number)))
        yield from free_places([standing_on(Words(0, 0, str(abs(number)), SMALL), x, y)], taken, WIDTH, HEIGHT)


def _numbered(card: Card, scale: Scale) -> range | tuple[int, ...]:
    """Return the readings that are numbered: once around, to both sides of zero, or before TDC only on marks."""
    if card.measure.by is By.MARKS:
        return (*range(-150, 1, _NUMBER_EVERY), 180)
    if scale.split:
        return range(-150, 181, _NUMBER_EVERY)
    return range(0, _FULL_TURN, _NUMBER_EVERY)


def _from(nominal: float, angle: float) -> float:
    return float(wrapped(Fraction(angle - nominal)))
