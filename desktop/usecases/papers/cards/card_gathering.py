"""A card of an order with everything that its paper says, gathered from the shop."""

from collections.abc import Iterable, Iterator

from desktop.core.errors import Refusal
from desktop.core.rules.paperwork import settled_at
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.sheets.sheets import sheet_words
from desktop.core.words import day_words
from desktop.usecases.papers.asked import NotYet, PaperDesk
from desktop.usecases.papers.cards.card_records import records_of_card
from desktop.usecases.papers.cards.order_card import CardPaper
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.sections.card_sections import CardToSay
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.cards.card_look import look_at_card


def card_of(order: WorkOrder, number: int) -> OrderCard:
    """Return a card of an order, the newest for 0. Raise Refusal when there is none."""
    if not order.cards:
        raise Refusal(f"{order_name(order.number)} has no card yet. Issue one first.")
    card = order.card(number) if number else order.cards[-1]
    if card is None:
        raise Refusal(f"{order_name(order.number)} has no card {number}. It has cards 1 to {len(order.cards)}.")
    return card


def card_paper(
    desk: PaperDesk,
    order: WorkOrder,
    card: OrderCard,
    names: Names,
    records: Iterable[VerifiedRecord] = (),
    *,
    invented: bool = False,
) -> CardPaper:
    """Return a card looked at as a whole; it has no steps while the data are not known from which they follow.

    ``records`` are all records of the shop, verified: those of the card are shown as its signatures.
    """
    store = desk.shop.store
    look = look_at_card(desk.shop, store, order, card, desk.shop.clock.now().date())
    limits = tuple(
        (step.id, allowed.words)
        for step in look.steps
        if (allowed := look.seen.sheets.limit_for(step.limit, step.side)) is not None
    )
    sheets = tuple(sheet_words(store.pinned_sheet(pin)) for pin in card.sheets)
    said = CardToSay(order, card, look.state, look.steps, look.findings, names, limits, sheets)
    signed = records_of_card(records, order.number, card.number)
    settled = settled_at(order, card)
    revised = tuple(_revised(desk, card)) if look.seen.revised_since else ()
    superseded = settled is None and bool(look.seen.superseded)
    return CardPaper(said, desk.name, look.seen.sheets, invented, superseded, signed, revised)


def _revised(desk: PaperDesk, card: OrderCard) -> Iterator[str]:
    """Say of each limits sheet of a card that it was revised since, and when."""
    for pin in card.sheets:
        newest = desk.shop.store.newest_sheet(pin.sheet)
        if newest is not None and newest.revision > pin.revision:
            when = f", compared {day_words(newest.compared_by.at.date())}" if newest.compared_by else ""
            yield (
                f"Revised since this card was submitted: sheet {pin.sheet}, now rev {newest.revision}{when}. "
                f"This card was worked with rev {pin.revision}."
            )


def refuse_without_steps(paper: CardPaper) -> None:
    """Raise NotYet when the steps of a card are not known: no engine, or no way of measuring."""
    said = paper.said
    if not said.steps and said.state.faults:
        first = said.state.faults[0]
        raise NotYet(
            f"Card {said.card.number} cannot be printed yet. {path_words(first.where).capitalize()}: {first.expected}. "
            "The steps of a card follow from these data."
        )
