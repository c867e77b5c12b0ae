"""What an order holds around its cards: board, time, parts, discrepancies, directives; and the shop's lists."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.aircraft.parts import Part, Way
from desktop.core.shop.orders.discrepancies import CustomerWord, Outcome
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem, not_normal
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.tools import Care, Tool
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.lists.keep_lists import keep_person, keep_tool
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.record_directive import record_directive, record_search
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.orders.take_in import take_in
from desktop.usecases.shop.orders.void_order import void_order
from desktop.usecases.shop.ports import Answer, Request
from tests.usecases.shop.shop_floor import PEOPLE, Floor

AGREED = CustomerWord("Ms Mill", datetime(2031, 3, 4, 10, tzinfo=UTC), "two hours")
ENTRIES: dict[str, Callable[[Floor], Answer]] = {
    "take in": lambda floor: take_in(floor.shop, floor.by("DESK"), 1, Intake(complaint="rough")),
    "time": lambda floor: book_time(floor.shop, floor.by("MECH"), 1, "HELP", 45, "plugs"),
    "part": lambda floor: add_part(floor.shop, floor.by("MECH"), 1, Part(Way.OFF, "K-500")),
    "found": lambda floor: add_discrepancy(floor.shop, floor.by("INSP"), 1, "crack at tower 3"),
    "settled": lambda floor: settle_discrepancy(floor.shop, floor.by("MECH"), 1, 1, Outcome.CLOSED, "replaced"),
    "search": lambda floor: record_search(floor.shop, floor.by("DESK"), 1, "the list of 4 March", tuple(Subject)),
    "directive": lambda floor: record_directive(
        floor.shop, floor.by("MECH"), 1, Directive("D-1", date(2031, 3, 4), "inspected")
    ),
}


def ended(order: WorkOrder, ending: OrderState) -> WorkOrder:
    cards: tuple[OrderCard, ...] = tuple(replace(card, state=OrderState.ACCEPTED) for card in order.cards)
    return replace(order, cards=cards, ending=ending)


def test_that_time_parts_and_findings_stand_on_the_order_with_who_wrote_them() -> None:
    floor = Floor().with_order()
    for act in ENTRIES.values():
        act(floor)
    order = floor.order()
    assert [(one.person, one.minutes, one.by.person) for one in order.time] == [("HELP", 45, "MECH")]
    assert [(one.part.number, one.by.person) for one in order.parts] == [("K-500", "MECH")]
    assert [(one.number, one.found, one.word) for one in order.discrepancies] == [(1, "crack at tower 3", "closed")]
    assert [(one.looked_in, one.by.person) for one in order.searches] == [("the list of 4 March", "DESK")]
    assert [(one.directive.number, one.by.person) for one in order.directives] == [("D-1", "MECH")]
    assert order.version == 1 + len(ENTRIES)


@pytest.mark.parametrize("ending", [OrderState.APPROVED, OrderState.NOT_APPROVED, OrderState.CLOSED, OrderState.VOID])
@pytest.mark.parametrize("act", ENTRIES.values(), ids=ENTRIES)
def test_that_nothing_is_added_to_an_order_that_has_ended(ending: OrderState, act: Callable[[Floor], Answer]) -> None:
    floor = Floor().with_card()
    floor.store.file.orders[1] = ended(floor.order(), ending)
    with pytest.raises(Refusal, match=f"Order 1 is {ending}, and nothing more is written on it"):
        act(floor)


@pytest.mark.parametrize("act", ENTRIES.values(), ids=ENTRIES)
def test_that_an_entry_is_refused_to_whoever_lacks_the_right(act: Callable[[Floor], Answer]) -> None:
    floor = Floor().with_order()
    for person in PEOPLE:
        floor.store.file.put_person(replace(person, rights=(Right.AUTHORISED,)))
    with pytest.raises(Refusal, match="may not do this"):
        act(floor)


def test_that_the_board_says_who_set_it_and_is_set_until_the_order_is_closed() -> None:
    floor = Floor().with_card()
    set_safe_state(floor.shop, floor.by("HELP"), 1, SafeItem.PISTON_STOP, is_normal=False)
    assert [(one.word, one.by.person, one.by.under) for one in not_normal(floor.order().board)] == [
        ("in", "HELP", "MECH")
    ]
    before = floor.order()
    set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.PISTON_STOP, is_normal=False)
    assert floor.order() == before
    void_order(floor.shop, floor.by("DESK"), 1, "sold")
    set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.PISTON_STOP, is_normal=True)
    assert not_normal(floor.order().board) == ()
    floor.store.file.orders[1] = ended(before, OrderState.CLOSED)
    with pytest.raises(Refusal, match="Order 1 is closed"):
        set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.SWITCH, is_normal=False)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda floor: book_time(floor.shop, floor.by("MECH"), 1, "MECH", 0, ""), "one minute to 24 hours"),
        (lambda floor: book_time(floor.shop, floor.by("MECH"), 1, "MECH", 1441, ""), "one minute to 24 hours"),
        (lambda floor: book_time(floor.shop, floor.by("MECH"), 1, "NOBODY", 5, ""), "not on the roster"),
        (lambda floor: add_part(floor.shop, floor.by("MECH"), 1, Part(Way.ON, "M-1")), "needs its paper"),
        (lambda floor: add_discrepancy(floor.shop, floor.by("MECH"), 1, " "), "Write what was found"),
        (lambda floor: record_search(floor.shop, floor.by("DESK"), 1, "", ()), "not said where"),
        (
            lambda floor: record_directive(floor.shop, floor.by("MECH"), 1, Directive("", date(2031, 3, 4), "x")),
            "no number",
        ),
    ],
)
def test_that_an_entry_that_says_too_little_is_refused(act: Callable[[Floor], Answer], words: str) -> None:
    floor = Floor().with_order()
    with pytest.raises(Refusal, match=words):
        act(floor)
    assert floor.order().version == 1


@pytest.mark.parametrize(
    ("discrepancy", "outcome", "words", "customer", "said"),
    [
        (2, Outcome.CLOSED, "done", None, "no discrepancy 2"),
        (1, Outcome.CLOSED, " ", None, "not said how"),
        (1, Outcome.DEFERRED, "next time", replace(AGREED, who=""), "who spoke for the customer"),
        (1, Outcome.DECLINED, "too dear", None, "Only the customer declines"),
    ],
)
def test_that_a_discrepancy_is_settled_only_with_what_it_needs(
    discrepancy: int, outcome: Outcome, words: str, customer: CustomerWord | None, said: str
) -> None:
    floor = Floor().with_order()
    add_discrepancy(floor.shop, floor.by("MECH"), 1, "crack")
    with pytest.raises(Refusal, match=said):
        settle_discrepancy(floor.shop, floor.by("MECH"), 1, discrepancy, outcome, words, customer)


def test_that_a_settled_discrepancy_stays_as_it_was_settled() -> None:
    floor = Floor().with_order()
    add_discrepancy(floor.shop, floor.by("MECH"), 1, "oil at the seal")
    add_discrepancy(floor.shop, floor.by("MECH"), 1, "crack")
    settle_discrepancy(floor.shop, floor.by("DESK"), 1, 2, Outcome.DECLINED, "not now", AGREED)
    assert [one.word for one in floor.order().discrepancies] == ["open", "declined"]
    settled = floor.order().discrepancies[1].settled
    assert settled is not None
    assert (settled.customer, settled.words, settled.by.person) == (AGREED, "not now", "DESK")
    with pytest.raises(Refusal, match="Discrepancy 2 is declined already"):
        settle_discrepancy(floor.shop, floor.by("MECH"), 1, 2, Outcome.CLOSED, "replaced")


FIRST = Person("KIM", "Kim Eeper", (Right.RECORDS, Right.FRONT_DESK), date(2030, 1, 1))


def empty_floor() -> Floor:
    floor = Floor()
    floor.store.file.roster.clear()
    return floor


def test_that_the_first_person_of_a_shop_keeps_the_records() -> None:
    floor = empty_floor()
    with pytest.raises(Refusal, match="Nobody would keep the records"):
        keep_person(floor.shop, Request("a", "KIM"), replace(FIRST, rights=(Right.MECHANIC,)))
    answer = keep_person(floor.shop, Request("b", "KIM"), FIRST)
    assert answer == keep_person(floor.shop, Request("b", "KIM"), FIRST)
    assert floor.store.people() == (replace(FIRST, changed=date(2031, 3, 4)),)
    keep_person(floor.shop, Request("c", "KIM"), replace(FIRST, id="LEO", name="Leo", rights=(Right.MECHANIC,)))
    with pytest.raises(Refusal, match="Leo may not do this: keep the roster"):
        keep_person(floor.shop, Request("d", "LEO"), replace(FIRST, id="MAX"))
    assert [person.id for person in floor.store.people()] == ["KIM", "LEO"]


def test_that_the_roster_changes_only_from_what_was_seen() -> None:
    floor = empty_floor()
    keep_person(floor.shop, Request("a", "KIM"), FIRST)
    keep_person(floor.shop, Request("b", "KIM", 1), replace(FIRST, name="Kim E. Eeper"))
    assert floor.store.people()[0].version == 2
    with pytest.raises(Refusal, match="KIM on the roster is not as you saw it"):
        keep_person(floor.shop, Request("c", "KIM", 1), FIRST)
    with pytest.raises(Refusal, match="Nobody would keep the records"):
        keep_person(floor.shop, Request("d", "KIM", 2), replace(FIRST, until=date(2031, 3, 3)))


@pytest.mark.parametrize(
    ("person", "words"),
    [
        (replace(FIRST, id="NEW", rights=(Right.HELPER,)), "Name the supervisor"),
        (replace(FIRST, id="NEW", rights=(Right.HELPER,), supervisor="ZED"), '"ZED" is not on the roster'),
        (replace(FIRST, id="NEW", name="a\x07"), "invisible sign"),
    ],
)
def test_that_a_person_who_is_not_whole_is_refused(person: Person, words: str) -> None:
    floor = Floor()
    with pytest.raises(Refusal, match=words):
        keep_person(floor.shop, floor.new("KEEP"), person)


def test_that_tools_are_kept_by_the_records_keeper_from_what_was_seen() -> None:
    floor = Floor()
    tool = Tool("L-2", "timing light", Care.CHECKED)
    answer = keep_tool(floor.shop, Request("a", "KEEP"), tool)
    assert keep_tool(floor.shop, Request("a", "KEEP"), tool) == answer == Answer("keep the list of tools", "L-2", 1)
    keep_tool(floor.shop, Request("b", "KEEP", 1), replace(tool, serial="9"))
    assert [(one.serial, one.version) for one in floor.store.tools() if one.id == "L-2"] == [("9", 2)]
    with pytest.raises(Refusal, match="Tool L-2 is not as you saw it"):
        keep_tool(floor.shop, Request("c", "KEEP", 1), tool)
    with pytest.raises(NotReady, match="no number"):
        keep_tool(floor.shop, Request("d", "KEEP"), replace(tool, id=""))
    with pytest.raises(Refusal, match="may not do this"):
        keep_tool(floor.shop, Request("e", "MECH"), tool)
