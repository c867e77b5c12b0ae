"""Adding a discrepancy that was found, and settling it: closed, deferred or declined."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome, Settled
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, refuse_after_approval
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def add_discrepancy(shop: Shop, request: Request, number: int, found: str) -> Answer:
    """Add what was found; it gets the next number on the order. Raise Refusal when nothing is written."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        if not found.strip():
            raise Refusal("Nothing is written. Write what was found, and where.")
        new = Discrepancy(len(order.discrepancies) + 1, found.strip(), by)
        return replace(order, discrepancies=(*order.discrepancies, new))

    return change_order(shop, request, Deed.ADD_DISCREPANCY, number, edit)


def settle_discrepancy(
    shop: Shop,
    request: Request,
    number: int,
    discrepancy: int,
    outcome: Outcome,
    words: str,
    customer: CustomerWord | None = None,
) -> Answer:
    """Settle an open discrepancy, with the customer's word where there is one.

    Raise Refusal when there is no such discrepancy, when it is settled already, when it is not said how, or when it is
    declined without the customer's word.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        old = next((one for one in order.discrepancies if one.number == discrepancy), None)
        if old is None:
            raise Refusal(f"Order {number} has no discrepancy {discrepancy}. Choose one of its list.")
        if old.settled:
            raise Refusal(f"Discrepancy {discrepancy} is {old.word} already. Add a new one for what is new.")
        if not words.strip():
            raise Refusal("It is not said how. Write what was done, until when it is deferred, or what was said.")
        if customer is not None and not customer.who.strip():
            raise Refusal("It is not said who spoke for the customer. Write the name.")
        if outcome is Outcome.DECLINED and customer is None:
            raise Refusal("Only the customer declines. Write who said so, when, and for how much.")
        new = replace(old, settled=Settled(outcome, words.strip(), by, customer))
        return replace(order, discrepancies=tuple(new if one is old else one for one in order.discrepancies))

    return change_order(shop, request, Deed.SETTLE_DISCREPANCY, number, edit)
