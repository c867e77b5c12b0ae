"""The work on the dial: approach, pointer and backlash, the carrier running clockwise."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core.timing.measuring import Scale
from desktop.usecases.dial_face import RING, X, Y, line_at
from desktop.usecases.dial_geometry import Shown
from reports.drawing import Arc, Arrow, Circle, Line, Role, Shape, Stroke, on_circle

APPROACH = 52.0
BACKLASH = (58.5, 61.0)

_HALF_TURN, _LONGEST = 180, 300


def pointer(angle: float, shown: Shown) -> Line:
    """Return the pointer at the reading, dashed when it does not count."""
    stroke = Stroke("thick" if shown.counts else "medium", role_of(shown), dashed=not shown.counts)
    return line_at(angle, 12.0, RING - 1, stroke)


def approach(scale: Scale, angle: float, shown: Shown) -> Iterator[Shape]:
    """Draw the way that the pointer came, with a small circle where that is known to have begun.

    An approach from compression is only known to be half a crankshaft turn or more, with rotation.
    """
    judged = shown.judged
    stroke = Stroke("medium", role_of(shown), dashed=not shown.counts)
    if judged.movement is None:
        sweep = float(min(_HALF_TURN * scale.carrier_ratio, Fraction(_LONGEST)))
    else:
        sweep = float(judged.movement * scale.carrier_ratio)
        yield Circle(*on_circle(X, Y, APPROACH, angle - sweep), 2.6, Stroke("medium", stroke.role))
    if sweep:
        yield Arrow(Arc(X, Y, APPROACH, angle - sweep, sweep, stroke), 9.0)


def backlash(scale: Scale, angle: float, shown: Shown) -> Iterator[Shape]:
    """Draw the play between the light and where it went again, as a double line with a stroke across its end."""
    if not shown.judged.backlash:
        return
    sweep = -float(shown.judged.backlash * scale.carrier_ratio)
    for radius in BACKLASH:
        yield Arc(X, Y, radius, angle, sweep, Stroke("thin"))
    yield line_at(angle + sweep, BACKLASH[0] - 3, BACKLASH[1] + 3, Stroke("thin"))


def role_of(shown: Shown) -> Role:
    """Return the colour of what belongs to an approach."""
    return "act" if shown.counts else "quiet"
