"""A magneto of the simulated engine: gear play, impulse coupling, rotor, breaker, and a housing that can be turned.

Everything that turns is placed on one axis, which points out of the drive end, so that an angle grows anticlockwise
for somebody who faces the drive end. A right-hand rotor turns clockwise for that person: its angle falls as the engine
runs. The breaker sits in the housing, the cam on the rotor; the points open when the lobe comes to one place **of the
housing**.
Whoever turns the housing moves that place, and that is all the simulation knows about early and late.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

SENSE = {"right": -1, "left": 1}
# Looking at the drive end is looking along the axis from its tip: what is clockwise there lets the angle fall.
CLOCKWISE = {"drive": -1, "back": 1}


@dataclass(frozen=True, slots=True)
class Magneto:
    """A magneto and how it stands just now.

    `ratio` is rotor turns a crankshaft turn. `opening` is the crankshaft angle before TDC at which the points open with
    the housing at 0, play taken up. `play` is crankshaft degrees. `housing` is in magneto degrees on the axis. `catch`
    (None: plain drive) says how many crankshaft degrees before the opening the impulse coupling catches the rotor; it
    lets go `lag` crankshaft degrees after the opening. `drive` and `rotor`: where each stands, in crankshaft degrees.
    """

    hand: str
    poles: int
    ratio: Fraction
    opening: Fraction
    play: Fraction
    catch: Fraction | None = None
    lag: Fraction = Fraction(0)
    housing: Fraction = Fraction(0)
    drive: Fraction = Fraction(0)
    rotor: Fraction = Fraction(0)
    held: bool = False
    snaps: int = 0

    @property
    def spacing(self) -> Fraction:
        """Magneto degrees from one opening to the next."""
        return Fraction(360, self.poles)

    def phase(self, crank: Fraction) -> Fraction:
        """Where the lobe stands against the housing, in magneto degrees along the rotor's own way of turning."""
        rotor_angle = SENSE[self.hand] * self.ratio * crank
        return SENSE[self.hand] * (rotor_angle - self.housing)

    @property
    def points_open(self) -> bool:
        """Whether the light shows open points: from the opening for half the way to the next one."""
        return (self.phase(self.rotor) + self.ratio * self.opening) % self.spacing < self.spacing / 2

    def follow(self, crank: Fraction) -> "Magneto":
        """The magneto after the crankshaft went to `crank` without turning back on the way; steps of a few degrees."""
        drive = min(max(self.drive, crank), crank + self.play)
        if drive == self.drive:
            return self
        if self.catch is None:
            return replace(self, drive=drive, rotor=drive)
        return self._back(drive) if drive < self.drive else self._forward(drive, self.catch)

    def _back(self, drive: Fraction) -> "Magneto":
        if self.held and drive >= self.rotor:  # only the spring unwinds
            return replace(self, drive=drive)
        return replace(self, drive=drive, rotor=drive, held=False)

    def _forward(self, drive: Fraction, catch: Fraction) -> "Magneto":
        if self.held:
            if drive - self.rotor < catch + self.lag:
                return replace(self, drive=drive)
            return replace(self, drive=drive, rotor=drive, held=False, snaps=self.snaps + 1)
        past = (self.phase(self.rotor) + self.ratio * (self.opening + catch)) % self.spacing
        beyond = past + self.ratio * (drive - self.rotor) - self.spacing
        if beyond >= 0:
            return replace(self, drive=drive, rotor=drive - beyond / self.ratio, held=True)
        return replace(self, drive=drive, rotor=drive)

    def housing_turned(self, by: Fraction, direction: str, seen_from: str) -> "Magneto":
        """The magneto after its housing was turned by `by` magneto degrees, the way that `direction` is from there."""
        way = CLOCKWISE[seen_from] * {"clockwise": 1, "counter-clockwise": -1, "none": 0}[direction]
        return replace(self, housing=self.housing + way * by)

    def meshed(self, teeth: int, of_gear: int) -> "Magneto":
        """The magneto with its gear put in so many teeth further along the rotor's way: it opens earlier by them."""
        return replace(self, opening=self.opening + Fraction(360 * teeth, of_gear) / self.ratio)

    @property
    def true_btdc(self) -> Fraction:
        """Crankshaft degrees before TDC at which the points open in the running engine: play up, coupling free."""
        return self.opening - SENSE[self.hand] * self.housing / self.ratio
