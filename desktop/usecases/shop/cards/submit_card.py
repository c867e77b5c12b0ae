"""Submitting a card for inspection, and returning it with a reason."""

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.change import change_order, moved, refuse_unsigned
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def submit_card(shop: Shop, request: Request, number: int, card: int) -> Answer:
    """Submit a card for inspection. Raise NotReady with everything that stands against it."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_unsigned(work)
        one = order.card(card)
        stops = what_stops(look_at_card(shop, work, order, one, by.at.date())) if one else ()
        return moved(move(order, Move.SUBMIT, by, card=card, stops=stops))

    return change_order(shop, request, Move.SUBMIT, number, edit)


def return_card(shop: Shop, request: Request, number: int, card: int, reason: str) -> Answer:
    """Return a card that is for inspection to the mechanic. Raise NotReady without a reason."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_unsigned(work)
        return moved(move(order, Move.RETURN, by, card=card, reason=reason))

    return change_order(shop, request, Move.RETURN, number, edit)
