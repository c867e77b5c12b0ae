"""The disc or gauge of the simulated shop: clamped anywhere, read to a line, able to slip.

Crankshaft angles are exact fractions of a degree, counted up as the engine runs; 0 is compression TDC of the
reference cylinder and 720 brings the same state back.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

FULL_TURN = Fraction(360)
HALF_TURN = Fraction(180)


def to_the_nearest(value: Fraction, step: Fraction) -> Fraction:
    """The line of a scale in `step` nearest to `value`; halfway goes up."""
    return floor(value / step + Fraction(1, 2)) * step


def either_side(angle: Fraction) -> Fraction:
    """The same direction as an angle in (-180, 180]."""
    turned = angle % FULL_TURN
    return turned - FULL_TURN if turned > HALF_TURN else turned


def apart(one: Fraction, other: Fraction) -> Fraction:
    """How far two directions lie apart, 0 to 180 degrees."""
    return abs(either_side(one - other))


def written(value: Fraction) -> str:
    """A terminating decimal as typed by hand, without an exponent and without needless noughts."""
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
        if digits > 8:
            raise ValueError(f"{value} is no decimal number that fits on a card")
    whole = int(value * 10**digits)
    if not digits:
        return str(whole)
    sign, figures = ("-" if whole < 0 else ""), str(abs(whole)).rjust(digits + 1, "0")
    return f"{sign}{figures[:-digits]}.{figures[-digits:]}"


def split_text(value: Fraction) -> str:
    """A place on a split scale in (-180, 180] as number and side; below zero is `before`."""
    if value in (0, HALF_TURN):
        return written(value)
    return f"{written(abs(value))} {'before' if value < 0 else 'after'}"


@dataclass(frozen=True, slots=True)
class Disc:
    """A disc, a gauge or the engine's own marks, on a shaft that turns `turns` times for each crankshaft turn.

    `sign` is +1 when the reading rises as the crankshaft turns with rotation, -1 when it falls. `at_tdc` is the exact
    place under the pointer, in disc degrees, when the crankshaft stands at compression TDC; the mechanic cannot see it.
    """

    turns: Fraction
    sign: int
    marking: str
    read_to: Fraction
    at_tdc: Fraction

    def place(self, crank: Fraction) -> Fraction:
        """The exact place under the pointer, 0 up to 360 disc degrees, as if the lines were infinitely fine."""
        return (self.at_tdc + self.sign * self.turns * crank) % FULL_TURN

    def read(self, crank: Fraction) -> str:
        """What the mechanic writes down: the nearest line, in the way the disc is marked."""
        line = to_the_nearest(self.place(crank), self.read_to) % FULL_TURN
        return split_text(either_side(line)) if self.marking == "split" else written(line)

    def set_to(self, place: Fraction, crank: Fraction) -> "Disc":
        """The disc after it was clamped again by hand with the line nearest to `place` under the pointer."""
        line = to_the_nearest(place, self.read_to)
        return replace(self, at_tdc=(line - self.sign * self.turns * crank) % FULL_TURN)

    def slipped(self, by: Fraction) -> "Disc":
        """The disc after it moved on its shaft by `by` disc degrees and nobody saw it."""
        return replace(self, at_tdc=(self.at_tdc + by) % FULL_TURN)


def engine_marks(read_to: Fraction) -> Disc:
    """The engine's own marks: true by their making, written like a split disc; before is before TDC."""
    return Disc(Fraction(1), 1, "split", read_to, Fraction(0))
