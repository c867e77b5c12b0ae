"""What the rules about paperwork look at: a card with the order around it, and an order before its approval."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeAlias

from desktop.core.rules.rule import RuleOf
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, StepDone
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.core.shop.tools import Tool

SHOP = "The shop's own procedure. Common practice."
RECORD = "Content of a maintenance record: 14 CFR 43.9. Common practice."


@dataclass(frozen=True, slots=True)
class CardInShop:
    """A card of an order with what stands around it.

    ``steps`` are those that apply. ``unprintable`` holds path and signs of each text that paper cannot show.
    ``superseded`` names each limits sheet of the card of which a newer revision stood while it was worked on,
    ``revised_since`` each of which one was compared after the card was settled (``settled_at``).
    """

    order: WorkOrder
    card: OrderCard
    steps: tuple[Step, ...]
    people: tuple[Person, ...]
    tools: tuple[Tool, ...]
    today: date
    sheets: SheetSet
    superseded: tuple[str, ...] = ()
    unprintable: tuple[tuple[str, str], ...] = ()
    revised_since: tuple[str, ...] = ()

    def steps_with(self, capture: str) -> Iterator[Step]:
        """Yield the steps that capture something."""
        return (step for step in self.steps if step.capture == capture)

    def done(self, step: Step) -> StepDone | None:
        """Return the confirmation of a step."""
        return self.card.done(step.id)

    def taken_at(self, path: str) -> datetime | None:
        """Return when the value at a path was taken; None when that is not known."""
        taken = self.card.taken_at(path)
        return taken.by.at if taken else None

    def tool(self, number: str) -> Tool | None:
        """Return a tool by its number."""
        return next((tool for tool in self.tools if tool.id == number), None)


@dataclass(frozen=True, slots=True)
class OrderInShop:
    """An order before its approval. ``run_up_due`` says that its job ends with a run-up."""

    order: WorkOrder
    people: tuple[Person, ...]
    today: date
    run_up_due: bool = False


CardRule: TypeAlias = RuleOf[CardInShop]
OrderRule: TypeAlias = RuleOf[OrderInShop]


def settled_at(order: WorkOrder, card: OrderCard) -> datetime | None:
    """Return when the last was written on a card: at its submission, or as its order ended; None while it is in work.

    After that nothing more is written on it, so it is judged by what stood then.
    """
    submitted = card.state in (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)
    if not submitted and order.ending is None:
        return None
    moves = (Move.SUBMIT,) if submitted else (Move.NOT_APPROVE, Move.VOID)
    places = (card.number,) if submitted else (0,)
    times = [one.by.at for one in order.passages if one.move in moves and one.card in places]
    return times[-1] if times else None


def at_step(step: Step) -> str:
    """Return where a finding about a step stands."""
    return f"@step.{step.id}"
