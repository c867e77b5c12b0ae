"""What one order says of what comes due: its engine and magnetos, its directives, and which cards were accepted."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.due import CardDone, day_done
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import hours_of, serial_key, serials_at_intake
from desktop.usecases.shop.ports import ShopStore


@dataclass(frozen=True, slots=True)
class Fitted:
    """An engine or magneto on an order: what its limits sheets know it by, and a magneto's hours since overhaul.

    ``name`` is the engine's type or the magneto's part number. ``is_left_out``: it is no part of the job.
    ``came_off``: it left the engine on this order.
    """

    serial: str
    subject: Subject
    name: str = ""
    since_overhaul: Fraction | None = None
    is_left_out: bool = False
    came_off: bool = False


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """What one order says of what comes due. ``total_time`` is the aircraft's, None where the intake has none.

    ``done`` names each task card that was accepted, and the day of it.
    """

    number: int
    on: date
    registration: str
    place: str
    total_time: Fraction | None
    fitted: tuple[Fitted, ...]
    directives: tuple[Directive, ...]
    done: tuple[CardDone, ...]

    def of(self, serial: str) -> Fitted | None:
        """Return an engine or magneto of this order."""
        return next((one for one in self.fitted if serial_key(one.serial) == serial_key(serial)), None)

    def has(self, serial: str) -> bool:
        """Tell whether an engine or magneto was on this order."""
        return self.of(serial) is not None

    def day_done(self, what: str, serial: str) -> date | None:
        """Return the day on which something was done on an engine or magneto; None where it was not, or not whole.

        On a magneto that was left out of the job nothing was done, and the engine is not done while one was left out.
        """
        one = self.of(serial)
        if one is None or one.is_left_out:
            return None
        is_part = one.subject is Subject.ENGINE and any(other.is_left_out for other in self.fitted)
        return None if is_part else day_done(what, self.done)


def facts_back(store: ShopStore) -> Iterator[OrderFacts | None]:
    """Yield what each order says, the newest first; None for one that is void. One order is read at each step."""
    newest = store.orders(limit=1)
    for number in range(newest[0].number if newest else 0, 0, -1):
        order = store.order(number)
        yield None if order is None or order.state is OrderState.VOID else facts_of(order)


def facts_of(order: WorkOrder) -> OrderFacts:
    """Return what an order says of what comes due. A directive without a serial stands for the engine's place."""
    engine = order.engine
    side = "" if order.position is EnginePosition.SINGLE else f", {order.position} engine"
    place = f"{order.aircraft.registration}{side}"
    name = engine.serial.strip() or place
    accepted = {passage.card: passage.by.at.date() for passage in order.passages if passage.move is Move.ACCEPT}
    stands = not any(passage.move is Move.NOT_APPROVE for passage in order.passages)
    return OrderFacts(
        number=order.number,
        on=order.opened.at.date(),
        registration=order.aircraft.registration,
        place=place,
        total_time=hours_of(order.taken_in.intake.total_time) if order.taken_in else None,
        fitted=(Fitted(name, Subject.ENGINE, engine.type), *_magnetos(order)),
        directives=tuple(
            replace(done.directive, serial=done.directive.serial.strip() or name) for done in order.directives
        ),
        done=tuple(
            CardDone(card.task.id, card.task.title, accepted.get(card.number, order.opened.at.date()))
            for card in order.cards
            if stands and order.ending is not OrderState.NOT_APPROVED and card.state is OrderState.ACCEPTED
        ),
    )


def _magnetos(order: WorkOrder) -> Iterator[Fitted]:
    """Yield the magnetos at the intake; the data plate counts before what was known of the engine."""
    parts = {magneto.side: magneto.part_number for magneto in order.engine.magnetos}
    plates = {plate.side: plate for plate in (order.taken_in.intake.plates if order.taken_in else ())}
    left_out = {one.side for one in order.left_out}
    moved = [(one.part.way, serial_key(one.part.serial)) for one in order.parts]
    for side, serial in serials_at_intake(order).items():
        plate, key = plates.get(side), serial_key(serial)
        yield Fitted(
            serial,
            Subject.MAGNETO,
            (plate.part_number if plate else "") or parts.get(side, ""),
            hours_of(plate.since_overhaul) if plate else None,
            side in left_out,
            (Way.OFF, key) in moved and (Way.ON, key) not in moved,
        )
