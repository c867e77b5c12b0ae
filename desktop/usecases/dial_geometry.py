"""Which way a drawing runs for the place where somebody stands, and where a crank position stands on the clock.

Everything is drawn first for somebody who sees the disc's carrier run clockwise; where it is seen the other way round
the finished shapes are reflected. So the two views cannot disagree.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from desktop.core.timing.angles import wrapped
from desktop.core.timing.approach import Judged
from desktop.core.timing.measuring import Scale
from desktop.core.timing.readings import By, Card, On, Turn
from desktop.core.timing.results import MagnetoResult, Worked
from reports.drawing import Anchor, Arc, Arrow, Circle, HatchedRing, Line, Polygon, Shape, Words


class View(StrEnum):
    """From where somebody looks: facing the propeller, or at the rear (accessory) end as the data speak."""

    PROPELLER = "propeller"
    REAR = "rear"


_ACROSS: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}

SEEN = {View.PROPELLER: "as you face the propeller", View.REAR: "as seen from the rear"}


def turn_seen(card: Card, view: View) -> Turn:
    """Return the way in which whatever carries the disc runs, as seen from there."""
    engine = card.engine
    from_rear = engine.propeller_rotation if card.measure.on is On.PROPELLER else engine.rotation
    return from_rear.reversed() if view is View.PROPELLER else from_rear


def clock_of_btdc(scale: Scale, btdc: Fraction) -> float:
    """Return where the pointer stands at so many crankshaft degrees before TDC: clock degrees in (-180, 180].

    The carrier runs clockwise; TDC is 0.
    """
    return float(wrapped(-scale.carrier_ratio * btdc))


def clock_of_reading(scale: Scale, zero: Fraction, reading: Fraction) -> float:
    """Return where the pointer stands at a reading: clock degrees in (-180, 180], the carrier running clockwise."""
    return float(wrapped(scale.sense * (reading - zero)))


def is_tdc_proved(worked: Worked) -> bool:
    """Tell whether TDC was measured and the disc stood still since, or is marked on the engine itself."""
    if worked.card.measure.by is By.MARKS:
        return True
    return worked.tdc.tdc is not None and not worked.tdc.disc_moved


@dataclass(frozen=True, slots=True)
class Shown:
    """The approach that is drawn, and whether it counts."""

    judged: Judged
    counts: bool


def shown_approach(result: MagnetoResult) -> Shown | None:
    """Return the approach that establishes the timing, else the last one taken; None before the first."""
    if result.last is not None and result.timing is not None:
        return Shown(result.last, counts=True)
    return Shown(result.judged[-1], counts=False) if result.judged else None


def faced(shapes: Iterable[Shape], width: float, turn: Turn) -> tuple[Shape, ...]:
    """Return shapes that were drawn for clockwise as they are seen, reflected where the carrier runs the other way."""
    if turn is Turn.CLOCKWISE:
        return tuple(shapes)
    return tuple(_reflected(shape, width) for shape in shapes)


def _reflected(shape: Shape, width: float) -> Shape:
    seen: Shape
    match shape:
        case Line() | Arc():
            seen = _reflected_path(shape, width)
        case Arrow():
            seen = replace(shape, path=_reflected_path(shape.path, width))
        case Circle():
            seen = replace(shape, x=width - shape.x)
        case Polygon():
            seen = replace(shape, points=tuple((width - x, y) for x, y in shape.points))
        case Words():
            seen = replace(shape, x=width - shape.x, anchor=_ACROSS[shape.anchor])
        case HatchedRing():
            seen = replace(shape, x=width - shape.x, start=-shape.start, sweep=-shape.sweep, slant=-shape.slant)
        case _:
            seen = replace(shape, x=width - shape.x - shape.width, slant=-shape.slant)
    return seen


def _reflected_path(path: Line | Arc, width: float) -> Line | Arc:
    if isinstance(path, Line):
        return replace(path, x1=width - path.x1, x2=width - path.x2)
    return replace(path, x=width - path.x, start=-path.start, sweep=-path.sweep)
