"""Taking an aircraft in: logs seen, hours, complaint, and the data plates of both magnetos."""

from dataclasses import replace

from desktop.core.shop.aircraft.intake import Intake, TakenIn, intake_faults
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, refuse_after_approval, refuse_troubles
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def take_in(shop: Shop, request: Request, number: int, intake: Intake) -> Answer:
    """Write the intake of an order; written again, it takes the place of the one before.

    Raise NotReady with each number that cannot be read.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        refuse_troubles(intake_troubles(intake))
        if order.taken_in is not None and order.taken_in.intake == intake:
            return order
        return replace(order, taken_in=TakenIn(intake, by))

    return change_order(shop, request, Deed.TAKE_IN, number, edit)


def intake_troubles(intake: Intake) -> tuple[str, ...]:
    """Say each typed number of an intake that cannot be read, with its field."""
    return tuple(f"{path_words(fault.where).capitalize()}: {fault.expected}." for fault in intake_faults(intake))
