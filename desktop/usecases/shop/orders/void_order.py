"""Voiding an order before its approval: it keeps its number and everything that stands on it."""

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, moved, refuse_unsigned
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def void_order(shop: Shop, request: Request, number: int, reason: str) -> Answer:
    """Void an order. Raise NotReady without a reason, or after the approval."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_unsigned(work)
        return moved(move(order, Move.VOID, by, reason=reason))

    return change_order(shop, request, Move.VOID, number, edit)
