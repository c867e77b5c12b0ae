"""Which work orders are listed: what waits for somebody, all that are open, those in one state, those that ended."""

from collections.abc import Iterator, Sequence
from enum import StrEnum

from desktop.core.shop.orders.order_line import OrderLine
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.ports import ShopStore
from desktop.viewmodels.orders.next_act import NextAct, acts_of


class Listed(StrEnum):
    """What can be listed besides one state; the value is what a machine remembers."""

    MINE = "mine"
    OPEN = "all open"
    ENDED = "ended"
    EVERY = "every"


Asked = Listed | OrderState
ENDED_STATES = (OrderState.CLOSED, OrderState.VOID)
OPEN_STATES = tuple(state for state in OrderState if state not in ENDED_STATES)
OPEN_WORDS, ENDED_WORDS, EVERY_WORDS = "all open orders", "closed and void", "every order"
MINE_WORDS: dict[tuple[Right, ...], str] = {
    (Right.INSPECTOR,): "cards waiting for me",
    (Right.AUTHORISED,): "orders waiting for me",
    (Right.MECHANIC,): "my cards",
    (Right.HELPER,): "my cards",
}
"""What waits for somebody, by the one right that lets them do it."""
WAITING, NOBODYS = "waiting for me", "waiting for whoever works here"
OF_THE_WORK = (Right.MECHANIC, Right.HELPER, Right.INSPECTOR, Right.AUTHORISED)


def mine_words(person: Person | None) -> str:
    """Name what waits for a person."""
    if person is None:
        return NOBODYS
    return MINE_WORDS.get(tuple(right for right in OF_THE_WORK if right in person.rights), WAITING)


def choices(person: Person | None) -> Iterator[tuple[Asked, str]]:
    """Yield everything that can be listed, with its words."""
    yield Listed.MINE, mine_words(person)
    yield Listed.OPEN, OPEN_WORDS
    yield from ((state, state.value) for state in OPEN_STATES)
    yield Listed.ENDED, ENDED_WORDS
    yield from ((state, state.value) for state in ENDED_STATES)
    yield Listed.EVERY, EVERY_WORDS


def first_for(person: Person | None) -> Asked:
    """Return what a person sees first: the front desk and the records keeper all open orders, the others their own."""
    if person is None or Right.FRONT_DESK in person.rights or not person.holds_one_of(OF_THE_WORK):
        return Listed.OPEN
    return Listed.MINE


def asked_of(value: str) -> Asked | None:
    """Return what a machine remembered; None for what there is not."""
    for kind in (Listed, OrderState):
        if value in {one.value for one in kind}:
            return kind(value)
    return None


def states_of(asked: Asked) -> tuple[OrderState | None, ...]:
    """Return the states that are read from the shop; None for all at once."""
    if isinstance(asked, OrderState):
        return (asked,)
    if asked is Listed.EVERY:
        return (None,)
    return ENDED_STATES if asked is Listed.ENDED else OPEN_STATES


def lines_in(store: ShopStore, find: str, asked: Asked, limit: int, before: int | None) -> tuple[OrderLine, ...]:
    """Return lines of orders, the newest first, whatever waits on them. May raise the store's Refusal."""
    found = [line for state in states_of(asked) for line in look_up(store, find, state, limit, before)]
    return tuple(sorted(found, key=lambda line: -line.number)[:limit])


class Waiting:
    """Says what of an order waits for a person; an order is read again only when it was changed."""

    def __init__(self, store: ShopStore) -> None:
        self._store = store
        self._person: Person | None = None
        self._known: dict[tuple[int, int], str] = {}

    def become(self, person: Person | None) -> None:
        """Look for another person from now on."""
        if person != self._person:
            self._person = person
            self._known.clear()

    def words(self, line: OrderLine) -> str:
        """Return what waits, in the words of the order's next action; empty for nothing."""
        key = (line.number, line.version)
        if key not in self._known:
            self._known[key] = self._read(line.number)
        return self._known[key]

    def _read(self, number: int) -> str:
        order = self._store.order(number)
        acts = acts_of(order, self._person, signs=True) if order is not None else ()
        return waiting_words(acts)


def waiting_words(acts: Sequence[NextAct]) -> str:
    """Say what waits: cards with which the same is to be done stand together."""
    grouped: dict[str, list[int]] = {}
    for act in acts:
        words = act.words.removesuffix(f" {act.card}").rstrip("…")
        grouped.setdefault(words, []).extend([act.card] if act.card else [])
    return ". ".join(f"{words} {', '.join(map(str, cards))}".rstrip() for words, cards in grouped.items())
