"""Taking readings: typed values go into the draft of a card, with who, when and which tool."""

import re
from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_card import OrderCard, ReadingTaken
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.who_may import Deed
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState, take_table, take_value
from desktop.usecases.shop.change import Edit, card_in_work, change_order
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork

MOST_PLACES = 99
"""Most entries of one list of readings: stop pairs, approaches, torques."""

_PLACE = re.compile(r"\[([0-9]+)\]")


def take_reading(
    shop: Shop, request: Request, number: int, card: int, *values: tuple[str, Value], tool: str = ""
) -> Answer:
    """Take typed values into a card, each with the path of its field. What was typed is kept, readable or not.

    A card that was only issued is in work after it. Raise Refusal when the card cannot be written on, when the tool
    is not on the list, or for an entry beyond the ninety-ninth; KeyError for a path that no card has.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        if tool and work.tool(tool) is None:
            raise Refusal(f'There is no tool "{tool}" on the list. A records keeper puts tools on it.')
        state = CardState(_card_readings(order, card), (), None)
        for path, value in values:
            _refuse_far_place(path)
            state = take_value(state, path, value, shop.rulebook)
        return _with_readings(order, card, state.typed, by, tool)

    return change_order(shop, request, Deed.TAKE_READING, number, edit)


def put_table(shop: Shop, request: Request, number: int, card: int, name: str, *, present: bool) -> Answer:
    """Put a whole table on a card, or take it off with all that stands in it: one magneto, the run-up.

    Raise Refusal when the card cannot be written on, KeyError for a table that no card has.
    """
    return change_order(shop, request, Deed.TAKE_READING, number, _table_edit(shop, card, name, present=present))


def _table_edit(shop: Shop, card: int, name: str, *, present: bool) -> Edit:
    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        state = CardState(_card_readings(order, card), (), None)
        after = take_table(state, name, shop.rulebook, present=present)
        return _with_readings(order, card, after.typed, by, "")

    return edit


def _card_readings(order: WorkOrder, number: int) -> TypedCard:
    card = order.card(number)
    return card.readings if card else TypedCard()


def _with_readings(order: WorkOrder, number: int, readings: TypedCard, by: Stamp, tool: str) -> WorkOrder:
    """Return the order with new readings on a card; the card is begun only when something is different."""
    begun, card = card_in_work(order, number, by)
    if readings == card.readings:
        return order
    return begun.with_card(replace(card, readings=readings, taken=_taken(card, readings, by, tool)))
