"""The one next thing to do on an order, as one person sees it: their own, or who does it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import BEFORE_APPROVAL, OrderState
from desktop.core.shop.people.people import Person, Right


class NextKind(StrEnum):
    """What the one next action does."""

    ISSUE = "issue"
    OPEN = "open"
    INSPECT = "inspect"
    APPROVE = "approve"
    CLOSE = "close"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class NextAct:
    """The next action in words; ``card`` is 0 for one about the whole order. One that is not mine says whose it is."""

    kind: NextKind
    words: str
    card: int = 0
    is_mine: bool = True


@dataclass(frozen=True, slots=True)
class _Act:
    """An action, the rights of which it takes one, whose card it is about, and what is said to everybody else."""

    act: NextAct
    rights: tuple[Right, ...]
    others: str
    whose: str = ""

    def is_of(self, person: Person) -> bool:
        return person.holds_one_of(self.rights) and self.whose in ("", person.id)


def next_act(order: WorkOrder, person: Person | None, people: tuple[Person, ...], *, signs: bool) -> NextAct:
    """Return the first thing that this person may do, or else the first of the work with who does it."""
    acts = tuple(_acts(order, {one.id: one.name for one in people}, signs=signs))
    mine = next((one.act for one in acts if person is not None and one.is_of(person)), None)
    if mine is not None or not acts[0].rights:
        return mine or acts[0].act
    return replace(acts[0].act, words=acts[0].others, is_mine=False)


def acts_of(order: WorkOrder, person: Person | None, *, signs: bool) -> tuple[NextAct, ...]:
    """Return everything on an order that waits for this person."""
    if person is None:
        return ()
    return tuple(one.act for one in _acts(order, {}, signs=signs) if one.rights and one.is_of(person))


def _acts(order: WorkOrder, names: dict[str, str], *, signs: bool) -> Iterator[_Act]:
    desk = (Right.FRONT_DESK,)
    if order.state is OrderState.OPEN:
        yield _Act(NextAct(NextKind.ISSUE, "Issue the cards of a job"), desk, "The front desk issues the cards…")
    elif order.state in (OrderState.APPROVED, OrderState.NOT_APPROVED):
        yield _Act(NextAct(NextKind.CLOSE, "Close the order"), desk, "The front desk closes the order…")
    elif order.state not in BEFORE_APPROVAL:
        yield _Act(NextAct(NextKind.LEAVE, "Back to the work orders"), (), "")
    else:
        yield from _of_cards(order, names, signs=signs)


def _of_cards(order: WorkOrder, names: dict[str, str], *, signs: bool) -> Iterator[_Act]:
    for card in order.cards:
        number = card.number
        if card.state is OrderState.FOR_INSPECTION:
            words = f"Inspect card {number}" if signs else f"Open card {number}"
            act = NextAct(NextKind.INSPECT, words, number)
            yield _Act(act, (Right.INSPECTOR,), f"An inspector inspects card {number}…")
        elif card.state is not OrderState.ACCEPTED:
            who = names.get(card.mechanic, card.mechanic) or "A mechanic"
            act = NextAct(NextKind.OPEN, f"Open card {number}", number)
            yield _Act(act, (Right.MECHANIC, Right.HELPER), f"{who} fills card {number}…", card.mechanic)
    if all(card.state is OrderState.ACCEPTED for card in order.cards):
        act = NextAct(NextKind.APPROVE, "Approve…")
        yield _Act(act, (Right.AUTHORISED,), "An authorised person approves…")
