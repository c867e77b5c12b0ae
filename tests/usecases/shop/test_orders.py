"""Opening, taking in, issuing, voiding, and finding work orders."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.shop.people.people import Right
from desktop.core.timing.readings import Hand, Side
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.look_up import look_up, see_order
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.take_in import take_in
from desktop.usecases.shop.orders.void_order import void_order
from desktop.usecases.shop.ports import Answer, Request
from tests.usecases.shop.shop_floor import NEW, TIMING, Floor

INTAKE = Intake(logs_seen=True, total_time="1234.5", complaint="rough", plates=(Plate(Side.LEFT, hand=Hand.RIGHT),))
CARD = NewCard(TIMING, empty_card(), "MECH")


def registered(registration: str) -> NewOrder:
    return replace(NEW, aircraft=replace(NEW.aircraft, registration=registration))


def test_that_an_opened_order_stands_as_it_was_written() -> None:
    floor = Floor()
    new = replace(NEW, promised=date(2031, 4, 1), intake=INTAKE)
    answer = open_order(floor.shop, floor.new("DESK"), new)
    assert (answer.number, answer.version) == (1, 1)
    order = floor.order()
    assert (order.customer, order.aircraft, order.asked) == (NEW.customer, NEW.aircraft, NEW.asked)
    assert (order.state, order.promised, order.opened.person) == (OrderState.OPEN, date(2031, 4, 1), "DESK")
    assert order.taken_in is not None
    assert (order.taken_in.intake, order.taken_in.by) == (INTAKE, order.opened)
    assert not_normal(order.board) == ()
    assert [change.said for change in floor.store.changes_since(1, 0)] == [("opened",)]


def test_that_order_numbers_have_no_gaps_whatever_is_refused_between() -> None:
    floor = Floor()
    numbers = []
    for place in range(6):
        if place % 2:
            with pytest.raises(Refusal):
                open_order(floor.shop, floor.new("DESK"), registered("X-\u200b"))
        numbers.append(open_order(floor.shop, floor.new("DESK"), NEW).number)
        if place == 3:
            void_order(floor.shop, floor.by("DESK", 4), 4, "opened twice")
    assert numbers == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("new", "words"),
    [
        (replace(NEW, customer=Customer(" ")), ["The customer has no name"]),
        (registered(""), ["The registration is missing"]),
        (replace(NEW, position=EnginePosition.LEFT), ["no engine in the position left"]),
        (
            replace(registered(""), customer=Customer(""), intake=Intake(total_time="x")),
            ["The customer has no name", "The registration is missing", "Total time: expected a number"],
        ),
    ],
)
def test_that_a_new_order_is_refused_with_everything_that_is_missing(new: NewOrder, words: list[str]) -> None:
    floor = Floor()
    with pytest.raises(NotReady) as refused:
        open_order(floor.shop, floor.new("DESK"), new)
    assert len(refused.value.reasons) == len(words)
    for said, part in zip(refused.value.reasons, words, strict=True):
        assert part in said
    assert look_up(floor.store) == ()


@pytest.mark.parametrize(
    ("person", "words"),
    [
        ("MECH", "Mel Chan may not do this: open a work order. It takes the right of front desk."),
        ("GONE", "Gil One is not with the shop on 2031-03-04."),
        ("NOBODY", '"NOBODY" is not on the roster.'),
    ],
)
def test_that_only_the_front_desk_opens_orders(person: str, words: str) -> None:
    floor = Floor()
    with pytest.raises(Refusal) as refused:
        open_order(floor.shop, floor.new(person), NEW)
    assert refused.value.sentence.startswith(words)


def test_that_an_aircraft_is_taken_in_once_and_corrected_later() -> None:
    floor = Floor().with_order()
    take_in(floor.shop, floor.by("DESK"), 1, INTAKE)
    first = floor.order()
    again = take_in(floor.shop, floor.by("MECH"), 1, INTAKE)
    assert (again.version, floor.order()) == (first.version, first)
    take_in(floor.shop, floor.by("MECH"), 1, replace(INTAKE, complaint="very rough"))
    taken = floor.order().taken_in
    assert taken is not None
    assert (taken.intake.complaint, taken.by.person) == ("very rough", "MECH")
    assert floor.store.changes_since(1, 2)[0].said == ('intake, complaint: "rough" became "very rough"',)


def test_that_hours_that_cannot_be_read_are_refused_by_their_field() -> None:
    floor = Floor().with_order()
    with pytest.raises(NotReady) as refused:
        take_in(floor.shop, floor.by("DESK"), 1, Intake(tachometer="x", plates=(Plate(Side.LEFT, lag="?"),)))
    assert [reason.split(":")[0] for reason in refused.value.reasons] == ["Tachometer", "Left magneto, lag"]


def test_that_an_issued_card_is_frozen_as_it_stands() -> None:
    floor = Floor().with_order()
    answer = issue_card(floor.shop, floor.by("DESK"), 1, CARD)
    assert answer.version == 2
    assert (floor.card().task, floor.card().readings, floor.card().mechanic) == (TIMING, empty_card(), "MECH")
    assert floor.order().state is OrderState.ISSUED
    issue_card(floor.shop, floor.by("DESK"), 1, replace(CARD, mechanic=""))
    assert [card.number for card in floor.order().cards] == [1, 2]


@pytest.mark.parametrize("mechanic", ["INSP", "GONE", "NOBODY"])
def test_that_a_card_is_given_only_to_somebody_who_can_fill_it(mechanic: str) -> None:
    floor = Floor().with_order()
    with pytest.raises(Refusal):
        issue_card(floor.shop, floor.by("DESK"), 1, replace(CARD, mechanic=mechanic))
    assert floor.order().cards == ()


def test_that_a_void_order_keeps_everything_and_takes_nothing_more() -> None:
    floor = Floor().with_card()
    before = floor.order()
    with pytest.raises(NotReady):
        void_order(floor.shop, floor.by("DESK"), 1, " ")
    void_order(floor.shop, floor.by("KEEP"), 1, "the customer went elsewhere")
    order = floor.order()
    assert order.state is OrderState.VOID
    assert replace(order, ending=None, passages=before.passages, version=before.version) == before
    assert order.passages[-1].reason == "the customer went elsewhere"
    refused: list[Callable[[], Answer]] = [
        lambda: void_order(floor.shop, floor.by("DESK"), 1, "again"),
        lambda: issue_card(floor.shop, floor.by("DESK"), 1, CARD),
        lambda: take_in(floor.shop, floor.by("DESK"), 1, INTAKE),
        lambda: take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.poles", "4")),
    ]
    for act in refused:
        with pytest.raises(Refusal, match="void"):
            act()
    assert floor.order() == order


def test_that_an_order_that_is_not_there_is_refused_in_words() -> None:
    floor = Floor()
    with pytest.raises(Refusal, match="There is no order 9"):
        see_order(floor.store, 9)
    with pytest.raises(Refusal, match="There is no order 9"):
        void_order(floor.shop, floor.new("DESK"), 9, "why")


def test_that_whoever_saw_an_older_version_is_told_what_changed() -> None:
    floor = Floor().with_card()
    seen = floor.by("MECH")
    take_reading(floor.shop, floor.by("HELP"), 1, 1, ("limits.advanced_most", "2"))
    take_in(floor.shop, floor.by("DESK"), 1, INTAKE)
    with pytest.raises(ChangedElsewhere) as refused:
        take_reading(floor.shop, seen, 1, 1, ("limits.retarded_most", "2"))
    assert refused.value.changes == (
        "card 1: in work",
        'card 1: limits, advanced most: "1" became "2"',
        "intake written",
    )
    assert (refused.value.number, refused.value.version) == (1, 4)
    assert refused.value.sentence.startswith("Order 1 is not as you saw it. Changed: card 1: in work; card 1: limits")
    ahead = replace(floor.by("MECH"), seen_version=9)
    with pytest.raises(ChangedElsewhere, match=r"as you saw it\. Look") as refused:
        take_reading(floor.shop, ahead, 1, 1, ("limits.retarded_most", "2"))
    assert refused.value.changes == ()


def test_that_one_request_id_for_two_things_is_a_bug() -> None:
    floor = Floor()
    request = Request("same", "DESK")
    open_order(floor.shop, request, NEW)
    with pytest.raises(ValueError, match="one request id for two things"):
        void_order(floor.shop, replace(request, seen_version=1), 1, "why")


def test_that_orders_are_found_by_words_and_state_page_by_page() -> None:
    floor = Floor()
    for place in range(12):
        open_order(floor.shop, floor.new("DESK"), registered("X-MOOR" if place % 3 == 0 else "X-CORN"))
    void_order(floor.shop, floor.by("DESK", 4), 4, "a zebra on the field")
    numbers = [line.number for line in look_up(floor.store, "x-moor")]
    assert numbers == [10, 7, 4, 1]
    assert [line.number for line in look_up(floor.store, "x-moor", limit=2)] == [10, 7]
    assert [line.number for line in look_up(floor.store, "x-moor", limit=2, before=7)] == [4, 1]
    assert [line.number for line in look_up(floor.store, "", OrderState.VOID)] == [4]
    assert [line.number for line in look_up(floor.store, "ZEBRA moor", OrderState.VOID)] == [4]
    assert look_up(floor.store, "zebra", OrderState.OPEN) == look_up(floor.store, "-/-") == ()
    assert len(look_up(floor.store, "  ", limit=0)) == 1
    assert len(look_up(floor.store, "x " * 500, limit=10**9)) == 12


def test_that_the_newest_order_says_what_is_known_of_an_aircraft() -> None:
    floor = Floor().with_order()
    open_order(floor.shop, floor.new("DESK"), replace(NEW, customer=Customer("New Owner")))
    assert floor.store.aircraft("X-ABCD") == (NEW.aircraft, Customer("New Owner"))
    assert floor.store.aircraft("X-NONE") is None
    assert Right.FRONT_DESK in floor.store.people()[0].rights
