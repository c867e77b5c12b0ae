"""The cards of an order, one line each: how far, whose, and the next step or why it came back."""

from dataclasses import dataclass

from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.usecases.shop.cards.card_look import CardLook
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import ListColumn
from desktop.viewmodels.pieces.order_words import RINGS


@dataclass(frozen=True, slots=True)
class CardLine:
    """A card of the order: what it is, how far, whose, and the next step on it."""

    number: int
    title: str
    state: OrderState
    mechanic: str
    next_step: str
    stops: int


def _card_ring(line: CardLine) -> Progress:
    return Progress.STOPS if line.stops else RINGS[line.state]


CARD_COLUMNS = (
    ListColumn("Card", lambda line: f"{line.number}", 76, strong=True, narrow_width=76),
    ListColumn("Title", lambda line: line.title, 0, below=("Next step",)),
    ListColumn("State", lambda line: line.state.value, 160, ring=_card_ring, narrow_width=160),
    ListColumn("Mechanic", lambda line: line.mechanic, 100, quiet=True, narrow_width=100),
    ListColumn("Next step", lambda line: line.next_step, 420, quiet=True),
)


def card_line(order: WorkOrder, card: OrderCard, look: CardLook) -> CardLine:
    """Return the line of a card that was looked at."""
    asked = [(place, step) for place, step in enumerate(look.steps, 1) if step.initials and card.done(step.id) is None]
    words = _next_words(order, card, asked[0] if asked else None, is_stopped=bool(what_stops(look)))
    stops = len(look.stopping) if card.state not in (OrderState.ISSUED, OrderState.IN_WORK) else 0
    return CardLine(card.number, card.task.title, order.state_of(card), card.mechanic or "anybody", words, stops)


def _returned(order: WorkOrder, card: OrderCard) -> str:
    """Say who returned a card last, and why; empty when it was not, or was submitted again."""
    mine = [one for one in order.passages if one.card == card.number]
    last = mine[-1] if mine else None
    return f"returned by {last.by.person}: {last.reason}" if last and last.move is Move.RETURN else ""


def _next_words(order: WorkOrder, card: OrderCard, step: tuple[int, Step] | None, *, is_stopped: bool) -> str:
    if returned := _returned(order, card):
        return returned
    if card.state is OrderState.FOR_INSPECTION:
        return "waits for an inspector"
    if card.state is OrderState.ACCEPTED:
        return ""
    if step is not None:
        return f"{step[0]}. {step[1].instruction}"
    return "something stands against submitting it" if is_stopped else "submit for inspection"
