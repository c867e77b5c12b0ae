"""Setting the safe-state board: what on the aircraft is not as it flies."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem, with_state
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def set_safe_state(shop: Shop, request: Request, number: int, item: SafeItem, *, is_normal: bool) -> Answer:
    """Set one thing on the board. It can be set after the approval and on a void order too: the aircraft stands there.

    Raise Refusal when the order is closed.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        if order.state is OrderState.CLOSED:
            raise Refusal(f"Order {number} is closed, and everything was normal. Open another order.")
        return replace(order, board=with_state(order.board, item, by, is_normal=is_normal))

    return change_order(shop, request, Deed.SET_SAFE_STATE, number, edit)
