"""Leaving a magneto out of the job, with the reason that is printed."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import LeftOut, WorkOrder
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.reasons import is_reason
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.usecases.shop.change import change_order, refuse_after_approval
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def leave_out(shop: Shop, request: Request, number: int, side: Side, reason: str) -> Answer:
    """Say that a magneto of the engine is no part of the job; said again, the new reason takes the place of the old.

    Raise Refusal without a reason of a sentence, and after the approval.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        if not is_reason(reason):
            raise Refusal("A magneto is left out for a reason. Write it in a sentence.")
        others = tuple(one for one in order.left_out if one.side is not side)
        return replace(order, left_out=(*others, LeftOut(side, reason.strip(), by)))

    return change_order(shop, request, Deed.LEAVE_OUT, number, edit)
