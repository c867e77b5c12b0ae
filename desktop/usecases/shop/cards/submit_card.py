"""Submitting a card for inspection, and returning it with a reason."""

from typing import Protocol

from desktop.core.errors import Refusal
from desktop.core.shop.orders.hands import whose_instead
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_moves import move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.people.people import Person
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.change import change_order, moved, refuse_unsigned
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


class Roster(Protocol):
    """Who is on the roster."""

    def person(self, person_id: str) -> Person | None:
        """Return a person; None when there is none."""
        ...


def refuse_others_work(roster: Roster, card: OrderCard, person_id: str) -> None:
    """Raise Refusal, with whose card it is, when somebody neither was given the card nor did work on it."""

    def name_of(one: str) -> str:
        person = roster.person(one)
        return f"{person.name} ({one})" if person else one

    if words := whose_instead(card, person_id, name_of):
        raise Refusal(words)


def submit_card(shop: Shop, request: Request, number: int, card: int) -> Answer:
    """Submit a card for inspection. Raise NotReady with everything that stands against it, Refusal for others' work."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_unsigned(work)
        one = order.card(card)
        if one is not None:
            refuse_others_work(work, one, by.person)
        stops = what_stops(look_at_card(shop, work, order, one, by.at.date())) if one else ()
        return moved(move(order, Move.SUBMIT, by, card=card, stops=stops))

    return change_order(shop, request, Move.SUBMIT, number, edit)


def return_card(shop: Shop, request: Request, number: int, card: int, reason: str) -> Answer:
    """Return a card that is for inspection to the mechanic. Raise NotReady without a reason."""

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        refuse_unsigned(work)
        return moved(move(order, Move.RETURN, by, card=card, reason=reason))

    return change_order(shop, request, Move.RETURN, number, edit)
