"""What cannot be built, what is missing on a value, and who may do what."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.directives import Directive, Subject, directive_troubles, search_troubles
from desktop.core.shop.aircraft.intake import Intake, Plate, intake_faults
from desktop.core.shop.aircraft.parts import Part, Way, part_troubles
from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome, Settled
from desktop.core.shop.orders.order_card import OrderCard, ReadingTaken, StepDone, finding_key
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import STATE_WORDS, SafeItem, new_board, not_normal, with_state
from desktop.core.shop.orders.time_booked import TimeBooked, total_words
from desktop.core.shop.orders.who_may import RIGHTS, Deed, rights_for, why_not
from desktop.core.shop.people.people import Person, Right, person_troubles
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Care, Tool, tool_troubles
from desktop.core.timing.readings import Side
from tests.core.shop.some_orders import AIRCRAFT, BY, EMPTY, ENGINE, LATER, NOW, card, order_in

DAY = date(2031, 3, 4)
PERSON = Person("AB", "Ada Bell", (Right.MECHANIC,), date(2030, 1, 1))
TOOL = Tool("W-3", "torque wrench", Care.CALIBRATED, DAY)
PART = Part(Way.ON, "M-1", paper="release 5")
DIRECTIVE = Directive("D-1", DAY, "inspected")
ACCEPTED = order_in(OrderState.ACCEPTED)
AGREED = CustomerWord("Ms Mill", NOW, "two hours")

IMPOSSIBLE: dict[str, Callable[[], object]] = {
    "a time without offset": lambda: Stamp("AB", datetime(2031, 3, 4)),  # noqa: DTZ001 - that is the point
    "an offset of seconds": lambda: Stamp("AB", datetime(2031, 3, 4, tzinfo=timezone(timedelta(seconds=30)))),
    "a word without offset": lambda: CustomerWord("Ms Mill", datetime(2031, 3, 4), ""),  # noqa: DTZ001 - the same
    "two magnetos on one side": lambda: replace(ENGINE, magnetos=(MagnetoFitted(Side.LEFT), MagnetoFitted(Side.LEFT))),
    "two engines in one place": lambda: replace(AIRCRAFT, engines=(ENGINE, ENGINE)),
    "a single beside another": lambda: Aircraft("X-A", engines=(ENGINE, EngineFitted(EnginePosition.SINGLE))),
    "two plates of one side": lambda: Intake(plates=(Plate(Side.LEFT), Plate(Side.LEFT))),
    "no time at all": lambda: TimeBooked("AB", 0, "", BY),
    "more than a day": lambda: TimeBooked("AB", 1441, "", BY),
    "once and due again": lambda: replace(DIRECTIVE, next_due_hours="100"),
    "declined by nobody": lambda: Settled(Outcome.DECLINED, "", BY),
    "a card approved by itself": lambda: card(1, OrderState.APPROVED),
    "a step confirmed twice": lambda: replace(card(), steps=(StepDone("first", BY), StepDone("first", LATER))),
    "order number 0": lambda: replace(EMPTY, number=0),
    "version 0": lambda: replace(EMPTY, version=0),
    "an engine that is not there": lambda: replace(EMPTY, position=EnginePosition.SINGLE),
    "half a board": lambda: replace(EMPTY, board=EMPTY.board[:3]),
    "card 2 before card 1": lambda: replace(EMPTY, cards=(card(2),)),
    "discrepancy 2 alone": lambda: replace(EMPTY, discrepancies=(Discrepancy(2, "crack", BY),)),
    "in work without cards": lambda: replace(EMPTY, ending=OrderState.IN_WORK),
    "approved in work": lambda: replace(order_in(OrderState.IN_WORK), ending=OrderState.APPROVED),
    "closed without cards": lambda: replace(EMPTY, ending=OrderState.CLOSED),
}
TROUBLES = {
    "no initials": (person_troubles(replace(PERSON, id=" ")), "no initials"),
    "no name": (person_troubles(replace(PERSON, name="")), "no name"),
    "no right": (person_troubles(replace(PERSON, rights=())), "no right"),
    "helper and mechanic": (
        person_troubles(replace(PERSON, rights=(Right.HELPER, Right.MECHANIC), supervisor="CD")),
        "no certificate",
    ),
    "helper alone": (person_troubles(replace(PERSON, rights=(Right.HELPER,))), "Name the supervisor"),
    "own supervisor": (person_troubles(replace(PERSON, supervisor="AB")), "Nobody supervises themselves"),
    "left before coming": (person_troubles(replace(PERSON, until=date(2029, 1, 1))), "before the first"),
    "tool without number": (tool_troubles(replace(TOOL, id="")), "no number"),
    "tool without name": (tool_troubles(replace(TOOL, name="")), "no name"),
    "calibrated until never": (tool_troubles(replace(TOOL, due=None)), "calibration"),
    "part without number": (part_troubles(replace(PART, number="")), "no number"),
    "part without quantity": (part_troubles(replace(PART, quantity="")), "quantity"),
    "part without paper": (part_troubles(replace(PART, paper="")), "paper"),
    "directive without number": (directive_troubles(replace(DIRECTIVE, number="")), "no number"),
    "directive without method": (directive_troubles(replace(DIRECTIVE, method="")), "method"),
    "recurring and never again": (directive_troubles(replace(DIRECTIVE, recurring=True)), "next time"),
    "hours that are none": (directive_troubles(replace(DIRECTIVE, recurring=True, next_due_hours="soon")), "hours"),
    "looked nowhere": (search_troubles("", (Subject.ENGINE,)), "where"),
    "looked for nothing": (search_troubles("the list", ()), "what was looked for"),
}


@pytest.mark.parametrize("build", IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_that_a_value_in_a_wrong_state_cannot_be_built(build: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"\w+ \w+"):
        build()


@pytest.mark.parametrize(("troubles", "words"), TROUBLES.values(), ids=TROUBLES)
def test_that_each_missing_thing_is_said_once_with_what_to_do(troubles: tuple[str, ...], words: str) -> None:
    assert len(troubles) == 1
    assert words in troubles[0]
    assert troubles[0].count(".") >= 2


def test_that_whole_values_have_no_trouble() -> None:
    assert person_troubles(PERSON) == tool_troubles(TOOL) == part_troubles(PART) == directive_troubles(DIRECTIVE) == ()
    assert part_troubles(replace(PART, way=Way.OFF, paper="")) == ()
    assert tool_troubles(Tool("L-1", "timing light", Care.CHECKED)) == ()
    again = replace(DIRECTIVE, recurring=True, next_due_on=date(2032, 1, 1))
    assert directive_troubles(again) == directive_troubles(replace(again, next_due_hours="1734,5")) == ()
    assert search_troubles("the list of 4 March", tuple(Subject)) == ()


@pytest.mark.parametrize(
    ("intake", "where"),
    [
        (Intake(total_time="many"), ["total_time"]),
        (Intake(tachometer="-3"), ["tachometer"]),
        (Intake(plates=(Plate(Side.RIGHT, lag="x", since_overhaul="y"),)), ["right.lag", "right.since_overhaul"]),
        (Intake(total_time="1234.5", tachometer="½", plates=(Plate(Side.LEFT),)), []),
    ],
)
def test_that_hours_and_lags_that_cannot_be_read_are_named(intake: Intake, where: list[str]) -> None:
    assert [fault.where for fault in intake_faults(intake)] == where


def test_that_a_tool_is_out_of_date_the_day_after_its_last() -> None:
    assert not TOOL.is_out_of_date(DAY)
    assert TOOL.is_out_of_date(DAY + timedelta(days=1))
    assert replace(TOOL, due=None).is_out_of_date(DAY)
    assert not replace(TOOL, care=Care.CHECKED, due=None).is_out_of_date(DAY)


def test_that_booked_time_adds_up_to_hours_and_minutes() -> None:
    assert total_words([TimeBooked("AB", 50, "", BY), TimeBooked("CD", 75, "", BY)]) == "2 h 05 min"
    assert total_words([]) == "0 h 00 min"


def test_that_the_board_keeps_who_set_each_thing_first_so() -> None:
    board = with_state(new_board(BY), SafeItem.GROUNDING_LEADS, LATER, is_normal=False)
    assert [(one.item, one.word, one.by) for one in not_normal(board)] == [
        (SafeItem.GROUNDING_LEADS, "off: magneto live", LATER)
    ]
    assert with_state(board, SafeItem.GROUNDING_LEADS, BY, is_normal=False) == board
    assert with_state(board, SafeItem.GROUNDING_LEADS, BY, is_normal=True) == new_board(BY)
    assert set(STATE_WORDS) == set(SafeItem)
    assert all(normal != not_so for normal, not_so in STATE_WORDS.values())
    assert new_board(BY)[0].word == "OFF"


def test_that_what_stands_on_an_order_is_found_by_its_name() -> None:
    one = replace(card(), steps=(StepDone("first", BY),), taken=(ReadingTaken("left.rotation", BY),))
    order = replace(EMPTY, cards=(one,))
    assert order.card(1) == one
    assert order.card(2) is None
    assert order.engine is ENGINE
    assert order.with_card(replace(one, mechanic="CD")).cards[0].mechanic == "CD"
    found = one.step("second")
    assert found is not None
    assert found.instruction == "Do second."
    assert one.step("tenth") is None
    assert (one.done("first"), one.done("second")) == (StepDone("first", BY), None)
    assert one.taken_at("left.rotation") == ReadingTaken("left.rotation", BY)
    assert one.taken_at("left.poles") is None
    assert finding_key("one-approach", "left.approach[1].light") == "one-approach at left.approach[1].light"
    left = Plate(Side.LEFT, serial="S-11")
    assert (Intake(plates=(left,)).plate(Side.LEFT), Intake(plates=(left,)).plate(Side.RIGHT)) == (left, None)
    open_one = Discrepancy(1, "crack", BY)
    assert open_one.word == "open"
    assert replace(open_one, settled=Settled(Outcome.DECLINED, "no", BY, AGREED)).word == "declined"


def test_that_a_right_is_asked_for_each_deed_and_each_move() -> None:
    assert set(RIGHTS) == set(Deed)
    assert all(rights_for(deed) for deed in (*Deed, *Move))
    assert set(Deed) & {str(move) for move in Move} == set()


@pytest.mark.parametrize("right", Right)
@pytest.mark.parametrize("deed", [*Deed, *Move])
def test_that_whoever_lacks_the_right_is_told_which_it_takes(right: Right, deed: Deed | Move) -> None:
    said = why_not(replace(PERSON, rights=(right,)), deed, DAY)
    if right in rights_for(deed):
        assert said is None
    else:
        assert said is not None
        assert said.startswith(f"Ada Bell may not do this: {deed}.")


def test_that_an_inspector_is_not_by_that_alone_authorised_to_approve() -> None:
    assert why_not(replace(PERSON, rights=(Right.INSPECTOR,)), Move.APPROVE, DAY) is not None
    assert why_not(replace(PERSON, rights=(Right.HELPER,)), Move.SUBMIT, DAY) is not None


@pytest.mark.parametrize(
    ("day", "is_here"),
    [(date(2029, 12, 31), False), (date(2030, 1, 1), True), (date(2031, 3, 4), True), (date(2031, 3, 5), False)],
)
def test_that_somebody_who_is_not_with_the_shop_does_nothing(day: date, is_here: bool) -> None:
    person = replace(PERSON, until=DAY)
    assert person.is_here(day) is is_here
    assert (why_not(person, Deed.TAKE_READING, day) is None) is is_here


def test_that_a_stamp_keeps_the_offset_of_its_place() -> None:
    place = timezone(timedelta(hours=5, minutes=45))
    assert Stamp("AB", datetime(2031, 3, 4, tzinfo=place)).at.utcoffset() == timedelta(hours=5, minutes=45)
    assert Stamp("AB", datetime(2031, 3, 4, tzinfo=UTC), "CD").under == "CD"
    assert isinstance(card(), OrderCard)
    assert ACCEPTED.state is OrderState.ACCEPTED
