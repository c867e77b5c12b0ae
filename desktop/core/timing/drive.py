"""The drive between crankshaft and magneto: ratio, how far to turn the housing, teeth of the mesh, the click.

Sources: two crankshaft turns fire every cylinder once, FAA-H-8083-32B p. 1-25, and one pole passes a spark; the
rotation of a magneto is seen from its drive end, common practice, no source; slots that do not reach call for
another mesh, FAA-H-8083-32B p. 4-30.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing.readings import Engine, Hand, LagIn, Magneto, SeenFrom, Turn


@dataclass(frozen=True, slots=True)
class Housing:
    """Which way and how far to turn a magneto's housing, in magneto degrees, seen from the named end.

    All None while the deviation is not known; ``direction`` None with a ``turn`` of 0 means: do not turn.
    """

    turn: Fraction | None
    direction: Turn | None
    seen_from: SeenFrom
    slot_mm: float | None


@dataclass(frozen=True, slots=True)
class Mesh:
    """Teeth to move in the mesh, signed like the deviation, and what is then left, in magneto degrees."""

    teeth: int
    left_to_turn: Fraction


def magneto_ratio(engine: Engine, magneto: Magneto) -> Fraction:
    """Return magneto turns per crankshaft turn: cylinders / (2 x poles)."""
    return Fraction(engine.cylinders, 2 * magneto.poles)


def rotor_turns(magneto: Magneto) -> Turn:
    """Return the way the rotor runs as seen from the end that the mechanic faces."""
    from_drive = Turn.CLOCKWISE if magneto.rotation is Hand.RIGHT else Turn.COUNTER_CLOCKWISE
    return from_drive if magneto.seen_from is SeenFrom.DRIVE else from_drive.reversed()


def housing(magneto: Magneto, ratio: Fraction, deviation: Fraction | None) -> Housing:
    """Say how to turn the housing: advanced goes the way the rotor turns, retarded against it."""
    if deviation is None:
        return Housing(None, None, magneto.seen_from, None)
    turn = abs(deviation) * ratio
    way = rotor_turns(magneto)
    direction = None if deviation == 0 else (way if deviation > 0 else way.reversed())
    radius = magneto.slot_radius_mm
    return Housing(turn, direction, magneto.seen_from, None if radius is None else float(radius) * math.radians(turn))


def tooth(magneto: Magneto) -> Fraction | None:
    """Return one tooth of the drive gear in magneto degrees, None while the gear is not known."""
    return None if magneto.drive_gear_teeth is None else Fraction(360, magneto.drive_gear_teeth)


def mesh(magneto: Magneto, ratio: Fraction, deviation: Fraction) -> Mesh | None:
    """Say how many teeth to move when the slots do not reach, None when the mesh stays as it is."""
    one = tooth(magneto)
    if one is None:
        return None
    out = deviation * ratio
    reach = one / 2 if magneto.slot_degrees is None else magneto.slot_degrees / 2
    whole = _nearest(abs(out) / one) if abs(out) > reach else 0
    teeth = whole if out > 0 else -whole
    return Mesh(teeth, out - teeth * one) if teeth else None


def _nearest(value: Fraction) -> int:
    """Round a value of 0 or more to the nearest whole number, halves up."""
    return math.floor(value + Fraction(1, 2))


def lag_on_crank(magneto: Magneto, ratio: Fraction) -> Fraction | None:
    """Return an impulse coupling's lag in crankshaft degrees, None without a coupling."""
    if magneto.impulse_lag is None:
        return None
    return magneto.impulse_lag if magneto.impulse_lag_in is LagIn.CRANKSHAFT else magneto.impulse_lag / ratio


def click_btdc(magneto: Magneto, ratio: Fraction) -> Fraction | None:
    """Return where an impulse coupling clicks, in crankshaft degrees before TDC, None without a coupling."""
    lag = lag_on_crank(magneto, ratio)
    return None if lag is None else magneto.nominal - lag
