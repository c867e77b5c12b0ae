"""What decides the steps of a card: its readings, the order around it, and the limits sheets."""

from dataclasses import replace

import pytest

from desktop.core.shop.aircraft.aircraft import Aircraft, EnginePosition
from desktop.core.shop.orders.card_facts import facts_around, facts_of_typed
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.sheets.sheet_set import SheetSet, sheet_set
from desktop.core.shop.sheets.sheets import SheetRetard, SheetTurning
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, TypedMagnetos
from desktop.files.sheets import demo_sheets
from tests.core.shop.some_orders import EMPTY, ENGINE, TASK, card

SHEETS = {sheet.id: sheet for sheet in demo_sheets()}
SIX = sheet_set((("engine", SHEETS["marrow-six"]), ("left", SHEETS["ostrin-t2-l"]), ("right", SHEETS["ostrin-t2"])))


@pytest.mark.parametrize(
    ("typed", "facts"),
    [
        (TypedCard(), set()),
        (TypedCard(left=TypedMagneto()), {"left"}),
        (
            TypedCard(left=TypedMagneto(impulse_lag="30"), right=TypedMagneto(impulse_lag=" ")),
            {"left", "right", "both", "impulse", "left impulse"},
        ),
        (TypedCard(right=TypedMagneto(), magnetos=TypedMagnetos(one_housing=True)), {"right", "one housing"}),
    ],
)
def test_that_a_card_without_readings_is_known_by_its_magnetos(typed: TypedCard, facts: set[str]) -> None:
    assert facts_of_typed(typed) == facts


def numbered(number: int, task_id: str) -> OrderCard:
    return replace(card(number), task=replace(TASK, id=task_id))


def test_that_other_cards_of_the_order_cover_what_they_cover() -> None:
    cards = tuple(numbered(number, name) for number, name in enumerate(("S1", "T3", "T4", "C1"), 1))
    order = replace(EMPTY, cards=cards)
    assert facts_around(order, cards[2], SheetSet()) == {
        "twin",
        "safe elsewhere",
        "found elsewhere",
        "closed elsewhere",
    }
    assert facts_around(order, cards[0], SheetSet()) == {"twin", "closed elsewhere"}


def test_that_a_second_card_of_a_kind_covers_nothing_for_the_first() -> None:
    cards = (numbered(1, "C1"), numbered(2, "C1"))
    assert facts_around(replace(EMPTY, cards=cards), cards[0], SheetSet()) == {"twin"}


def test_that_the_engine_and_its_sheet_say_what_the_engine_is() -> None:
    single = replace(
        EMPTY,
        aircraft=Aircraft("X-ABCD", engines=(replace(ENGINE, position=EnginePosition.SINGLE),)),
        position=EnginePosition.SINGLE,
        cards=(card(1),),
    )
    assert facts_around(single, single.cards[0], SIX) == {"opposed", "back allowed"}
    assert SIX.engine is not None
    other = replace(SIX.engine, configuration="in line", turning=SheetTurning("no", "pump vanes"))
    assert facts_around(single, single.cards[0], replace(SIX, engine=other)) == {"back forbidden"}
    plain = replace(SIX.engine, configuration="other", turning=None)
    assert facts_around(single, single.cards[0], SheetSet(plain)) == set()


def test_that_a_retard_breaker_on_a_sheet_is_a_fact() -> None:
    left = SIX.left
    assert left is not None
    fitted = replace(SIX, left=replace(left, retard=SheetRetard("0")))
    order = replace(EMPTY, cards=(card(1),))
    assert "retard breaker" in facts_around(order, order.cards[0], fitted)


def test_that_a_set_of_sheets_names_what_they_are_about() -> None:
    assert ("engine", "Marrow Six") in SIX.names
    assert ("left", "T2-L") in SIX.names
    assert len(SIX.sheets) == 3
    assert SheetSet(right=SIX.right).names == (("right", "T2"),)
