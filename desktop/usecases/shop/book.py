"""Booking time, and parts off and on."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.parts import Part, PartMoved, part_troubles
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.time_booked import MOST_MINUTES, TimeBooked
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, person_in, refuse_after_approval, refuse_troubles
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def book_time(shop: Shop, request: Request, number: int, person: str, minutes: int, what: str) -> Answer:
    """Book minutes that somebody worked. Raise Refusal outside one minute to a day, or for nobody on the roster."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        worker = person_in(work, person)
        if not 1 <= minutes <= MOST_MINUTES:
            raise Refusal("An entry of time holds one minute to 24 hours. Make one entry for each day.")
        return replace(order, time=(*order.time, TimeBooked(worker.id, minutes, what.strip(), by)))

    return change_order(shop, request, Deed.BOOK_TIME, number, edit)


def add_part(shop: Shop, request: Request, number: int, part: Part) -> Answer:
    """Add a part that came off or went on. Raise NotReady with what is missing."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        refuse_troubles(part_troubles(part))
        return replace(order, parts=(*order.parts, PartMoved(part, by)))

    return change_order(shop, request, Deed.ADD_PART, number, edit)
