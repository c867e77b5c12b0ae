"""The history of one magneto serial over a shop's orders: when it was here, at what hours, as found and as left."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.timing.drift import Drift, Visit, drift
from desktop.core.timing.readings import Limits, Side
from desktop.core.timing.results import Worked


class Meter(StrEnum):
    """By which hours the visits of a magneto are put in a row."""

    SINCE_OVERHAUL = "hours since overhaul"
    TOTAL_TIME = "hours, the aircraft's total time"


@dataclass(frozen=True, slots=True)
class MagnetoVisit:
    """One visit of a magneto: hours as written at the intake, deviations in crankshaft degrees, positive advanced.

    Each is None where it is not known. ``limits`` are those of the newest card that gave a deviation.
    """

    order: int
    state: OrderState
    on: date
    registration: str
    position: EnginePosition
    side: Side
    since_overhaul: Fraction | None
    total_time: Fraction | None
    found: Fraction | None
    left: Fraction | None
    limits: Limits | None

    def hours(self, meter: Meter) -> Fraction | None:
        """Return the hours at this visit by a meter."""
        return self.since_overhaul if meter is Meter.SINCE_OVERHAUL else self.total_time


@dataclass(frozen=True, slots=True)
class History:
    """The visits of a magneto, the oldest first, and those among them that drift is worked out from.

    ``compared`` holds the newest visits whose hours rise in one ``meter``, back to an overhaul or, by the aircraft's
    total time, to another aircraft.
    """

    serial: str
    visits: tuple[MagnetoVisit, ...]
    meter: Meter
    compared: tuple[MagnetoVisit, ...]
    limits: Limits | None
    drift: Drift | None

    def hours(self, visit: MagnetoVisit) -> Fraction:
        """Return the hours of a compared visit; ValueError for one that has none."""
        hours = visit.hours(self.meter)
        if hours is None:
            raise ValueError("a visit that is compared has hours")
        return hours


def serial_key(serial: str) -> str:
    """Return a serial number as it is compared: without spaces and capitals, as people write it either way."""
    return "".join(serial.split()).casefold()


def serials_at_intake(order: WorkOrder) -> dict[Side, str]:
    """Return the serials of an order's magnetos by side; a data plate counts before what was known before."""
    serials = {magneto.side: magneto.serial for magneto in order.engine.magnetos}
    if order.taken_in is not None:
        serials |= {plate.side: plate.serial for plate in order.taken_in.intake.plates if plate.serial.strip()}
    return {side: serial.strip() for side, serial in serials.items() if serial.strip()}


def visit_of(order: WorkOrder, serial: str, cards: Sequence[Worked]) -> MagnetoVisit | None:
    """Return the visit that an order was for a magneto; None when the magneto was not on it or nothing is established.

    ``cards`` are the order's cards worked out, in their order. A magneto that came off was found and not left, one
    that went on in its place was left and not found. An order that is void says nothing.
    """
    placed = _placed(order, serial_key(serial))
    if placed is None or order.state is OrderState.VOID:
        return None
    side, was_found, was_left = placed
    results = [(worked, result) for worked in cards if (result := worked.of(side)) is not None]
    found = next((result.found_timing.deviation for _, result in results if result.found_timing), None)
    left = next((result.deviation for _, result in reversed(results) if result.deviation is not None), None)
    found, left = found if was_found else None, left if was_left else None
    if found is None and left is None:
        return None
    limits = next(worked.card.limits for worked, result in reversed(results) if result.timing or result.found_timing)
    intake = order.taken_in.intake if order.taken_in else None
    plate = intake.plate(side) if intake else None
    return MagnetoVisit(
        order=order.number,
        state=order.state,
        on=order.opened.at.date(),
        registration=order.aircraft.registration,
        position=order.position,
        side=side,
        since_overhaul=hours_of(plate.since_overhaul) if plate and was_found else None,
        total_time=hours_of(intake.total_time) if intake else None,
        found=found,
        left=left,
        limits=limits,
    )


def hours_of(typed: str) -> Fraction | None:
    """Return hours as typed at an intake; None for none, or for text that cannot be read."""
    hours = typed_text.number(typed_text.tidied(typed))
    return hours if hours is not None and hours >= 0 else None


def history_of(serial: str, visits: Sequence[MagnetoVisit]) -> History:
    """Return the history of a magneto from its visits in any order; the meter is the one that compares more visits."""
    ordered = tuple(sorted(visits, key=lambda visit: (visit.on, visit.order)))
    compared = {meter: _comparable(ordered, meter) for meter in Meter}
    meter = max(Meter, key=lambda one: len(compared[one]))
    limits = next((visit.limits for visit in reversed(compared[meter]) if visit.limits), None)
    rows = [Visit(visit.hours(meter) or Fraction(0), visit.found, visit.left) for visit in compared[meter]]
    return History(serial, ordered, meter, compared[meter], limits, drift(rows, limits) if limits else None)


def _comparable(visits: Sequence[MagnetoVisit], meter: Meter) -> tuple[MagnetoVisit, ...]:
    """Return the newest visits whose hours follow each other, the oldest first; visits without hours are left out."""
    known = [visit for visit in visits if visit.hours(meter) is not None]
    kept = known[-1:]
    for before, after in itertools.pairwise(reversed(known)):
        if (after.hours(meter) or 0) > (before.hours(meter) or 0):
            break
        if meter is Meter.TOTAL_TIME and _key(after) != _key(before):
            break
        kept.insert(0, after)
    return tuple(kept)


def _key(visit: MagnetoVisit) -> str:
    return serial_key(visit.registration)


def _placed(order: WorkOrder, key: str) -> tuple[Side, bool, bool] | None:
    """Return on which side a magneto was, whether it was found there, and whether it was left there."""
    at_intake = {serial_key(serial): side for side, serial in serials_at_intake(order).items()}
    moved = [moved.part for moved in order.parts if moved.part.serial.strip()]
    off = {serial_key(part.serial) for part in moved if part.way is Way.OFF}
    on = {serial_key(part.serial) for part in moved if part.way is Way.ON}
    if key in at_intake:
        return at_intake[key], True, key not in off or key in on
    emptied = [side for serial, side in at_intake.items() if serial in off and serial not in on]
    return (emptied[0], False, True) if key in on and len(emptied) == 1 else None
