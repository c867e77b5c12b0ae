"""The simulated engine: piston, stop, disc and magnetos on one crankshaft that can be turned either way.

It shares nothing with the program that the tests question. Nothing here knows how top dead centre, a deviation or an
advice is worked out: it only turns, touches, opens points, clicks, and shows a line of its disc under the pointer.
An engine is a value; turning it gives the next one, so that a turn can be tried again more slowly.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, cos, floor, radians, sin, sqrt
from types import MappingProxyType

from tests.simulation.disc import FULL_TURN, Disc
from tests.simulation.magneto import Magneto

STRIDE = Fraction(4)  # shorter than any impulse coupling's way from catch to release
THOUSANDTH = Fraction(1, 1000)


@dataclass(frozen=True, slots=True)
class Crankcase:
    """What does not change: cylinders in firing order (the reference first), hand seen from the rear, mm.

    `propeller` is propeller turns a crankshaft turn.
    """

    firing_order: tuple[int, ...]
    rotation: str
    stroke: Fraction
    rod: Fraction
    propeller: Fraction

    def piston_depth(self, crank: Fraction) -> float:
        """How far the reference piston stands below its highest place, in mm: slider and crank."""
        angle, throw, rod = radians(float(crank)), float(self.stroke) / 2, float(self.rod)
        return throw + rod - (throw * cos(angle) + sqrt(rod**2 - (throw * sin(angle)) ** 2))

    def blocked_before(self, depth: float) -> Fraction:
        """How far from TDC, to a thousandth of a degree, a stop that reaches down `depth` mm meets the piston."""
        near, far = Fraction(0), Fraction(180)
        while far - near > THOUSANDTH / 16:
            middle = (near + far) / 2
            near, far = (near, middle) if self.piston_depth(middle) > depth else (middle, far)
        return round(near / THOUSANDTH) * THOUSANDTH


@dataclass(frozen=True, slots=True)
class Engine:
    """An engine as it stands: `crank` in degrees along rotation, 0 at compression TDC of the reference cylinder.

    `stop` is how far from TDC the piston stop now meets the piston; None when no stop is fitted.
    """

    case: Crankcase
    disc: Disc
    magnetos: Mapping[str, Magneto]
    crank: Fraction
    stop: Fraction | None = None

    def turned(self, by: Fraction) -> "Engine":
        """The engine after somebody turned it by `by` crankshaft degrees, or as far as the stop let it."""
        target = self._reached(self.crank + by)
        magnetos = dict(self.magnetos)
        # A plain drive follows any movement exactly; a coupling is taken along in short strides.
        stride = STRIDE if any(magneto.catch is not None for magneto in magnetos.values()) else abs(by)
        at = self.crank
        while at != target:
            at = min(at + stride, target) if target > at else max(at - stride, target)
            magnetos = {side: magneto.follow(at) for side, magneto in magnetos.items()}
        return replace(self, crank=target, magnetos=MappingProxyType(magnetos))

    def _reached(self, target: Fraction) -> Fraction:
        if self.stop is None:
            return target
        if target > self.crank:
            return min(target, ceil((self.crank + self.stop) / FULL_TURN) * FULL_TURN - self.stop)
        return max(target, floor((self.crank - self.stop) / FULL_TURN) * FULL_TURN + self.stop)

    def stop_fitted(self, depth: float) -> "Engine":
        """The engine with a piston stop in the reference cylinder; the piston must stand clear of it."""
        half = self.case.blocked_before(depth)
        if abs((self.crank + 180) % FULL_TURN - 180) < half:
            raise ValueError("the piston stands where the stop would go")
        return replace(self, stop=half)

    def with_magneto(self, side: str, magneto: Magneto) -> "Engine":
        """The engine with that magneto changed."""
        return replace(self, magnetos=MappingProxyType({**self.magnetos, side: magneto}))

    @property
    def reading(self) -> str:
        """What somebody reads on the disc now."""
        return self.disc.read(self.crank)
