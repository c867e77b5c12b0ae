"""How a work order is named in the windows: its number, its day, and the ring of its state."""

from datetime import date

from desktop.core import words
from desktop.core.shop.orders.order_states import OrderState
from desktop.viewmodels.pieces.card_words import Progress

RINGS: dict[OrderState, Progress] = {
    OrderState.OPEN: Progress.EMPTY,
    OrderState.ISSUED: Progress.EMPTY,
    OrderState.IN_WORK: Progress.OPEN,
    OrderState.FOR_INSPECTION: Progress.OPEN,
    OrderState.ACCEPTED: Progress.OPEN,
    OrderState.APPROVED: Progress.DONE,
    OrderState.NOT_APPROVED: Progress.STOPS,
    OrderState.CLOSED: Progress.DONE,
    OrderState.VOID: Progress.STOPS,
}
"""Empty before the work has begun, half while somebody has to act, closed or crossed at the end."""


def day_words(day: date | None) -> str:
    """Write a day with its month as a word, so that it is read in one way only; nothing for no day."""
    return words.day_words(day) if day else ""
