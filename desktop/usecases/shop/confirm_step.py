"""Confirming a step of a card with one's initials, and taking a confirmation back."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_card import StepDone
from desktop.core.shop.safe_state import BOARD_WORDS, with_state
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.who_may import Deed
from desktop.usecases.shop.change import card_in_work, change_order
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork

TEXT_CAPTURE = "text"


def confirm_step(
    shop: Shop,
    request: Request,
    number: int,
    card: int,
    step_id: str,
    *,
    text: str = "",
    tools: tuple[str, ...] = (),
) -> Answer:
    """Confirm a step; confirmed again, the new confirmation takes the place of the one before.

    What the step says of the safe-state board is set with it: confirming "leads off" sets the plug leads to off.

    Raise Refusal when the card cannot be written on or has no such step, when the step asks for a text and there is
    none, or when a tool is not on the list.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        step = one.step(step_id)
        if step is None:
            raise Refusal(f'Card {card} has no step "{step_id}". Choose one of its steps.')
        if step.capture == TEXT_CAPTURE and not text.strip():
            raise Refusal(f'"{step.instruction}" asks for a text. Write it with the confirmation.')
        for tool in tools:
            if work.tool(tool) is None:
                raise Refusal(f'There is no tool "{tool}" on the list. A records keeper puts tools on it.')
        done = StepDone(step_id, by, text.strip(), tools)
        others = tuple(other for other in one.steps if other.step != step_id)
        after = begun.with_card(replace(one, steps=(*others, done)))
        if not step.board:
            return after
        item, is_normal = BOARD_WORDS[step.board]
        return replace(after, board=with_state(after.board, item, by, is_normal=is_normal))

    return change_order(shop, request, Deed.CONFIRM_STEP, number, edit)


def take_back_step(shop: Shop, request: Request, number: int, card: int, step_id: str) -> Answer:
    """Take the confirmation of a step back; the journal keeps that it stood there."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        others = tuple(other for other in one.steps if other.step != step_id)
        return order if others == one.steps else begun.with_card(replace(one, steps=others))

    return change_order(shop, request, Deed.CONFIRM_STEP, number, edit)
