"""Which cylinder each distributor electrode serves, and when it fires.

Source: electrode numbers are the sparking order, FAA-H-8083-32B p. 4-6; a cylinder fires once in 720 degrees, p. 1-25.
"""

from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing.readings import Engine

CYCLE = 720


@dataclass(frozen=True, slots=True)
class Firing:
    """One cylinder: its electrode, counted from 1, and its crankshaft degrees after the reference cylinder."""

    cylinder: int
    electrode: int
    crank: Fraction


def firing_table(engine: Engine) -> tuple[Firing, ...]:
    """Return the cylinders in the firing order as given, evenly spaced over two turns of the crankshaft."""
    order = engine.firing_order
    first = order.index(engine.reference)
    return tuple(
        Firing(cylinder, place + 1, Fraction(CYCLE * ((place - first) % len(order)), len(order)))
        for place, cylinder in enumerate(order)
    )
