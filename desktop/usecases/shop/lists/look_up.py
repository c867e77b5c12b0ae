"""Looking orders up: by words, by state, page by page; and seeing one."""

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import OrderLine, find_text, words_of
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.ports import ShopStore

PAGE = 50
MOST_LINES = 500
MOST_SIGNS = 200
MOST_WORDS = 8


def look_up(
    store: ShopStore, find: str = "", state: OrderState | None = None, limit: int = PAGE, before: int | None = None
) -> tuple[OrderLine, ...]:
    """Return lines of orders, the newest first, in which every word of ``find`` begins a word of the order.

    ``before`` is the number of the last line of the page before. Of a long text only the first eight words count. Text
    without a letter or digit finds nothing, an empty one everything.
    """
    words = words_of(find_text(find[:MOST_SIGNS]))[:MOST_WORDS]
    if find_text(find).strip() and not words:
        return ()
    return store.orders(words, state, max(1, min(limit, MOST_LINES)), before)


def see_order(store: ShopStore, number: int) -> WorkOrder:
    """Return an order as it is now. Raise Refusal when there is none."""
    order = store.order(number)
    if order is None:
        raise Refusal(f"There is no order {number}. Look it up by customer, registration or serial number.")
    return order
