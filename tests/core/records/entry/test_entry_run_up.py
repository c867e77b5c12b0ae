"""The run-up of an entry comes from the card that takes it, though nothing else is measured on that card."""

from dataclasses import replace

from desktop.core.records.entry.entry_timing import run_up_said, timing_facts, worked_cards
from desktop.core.timing.typed_card import TypedCard, TypedRunUp
from desktop.files.cards import builtin_cards
from desktop.usecases.records.sections.card_results import result_sections
from tests.core.records.entry.entry_orders import ORDER

RUN_UP_CARD = next(card for card in builtin_cards() if card.id == "R2")
GROUND_CARD = next(card for card in builtin_cards() if card.id == "G1")
RUN = TypedCard(format=1, run_up=TypedRunUp("1700", "1640", "1630", "125", "50"))


def test_that_a_card_of_the_run_up_alone_gives_the_run_up_and_no_timing() -> None:
    first = ORDER.cards[0]
    order = replace(
        ORDER,
        cards=(
            replace(first, task=GROUND_CARD, readings=TypedCard(format=1)),
            replace(first, number=2, task=RUN_UP_CARD, readings=RUN),
        ),
    )
    cards = worked_cards(order)
    assert [card.task.id for card, _ in cards] == ["R2"]
    assert run_up_said(cards).startswith("1700 rpm on both; on left 1640 rpm, drop 60")
    assert timing_facts(order, cards) == ()
    [section] = [section for section in result_sections(cards[0][1]) if section.rows]
    assert [row.label for row in section.rows] == ["Run-up"]
