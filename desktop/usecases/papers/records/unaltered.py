"""An order that is held against its signed records before a paper of it is made."""

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers.asked import ErrandDesk, PaperDesk
from desktop.usecases.records.checking.signed_state import SignedState
from desktop.usecases.shop.lists.look_up import see_order


def unaltered_order(desk: PaperDesk, number: int) -> WorkOrder:
    """Return an order whose signed records are sound and that is kept as they say.

    Raise Refusal when there is none, when any record of the shop is not as it was signed, and when the order or a card
    of it is not what was signed. The whole chain is walked: a record is only as sound as those before it. In one errand
    an order that stands as it was held against the same records is not held against them again.
    """
    records, order = desk.verified(), see_order(desk.shop.store, number)
    if isinstance(desk, ErrandDesk) and desk.walked.orders.get(number) == order:
        return order
    state = SignedState()
    for one in records:
        state.take(one.taken)
    for found in state.order_problems(order):
        sentence = found if isinstance(found, str) else found.sentence
        raise Refusal(
            f"{order_name(number)} is not printed while the check finds something wrong: {sentence} "
            "Run 'sparkwright verify' on the shop file, and restore the newest backup that is sound."
        )
    if isinstance(desk, ErrandDesk):
        desk.walked.orders[number] = order
    return order
