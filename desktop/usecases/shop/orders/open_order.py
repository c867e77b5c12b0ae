"""Opening a work order: the number is given in the transaction that makes the order."""

from dataclasses import dataclass
from datetime import date

from desktop.core.shop.aircraft.aircraft import Aircraft, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake, TakenIn
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.safe_state import new_board
from desktop.core.shop.orders.who_may import Deed
from desktop.usecases.shop.change import put, refuse_troubles, remember, seen_before, stamp
from desktop.usecases.shop.orders.take_in import intake_troubles
from desktop.usecases.shop.ports import Answer, Request, Shop


@dataclass(frozen=True, slots=True)
class NewOrder:
    """What the front desk writes to open an order; the intake may follow."""

    customer: Customer
    aircraft: Aircraft
    position: EnginePosition
    asked: str = ""
    promised: date | None = None
    intake: Intake | None = None
    authorised: str = ""


def open_order(shop: Shop, request: Request, new: NewOrder) -> Answer:
    """Open a work order and return its number. Raise NotReady with everything that is missing."""
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.OPEN_ORDER)) is not None:
            return before
        by = stamp(shop, work, request, Deed.OPEN_ORDER)
        refuse_troubles(_troubles(new))
        order = WorkOrder(
            number=work.next_order_number(),
            version=1,
            opened=by,
            customer=new.customer,
            aircraft=new.aircraft,
            position=new.position,
            board=new_board(by),
            asked=new.asked,
            promised=new.promised,
            authorised=new.authorised.strip(),
            taken_in=TakenIn(new.intake, by) if new.intake else None,
        )
        put(work, None, order, by)
        return remember(work, request, Answer(Deed.OPEN_ORDER, str(order.number), order.version))


def _troubles(new: NewOrder) -> tuple[str, ...]:
    engine = new.aircraft.engine_at(new.position)
    troubles = (
        (not new.customer.name.strip(), "The customer has no name. Write who brought the aircraft."),
        (not new.aircraft.registration.strip(), "The registration is missing. Write it as it stands on the aircraft."),
        (engine is None, f"The aircraft has no engine in the position {new.position}. Choose one that it has."),
    )
    own = tuple(sentence for is_so, sentence in troubles if is_so)
    return own + (intake_troubles(new.intake) if new.intake else ())
