"""Closing an order after its approval: everything on the safe-state board is normal."""

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, moved
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def close_order(shop: Shop, request: Request, number: int) -> Answer:
    """Close an order. Raise NotReady before the approval, and while something on the board is not normal."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        return moved(move(order, Move.CLOSE, by))

    return change_order(shop, request, Move.CLOSE, number, edit)
