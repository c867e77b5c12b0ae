"""Taking readings: typed values go into the draft of a card, with who, when and which tool."""

import re
from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.orders.changes import changed_paths
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import ReadingTaken
from desktop.core.shop.orders.reading_marks import marked, standing
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import Value, with_magneto, with_value
from desktop.usecases.shop.change import card_in_work, change_order
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork

_PLACE = re.compile(r"\[([0-9]+)\]")
_NEAR_PLACE = re.compile(r"[1-9][0-9]?")


def take_reading(
    shop: Shop, request: Request, number: int, card: int, *values: tuple[str, Value], tool: str = ""
) -> Answer:
    """Take typed values into a card, each with the path of its field. What was typed is kept, readable or not.

    A card that was only issued is in work after it. Raise Refusal when the card cannot be written on, when the tool
    is not on the list, or for an entry that is none of 99; KeyError for a path that no card has.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        if tool and work.tool(tool) is None:
            raise Refusal(f'There is no tool "{tool}" on the list. A records keeper puts tools on it.')
        readings, marks = one.readings, one.taken
        for path, value in values:
            _refuse_far_place(path)
            before, readings = readings, with_value(readings, path, value)
            marks = marked(marks, before, readings, ReadingTaken(path, by, tool))
        after = replace(one, readings=readings, taken=marks)
        return order if after == one else begun.with_card(after)

    return change_order(shop, request, Deed.TAKE_READING, number, edit)


def put_magneto(
    shop: Shop, request: Request, number: int, card: int, side: Side, magneto: TypedMagneto | None
) -> Answer:
    """Put a whole magneto on a card, or take it off with all its readings.

    Raise Refusal when the card cannot be written on.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        readings = with_magneto(one.readings, side, magneto)
        changed = changed_paths(one.readings, readings)
        marks = tuple(mark for mark in one.taken if mark.path not in changed)
        new = (ReadingTaken(path, by) for path in changed if path.startswith(f"{side}."))
        marks = standing((*marks, *new), readings)
        after = replace(one, readings=readings, taken=marks)
        return order if after == one else begun.with_card(after)

    return change_order(shop, request, Deed.TAKE_READING, number, edit)


def _refuse_far_place(path: str) -> None:
    if not all(_NEAR_PLACE.fullmatch(place) for place in _PLACE.findall(path)):
        raise Refusal(f"{path}: entries count from 1, and 99 are the most. Begin another card.")
