"""Issuing a task card on an order: the card is frozen as it stands."""

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import NewCard, move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.people.people import Right
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, moved, person_in
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def issue_card(shop: Shop, request: Request, number: int, new: NewCard) -> Answer:
    """Issue a card on an order, to a mechanic or to anybody. The newest card is the last of the order.

    Raise Refusal when the person to whom it is given cannot fill it, NotReady when the order takes no card any more.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        if new.mechanic:
            mechanic = person_in(work, new.mechanic)
            if not mechanic.is_here(by.at.date()) or not mechanic.holds_one_of((Right.MECHANIC, Right.HELPER)):
                raise Refusal(f"{mechanic.name} cannot fill a card. Give it to a mechanic who is with the shop.")
        return moved(move(order, Move.ISSUE, by, new=new))

    return change_order(shop, request, Move.ISSUE, number, edit)
