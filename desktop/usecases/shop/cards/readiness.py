"""What stands against submitting a card: everything is looked at again, whatever a window showed."""

from collections.abc import Iterator

from desktop.core.shop.orders.order_moves import MoveRefusal
from desktop.core.shop.orders.path_words import path_words
from desktop.usecases.shop.cards.card_look import CardLook


def what_stops(look: CardLook) -> tuple[MoveRefusal, ...]:
    """Return everything that keeps a card from being submitted.

    Typed values that cannot be read, findings that stop, findings that ask for a reason and have none of a sentence.
    """
    return tuple(_refusals(look))


def _refusals(look: CardLook) -> Iterator[MoveRefusal]:
    for fault in look.faults:
        yield MoveRefusal(f"{path_words(fault.where).capitalize()}: {fault.expected}.", "Fill the field in.")
    for finding in look.stopping:
        yield MoveRefusal(finding.sentence, _place(finding.where))
    for finding in look.unexplained:
        yield MoveRefusal(finding.sentence, "Write the reason at the finding, in a sentence.")


def _place(where: str) -> str:
    """Say where a finding stands, unless its sentence names the step."""
    return "" if where.startswith("@") else f"It stops the card: {path_words(where)}."
