"""Confirming a step of a card with one's initials, and taking a confirmation back."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import StepDone
from desktop.core.shop.orders.safe_state import BOARD_WORDS, with_state
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.reasons import is_reason
from desktop.core.shop.stamp import Stamp
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
    skipped: bool = False,
) -> Answer:
    """Confirm a step, or leave it out for a reason; confirmed again, the confirmation before is kept as an earlier one.

    What the step says of the safe-state board is set with it: confirming "leads off" sets the plug leads to off.

    Raise Refusal when the card cannot be written on or has no such step, when the step asks for a text or a choice and
    there is none, when it may not be left out or no reason is given, or when a tool is not on the list.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        step = one.step(step_id)
        if step is None:
            raise Refusal(f'Card {card} has no step "{step_id}". Choose one of its steps.')
        _refuse_text(step, text.strip(), skipped=skipped)
        for tool in tools:
            if work.tool(tool) is None:
                raise Refusal(f'There is no tool "{tool}" on the list. A records keeper puts tools on it.')
        done = StepDone(step_id, by, text.strip(), tools, skipped)
        before = one.done(step_id)
        others = tuple(other for other in one.steps if other.step != step_id)
        earlier = (*one.earlier, before) if before else one.earlier
        after = begun.with_card(replace(one, steps=(*others, done), earlier=earlier))
        if not step.board or skipped:
            return after
        item, is_normal = BOARD_WORDS[step.board]
        return replace(after, board=with_state(after.board, item, by, is_normal=is_normal))

    return change_order(shop, request, Deed.CONFIRM_STEP, number, edit)


def take_back_step(shop: Shop, request: Request, number: int, card: int, step_id: str) -> Answer:
    """Take the confirmation of a step back; the journal keeps that it stood there."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        before = one.done(step_id)
        if before is None:
            return order
        others = tuple(other for other in one.steps if other.step != step_id)
        return begun.with_card(replace(one, steps=others, earlier=(*one.earlier, before)))

    return change_order(shop, request, Deed.CONFIRM_STEP, number, edit)


def _refuse_text(step: Step, text: str, *, skipped: bool) -> None:
    """Raise Refusal when a step asks for something else than was written with it."""
    if skipped:
        if not step.may_skip:
            raise Refusal(f'"{step.instruction}" may not be left out. Do it and confirm it.')
        if not is_reason(text):
            raise Refusal("A step is left out for a reason. Write it in a sentence.")
    elif step.capture == TEXT_CAPTURE and not text:
        raise Refusal(f'"{step.instruction}" asks for a text. Write it with the confirmation.')
    elif step.choices and text not in step.choices:
        raise Refusal(f'"{step.instruction}" asks for one of: {", ".join(step.choices)}. Choose one.')
