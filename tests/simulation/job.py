"""One job for the simulated mechanic: an engine, a way of measuring, figures from an invented data sheet."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from tests.simulation.disc import HALF_TURN
from tests.simulation.engine import THOUSANDTH, Engine

SIDES = ("left", "right")
FINE = 2 * THOUSANDTH  # how closely the simulated hand stops where the light changes


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the data sheet says of one magneto, in degrees; `lag` as stated, in `lag_in` degrees."""

    nominal: Fraction
    seen_from: str
    lag: Fraction | None = None
    lag_in: str = "magneto"
    gear_teeth: int | None = None
    slot_degrees: Fraction | None = None
    e_gap: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that is settled before the mechanic begins.

    `by` is disc, gauge or marks. `zeroed`: whether the disc will be set to zero. `depth`: how far the stop reaches
    below the piston's highest place, mm. `feel`: how far from TDC the piston seems to stand at the top, crankshaft
    degrees. `beyond`: crankshaft degrees that an approach begins before the points have closed again. `with_first`:
    which contact of a pair comes first. Limits in crankshaft degrees.
    """

    engine: Engine
    by: str
    on: str
    zeroed: bool
    depth: float
    feel: Fraction
    beyond: Fraction
    with_first: bool
    sheets: Mapping[str, Sheet]
    advanced_most: Fraction
    retarded_most: Fraction
    apart_most: Fraction

    @property
    def turns(self) -> Fraction:
        """Turns of the disc for each crankshaft turn."""
        return self.engine.disc.turns

    @property
    def sign(self) -> int:
        """+1 when the reading rises with rotation, else -1."""
        return self.engine.disc.sign

    @property
    def line(self) -> Fraction:
        """What one division of the scale is worth on the crankshaft."""
        return self.engine.disc.read_to / self.turns

    @property
    def resolution(self) -> Fraction:
        """The most that an honest reading can be out, crankshaft degrees.

        Each reading is at most half a line out, and so is the mean of two. The engine's marks: one reading. A disc as
        it stood: the middle and the light. A disc set to zero: the middle, the setting by hand and the light.
        """
        if self.by == "marks":
            return self.line / 2 + FINE
        return (self.line * Fraction(3, 2) if self.zeroed else self.line) + FINE

    @property
    def half_arc(self) -> Fraction:
        """Crankshaft degrees from TDC to where the stop meets the piston."""
        return self.engine.case.blocked_before(self.depth)

    def deviation(self, side: str) -> Fraction:
        """The truth about one magneto: how early it is, crankshaft degrees."""
        return self.engine.magnetos[side].true_btdc - self.sheets[side].nominal

    def verdict(self, side: str, extra: Fraction = Fraction(0)) -> str | None:
        """The true verdict, or None when the truth is so near to a limit that the scale cannot tell."""
        deviation, doubt = self.deviation(side), self.resolution + extra
        if min(abs(deviation - self.advanced_most), abs(deviation + self.retarded_most)) <= doubt:
            return None
        if deviation > self.advanced_most:
            return "advanced"
        return "retarded" if deviation < -self.retarded_most else "within"

    @property
    def start(self) -> Fraction:
        """A crankshaft angle where the piston is clear of any stop and on its way up on compression."""
        return -Fraction(2, 3) * HALF_TURN
