"""What each person of a shop sees first among the work orders, and what waits for them."""

from dataclasses import replace

import pytest

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.usecases.shop.lists.look_up import see_order
from desktop.viewmodels.orders.listed import (
    ENDED_STATES,
    Listed,
    Waiting,
    asked_of,
    choices,
    first_for,
    lines_in,
    mine_words,
)
from desktop.viewmodels.orders.next_act import NextKind, acts_of, next_act
from desktop.viewmodels.orders.order_list_model import OrderListModel
from tests.usecases.shop.shop_floor import PEOPLE, SINCE, Floor
from tests.viewmodels.shop_orders import desk_at, shop_with

BY_ID = {one.id: one for one in PEOPLE}
ALL_ROUND = Person("ADA", "Ada Varn", (Right.INSPECTOR, Right.AUTHORISED, Right.RECORDS), SINCE)
CHIEF = Person("REX", "Rex Aar", (Right.AUTHORISED,), SINCE)
FILLED = {OrderState.ISSUED, OrderState.IN_WORK}


@pytest.fixture(scope="module")
def floor() -> Floor:
    return shop_with(90)


def states_for(floor: Floor, person: Person, asked: Listed) -> set[OrderState]:
    waiting = Waiting(floor.store)
    waiting.become(person)
    model = OrderListModel(floor.store, waiting=waiting)
    model.show_orders("", asked)
    return {model.line(row).state for row in range(model.rowCount())}


@pytest.mark.parametrize(
    ("person", "first", "words", "states"),
    [
        (BY_ID["DESK"], Listed.OPEN, "waiting for me", {OrderState.OPEN, OrderState.APPROVED, OrderState.NOT_APPROVED}),
        (BY_ID["MECH"], Listed.MINE, "my cards", FILLED),
        (BY_ID["HELP"], Listed.MINE, "my cards", FILLED),
        (BY_ID["INSP"], Listed.MINE, "cards waiting for me", {OrderState.FOR_INSPECTION}),
        (CHIEF, Listed.MINE, "orders waiting for me", {OrderState.ACCEPTED}),
        (ALL_ROUND, Listed.MINE, "waiting for me", {OrderState.FOR_INSPECTION, OrderState.ACCEPTED}),
        (BY_ID["KEEP"], Listed.OPEN, "waiting for me", set()),
    ],
)
def test_that_each_person_sees_first_what_they_do(
    floor: Floor, person: Person, first: Listed, words: str, states: set[OrderState]
) -> None:
    assert first_for(person) is first
    assert mine_words(person) == words
    assert states_for(floor, person, Listed.MINE) == states


def test_that_closed_and_void_orders_stand_behind_a_choice(floor: Floor) -> None:
    everybody = BY_ID["DESK"]
    assert not states_for(floor, everybody, Listed.OPEN) & set(ENDED_STATES)
    assert states_for(floor, everybody, Listed.ENDED) == set(ENDED_STATES)
    assert states_for(floor, everybody, Listed.EVERY) == set(OrderState)
    offered = [asked for asked, _ in choices(everybody)]
    assert len(set(offered)) == len(offered) == len(OrderState) + len(Listed)


def test_that_open_orders_come_page_by_page_newest_first(floor: Floor) -> None:
    whole = lines_in(floor.store, "", Listed.OPEN, 500, None)
    numbers = [line.number for line in whole]
    assert numbers == sorted(numbers, reverse=True)
    first = lines_in(floor.store, "", Listed.OPEN, 20, None)
    rest = lines_in(floor.store, "", Listed.OPEN, 500, first[-1].number)
    assert [*first, *rest] == list(whole)


def test_that_a_card_of_another_mechanic_is_not_mine_and_says_whose_it_is() -> None:
    floor = Floor().with_card()
    order = see_order(floor.store, 1)
    given = floor.store.file.orders[1] = _given(order, "HELP")
    people = floor.store.people()
    assert acts_of(given, BY_ID["MECH"], signs=True) == ()
    act = next_act(given, BY_ID["MECH"], people, signs=True)
    assert (act.words, act.is_mine) == ("Hal Elpman fills card 1…", False)
    assert next_act(given, BY_ID["HELP"], people, signs=True).is_mine
    assert [one.kind for one in acts_of(order, BY_ID["MECH"], signs=True)] == [NextKind.OPEN]
    assert acts_of(order, None, signs=True) == ()
    assert not next_act(order, None, people, signs=True).is_mine


def _given(order: WorkOrder, mechanic: str) -> WorkOrder:
    return replace(order, cards=tuple(replace(card, mechanic=mechanic) for card in order.cards))


def test_that_a_line_says_what_waits_and_is_read_again_when_the_order_moves() -> None:
    floor = Floor().with_card()
    desk = desk_at(floor, "MECH")
    desk.become("MECH")
    assert desk.orders.data(desk.orders.index(0, 5)) == "Open card 1"
    desk.choose(Listed.OPEN)
    assert desk.orders.data(desk.orders.index(0, 5)) == floor.order().asked
    desk.become("INSP")
    assert desk.orders.rowCount() == 0
    desk.become("MECH")
    assert desk.asked is Listed.OPEN, "the choice of a person stays"


def test_that_a_machine_remembers_a_choice_by_its_name_and_forgets_what_there_is_not() -> None:
    assert [asked_of(one.value) for one in (*Listed, *OrderState)] == [*Listed, *OrderState]
    assert asked_of("yesterday") is None
    desk = desk_at(shop_with(3), "DESK")
    desk.become("DESK", OrderState.VOID)
    assert desk.asked is OrderState.VOID
    assert desk.asked_words() == "void"
    assert mine_words(None) == "waiting for whoever works here"
