"""The one way in which something changes: seen before, allowed, seen as it is, changed, written down."""

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias, TypeVar

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.orders.changes import what_changed
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_moves import Moved, move
from desktop.core.shop.orders.order_states import BEFORE_APPROVAL, Move, OrderState
from desktop.core.shop.orders.who_may import Deed, why_not
from desktop.core.shop.people.people import Person
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.ports import Answer, Change, Request, Shop, ShopWork

Edit = Callable[[WorkOrder, Stamp, ShopWork], WorkOrder]
Kept = TypeVar("Kept")
Also: TypeAlias = Callable[[ShopWork, Kept, Stamp], None]
"""What is done besides, with what is kept, in the same transaction: there it is signed."""


def change_order(shop: Shop, request: Request, deed: Deed | Move, number: int, edit: Edit) -> Answer:
    """Change an order in one transaction and return the version that it has then.

    A request that came before does nothing and returns the same answer. An edit that changes nothing makes no version.
    Raise Refusal when there is no such order or the person may not do it, ChangedElsewhere when another version was
    seen, and whatever Refusal the edit raises.
    """
    with shop.store.changing() as work:
        if (before := seen_before(work, request, deed)) is not None:
            return before
        by = stamp(shop, work, request, deed)
        old = order_in(work, number)
        refuse_old_view(work, old, request.seen_version)
        new = edit(old, by, work)
        if new != old:
            new = replace(new, version=old.version + 1)
            put(work, old, new, by)
        return remember(work, request, Answer(deed, str(number), new.version))


def nothing_more(_work: ShopWork, _kept: object, _by: Stamp) -> None:
    """Do nothing besides."""


def seen_before(work: ShopWork, request: Request, deed: Deed | Move) -> Answer | None:
    """Return the answer to a request that came before. Raise ValueError when it asked for something else."""
    before = work.already_done(request.request_id)
    if before is not None and before.verb != deed:
        raise ValueError(f"one request id for two things: {before.verb}, {deed}")
    return before


def remember(work: ShopWork, request: Request, answer: Answer) -> Answer:
    """Remember what a request did, and return it."""
    work.done(request.request_id, answer)
    return answer


def stamp(shop: Shop, work: ShopWork, request: Request, deed: Deed | Move) -> Stamp:
    """Return the stamp of the person who asks, at this moment. Raise Refusal when they may not do it."""
    person = person_in(work, request.person_id)
    now = shop.clock.now()
    if reason := why_not(person, deed, now.date()):
        raise Refusal(reason)
    return Stamp(person.id, now, person.supervisor)


def person_in(work: ShopWork, person_id: str) -> Person:
    """Return a person of the roster. Raise Refusal when there is none."""
    person = work.person(person_id)
    if person is None:
        raise Refusal(f'"{person_id}" is not on the roster. A records keeper puts people on it.')
    return person


def order_in(work: ShopWork, number: int) -> WorkOrder:
    """Return an order. Raise Refusal when there is none."""
    order = work.order(number)
    if order is None:
        raise Refusal(f"There is no order {number}. Look it up by customer, registration or serial number.")
    return order


def refuse_old_view(work: ShopWork, order: WorkOrder, seen_version: int) -> None:
    """Raise ChangedElsewhere, with what changed, unless the version that was seen is the present one."""
    if seen_version != order.version:
        changes = work.changes_since(order.number, seen_version)
        raise ChangedElsewhere(order.number, order.version, [words for change in changes for words in change.said])


def put(work: ShopWork, old: WorkOrder | None, new: WorkOrder, by: Stamp) -> None:
    """Keep an order with its line of the journal. Raise Refusal for a text that cannot be kept."""
    if trouble := text_trouble(new, old):
        raise Refusal(trouble)
    said = ("opened",) if old is None else what_changed(old, new)
    work.put_order(new, Change(new.number, new.version, by, said))


def moved(after: Moved) -> WorkOrder:
    """Return the order after a move. Raise NotReady with every refusal."""
    if after.refusals:
        raise NotReady([refusal.words for refusal in after.refusals])
    return after.order


def card_in_work(order: WorkOrder, number: int, by: Stamp) -> tuple[WorkOrder, OrderCard]:
    """Return a card that can be written on, begun if it was only issued. Raise Refusal for any other."""
    card = order.card(number)
    if card is None:
        raise Refusal(f"Order {order.number} has no card {number}. Choose one of its cards.")
    state = order.state_of(card)
    if state is OrderState.ISSUED:
        order = moved(move(order, Move.BEGIN, by, card=number))
        return order, order.cards[number - 1]
    if state is not OrderState.IN_WORK:
        advice = "Have it returned first." if state is OrderState.FOR_INSPECTION else "It stays as it is."
        raise Refusal(f"Card {number} is {state}, and nothing more is written on it. {advice}")
    return order, card


def refuse_after_approval(order: WorkOrder) -> None:
    """Raise Refusal when the order has ended: what was approved or voided stays as it was."""
    if order.state not in BEFORE_APPROVAL:
        raise Refusal(f"Order {order.number} is {order.state}, and nothing more is written on it. Open another order.")


def refuse_unsigned(work: ShopWork) -> None:
    """Raise Refusal in a shop that signs its records: such a move is signed there, and never made without."""
    if work.has_records():
        raise Refusal("This shop signs its records. Look at the card, then sign.")


def refuse_troubles(troubles: tuple[str, ...]) -> None:
    """Raise NotReady with every trouble."""
    if troubles:
        raise NotReady(troubles)
