"""Looking back over the orders: visits of a magneto, and what is coming due on engines and magnetos."""

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.due import CardDone, Due
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order import LeftOut, Passage
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import history_of
from desktop.core.shop.sheets.sheet_life import SheetLife, SheetState
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet, SheetInterval
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedApproach, TypedCard
from desktop.usecases.shop.lists.look_back import ComingLine, coming, coming_from, visits_back, worked_cards
from desktop.usecases.shop.lists.look_up import PAGE
from desktop.usecases.shop.lists.order_facts import facts_back, facts_of
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.orders.record_directive import record_directive
from tests.usecases.shop.fake_store import FakeClock
from tests.usecases.shop.shop_floor import RULEBOOK, TIMING, Floor
from tests.usecases.shop.visits_floor import DIRECTIVES, DRIFTING, STEADY, VISITS, add_visits, new_order, readings

TODAY = date(2031, 3, 4)
DAY_OF = Stamp("INSP", datetime(2031, 2, 27, 12, tzinfo=UTC))
ENGINE = "M6-0118"


def floor_of_visits() -> Floor:
    """A shop in memory in which one person does everything."""
    floor = Floor()
    clock = floor.shop.clock
    assert isinstance(clock, FakeClock)
    floor.store.file.put_person(replace(floor.store.people()[0], id="LO", since=date(2026, 1, 1)))
    numbers = iter(range(1000))
    add_visits(floor.shop, "LO", TIMING, lambda: f"v{next(numbers)}", lambda time: setattr(clock, "time", time))
    clock.time = datetime(2031, 3, 4, 9, tzinfo=UTC)
    return floor


def engine_sheet(what: str, hours: str | None, months: int | None = None) -> EngineSheet:
    return EngineSheet("six", types=("Marrow Six",), interval=(SheetInterval(what, hours, months),))


def magneto_sheet(what: str, hours: str | None, months: int | None = None) -> MagnetoSheet:
    return MagnetoSheet("t2", part_numbers=("T2-L", "T2"), interval=(SheetInterval(what, hours, months),))


def lines(floor: Floor, *sheets: Sheet) -> list[ComingLine]:
    if not sheets:
        return list(coming(floor.store, TODAY))
    return list(coming_from((one for one in facts_back(floor.store) if one), TODAY, sheets))


def keep_compared(floor: Floor, sheet: EngineSheet) -> None:
    """Keep a sheet as one that was compared; what else it holds is not looked at here."""
    by, other = DAY_OF, replace(DAY_OF, person="KEEP")
    signed = replace(sheet, transcribed_by=by, compared_by=other)
    with floor.store.changing() as work:
        work.put_sheet_life(SheetLife(1, SheetState.COMPARED, (by.person,), (), engine=signed))
        work.put_compared_sheet(signed)


def dues(found: list[ComingLine], what: str) -> dict[str, Due]:
    return {one.coming.due.serial: one.coming.due for one in found if one.coming.due.what == what}


def accept(floor: Floor, card_id: str = "T4", title: str = TIMING.title) -> None:
    """Let the newest order's card be accepted, under an id and a title."""
    order = floor.order(4)
    task = replace(order.cards[0].task, id=card_id, title=title)
    accepted = replace(order.cards[0], state=OrderState.ACCEPTED, task=task)
    passage = Passage(Move.ACCEPT, DAY_OF, 1)
    floor.store.file.orders[4] = replace(order, cards=(accepted,), passages=(*order.passages, passage))


def test_that_the_visits_of_a_serial_are_found_with_found_left_and_hours() -> None:
    floor = floor_of_visits()
    history = history_of(DRIFTING, [visit for visit in visits_back(floor.store, RULEBOOK, "m-4471") if visit])
    assert [(visit.order, visit.since_overhaul, visit.found, visit.left) for visit in history.visits] == [
        (1, Fraction(12), None, 0),
        (2, Fraction("171.5"), Fraction("-0.5"), 0),
        (3, Fraction(322), -1, Fraction("0.5")),
        (4, Fraction(431), 0, 0),
    ]
    # By hand: -0.5 in 159.5 h, -1 in 150.5 h, -0.5 in 109 h are -2 in 419 h; from 0 the late limit is 1.5 away.
    assert history.drift is not None
    assert (history.drift.per_hour, history.drift.hours_to_limit) == (Fraction(-2, 419), Fraction(1257, 4))


def test_that_a_serial_without_letters_or_digits_and_an_unknown_one_have_no_visits() -> None:
    floor = floor_of_visits()
    assert list(visits_back(floor.store, RULEBOOK, "-")) == []
    assert list(visits_back(floor.store, RULEBOOK, "M-9")) == []
    assert list(visits_back(floor.store, RULEBOOK, "M-44")) == [None] * 4


def test_that_visits_are_read_over_more_than_one_page_of_orders() -> None:
    floor = Floor()
    for _ in range(PAGE + 1):
        open_order(floor.shop, floor.new("DESK"), new_order(VISITS[0]))
    assert len(list(visits_back(floor.store, RULEBOOK, STEADY))) == PAGE + 1


def test_that_a_magneto_whose_last_reading_is_being_typed_gives_nothing() -> None:
    floor = Floor().with_card(_being_typed())
    [worked] = worked_cards(floor.order(), RULEBOOK)
    assert worked.left is None
    assert worked.right is not None
    assert worked_cards(Floor().with_card(TypedCard(format=1)).order(), RULEBOOK) == ()


def _being_typed() -> TypedCard:
    card = readings(VISITS[1])
    assert card.left is not None
    taken = card.left.approach or ()
    return replace(card, left=replace(card.left, approach=(*taken, TypedApproach(when="as left", began="6x"))))


def test_that_recurring_directives_come_due_the_nearest_first_with_what_is_left() -> None:
    found = lines(floor_of_visits())
    assert [
        (one.coming.due.what, one.coming.due.serial, one.coming.hours_left, one.coming.days_left) for one in found
    ] == [
        ("directive 27-19", ENGINE, None, -3),
        ("directive 30-02", STEADY, 13, None),
        ("directive 29-05", ENGINE, 100, None),
        ("directive 28-11", DRIFTING, 500, 358),
    ]
    assert [one.coming.is_overdue for one in found] == [True, False, False, False]
    assert {(one.place, one.hours_now, one.hours_on) for one in found} == {
        ("XQ-TBK", Fraction(1627), date(2031, 2, 25))
    }


def test_that_later_hours_of_the_same_aircraft_count_and_a_void_order_does_not() -> None:
    floor = floor_of_visits()
    later = replace(VISITS[3], total="1650")
    open_order(floor.shop, floor.new("DESK"), new_order(later))
    assert lines(floor)[0].coming.hours_left == -10
    floor.store.file.orders[5] = replace(floor.order(5), ending=OrderState.VOID)
    assert next(facts_back(floor.store)) is None
    assert lines(floor)[1].coming.hours_left == 13


def test_that_hours_are_not_compared_on_another_aircraft() -> None:
    floor = floor_of_visits()
    open_order(floor.shop, floor.new("DESK"), new_order(VISITS[3], "XQ-FEN", ("M-1", STEADY)))
    line = next(one for one in lines(floor) if one.coming.due.serial == STEADY)
    assert (line.place, line.hours_now, line.coming.hours_left) == ("XQ-FEN", None, None)
    assert line.coming.due.at_hours == 1640


def test_that_an_order_without_hours_leaves_those_of_the_one_before() -> None:
    floor = floor_of_visits()
    open_order(floor.shop, floor.new("DESK"), replace(new_order(VISITS[3]), intake=None))
    assert lines(floor)[1].hours_on == date(2031, 2, 25)


def test_that_a_directive_without_a_serial_stands_for_its_own_engine() -> None:
    floor = Floor()
    for registration in ("XQ-ONE", "XQ-TWO"):
        new = new_order(VISITS[0], registration)
        [engine] = new.aircraft.engines
        bare = replace(new, aircraft=replace(new.aircraft, engines=(replace(engine, serial=""),)), intake=Intake())
        number = open_order(floor.shop, floor.new("DESK"), bare).number
        done = replace(DIRECTIVES[2], serial="")
        record_directive(floor.shop, floor.by("MECH", number), number, done)
    assert {(one.coming.due.serial, one.place) for one in lines(floor)} == {("XQ-ONE",) * 2, ("XQ-TWO",) * 2}


def test_that_a_directive_on_a_serial_of_no_order_still_stands_in_the_list() -> None:
    floor = floor_of_visits()
    stray = Directive("D-9", TODAY, "inspected", serial="S-404", recurring=True, next_due_hours="1700")
    record_directive(floor.shop, floor.by("LO", 4), 4, stray)
    line = next(one for one in lines(floor) if one.coming.due.serial == "S-404")
    assert (line.place, line.coming.hours_left) == ("XQ-TBK", Fraction(73))


def test_that_the_intervals_of_the_current_sheets_stand_among_what_is_due_without_being_asked_for() -> None:
    floor = floor_of_visits()
    keep_compared(floor, engine_sheet("magneto timing to the engine", "100", 12))
    [line] = [one for one in coming(floor.store, TODAY) if one.every]
    assert line.coming.due == Due("magneto timing to the engine", Subject.ENGINE, ENGINE)
    assert line.every == "every 100 h or 12 months, sheet six rev 1"
    accept(floor)
    [line] = [one for one in coming(floor.store, TODAY) if one.every]
    assert line.coming.due == Due(
        "magneto timing to the engine", Subject.ENGINE, ENGINE, Fraction(1727), date(2032, 2, 27)
    )
    assert (line.coming.hours_left, line.place) == (Fraction(100), "XQ-TBK")


def test_that_an_interval_counts_by_hours_by_months_or_by_both_from_the_accepted_card() -> None:
    floor = floor_of_visits()
    accept(floor)
    for hours, months, at, on in (
        ("100", None, Fraction(1727), None),
        (None, 12, None, date(2032, 2, 27)),
        ("100", 12, Fraction(1727), date(2032, 2, 27)),
    ):
        found = dues(
            lines(floor, engine_sheet("magneto timing to the engine", hours, months)), "magneto timing to the engine"
        )
        assert found == {ENGINE: Due("magneto timing to the engine", Subject.ENGINE, ENGINE, at, on)}
    floor.store.file.orders[4] = replace(floor.order(4), ending=OrderState.NOT_APPROVED)
    [line] = [one for one in lines(floor, engine_sheet("magneto timing to the engine", "100")) if one.every]
    assert line.coming.due.at_hours is None
    refused = (*floor.order(4).passages, Passage(Move.NOT_APPROVE, DAY_OF, reason="It is cracked."))
    floor.store.file.orders[4] = replace(floor.order(4), ending=OrderState.CLOSED, passages=refused)
    [line] = [one for one in lines(floor, engine_sheet("magneto timing to the engine", "100")) if one.every]
    assert line.coming.due.at_hours is None


def test_that_an_interval_in_a_documents_own_words_is_done_by_the_card_of_that_title() -> None:
    floor = floor_of_visits()
    sheet = magneto_sheet("Oil the  cam felt", None, 12)
    assert dues(lines(floor, sheet), "Oil the  cam felt")[DRIFTING].on is None
    accept(floor, "X9", "oil the cam felt")
    assert dues(lines(floor, sheet), "Oil the  cam felt")[STEADY].on == date(2032, 2, 27)


def test_that_an_inspection_of_two_cards_is_done_when_both_are_and_on_no_magneto_that_was_left_out() -> None:
    floor = floor_of_visits()
    what, sheet = "inspection off the engine", magneto_sheet("inspection off the engine", None, 48)
    accept(floor, "B1")
    assert dues(lines(floor, sheet), what)[DRIFTING].on is None
    order = floor.order(4)
    second = replace(order.cards[0], number=2, task=replace(order.cards[0].task, id="B2"))
    by = order.opened
    out = (LeftOut(Side.RIGHT, "It stays on the engine.", by),)
    floor.store.file.orders[4] = replace(order, cards=(*order.cards, second), left_out=out)
    found = dues(lines(floor, sheet), what)
    assert (found[DRIFTING].on, found[STEADY].on) == (date(2035, 2, 27), None)
    # The engine is not done either while a magneto of it was left out.
    timing = engine_sheet("magneto timing to the engine", "100")
    accepted = replace(floor.order(4).cards[0], task=replace(TIMING, id="T4"))
    floor.store.file.orders[4] = replace(floor.order(4), cards=(accepted, second))
    assert dues(lines(floor, timing), "magneto timing to the engine")[ENGINE].at_hours is None
    floor.store.file.orders[4] = replace(floor.order(4), left_out=())
    assert dues(lines(floor, timing), "magneto timing to the engine")[ENGINE].at_hours == 1727


def test_that_what_this_shop_never_did_on_a_magneto_counts_from_its_overhaul() -> None:
    # By hand: 431 h since overhaul at 1627 h, so overhauled at 1196 h; 500 h later it is due, in 69 h.
    floor = floor_of_visits()
    what, sheet = "inspection off the engine", magneto_sheet("inspection off the engine", "500", 48)
    line = next(one for one in lines(floor, sheet) if one.coming.due.serial == DRIFTING and one.every)
    assert (line.coming.due.at_hours, line.coming.hours_left) == (Fraction(1696), Fraction(69))
    assert line.coming.due.on is None
    assert line.every == "every 500 h or 48 months from its overhaul, sheet t2 rev 1"
    only_months = magneto_sheet(what, None, 48)
    assert dues(lines(floor, only_months), what)[DRIFTING] == Due(what, Subject.MAGNETO, DRIFTING)


def test_that_a_magneto_that_came_off_and_one_of_another_part_number_have_no_interval() -> None:
    floor = floor_of_visits()
    what, sheet = "inspection off the engine", magneto_sheet("inspection off the engine", "500")
    assert set(dues(lines(floor, sheet), what)) == {DRIFTING, STEADY}
    order = floor.order(4)
    moved = tuple(PartMoved(Part(way, "T2", "Magneto", DRIFTING), DAY_OF) for way in (Way.OFF, Way.ON))
    floor.store.file.orders[4] = replace(order, parts=moved[:1])
    assert set(dues(lines(floor, sheet), what)) == {STEADY}
    floor.store.file.orders[4] = replace(order, parts=moved)
    assert set(dues(lines(floor, sheet), what)) == {DRIFTING, STEADY}
    assert dues(lines(floor, replace(sheet, part_numbers=("T9",))), what) == {}
    assert dues(lines(floor, replace(sheet, part_numbers=("MARROW SIX",))), what) == {}


def test_that_a_magneto_without_a_data_plate_goes_by_what_was_known_of_the_engine() -> None:
    floor = floor_of_visits()
    order = floor.order(4)
    assert order.taken_in is not None
    bare = replace(order.taken_in, intake=replace(order.taken_in.intake, plates=()))
    facts = facts_of(replace(order, taken_in=bare)).of(DRIFTING)
    assert facts is not None
    assert (facts.name, facts.since_overhaul) == ("T2", None)
    assert facts_of(order).day_done("a check", "S-404") is None


def test_that_an_accepted_card_of_no_known_passage_counts_from_the_day_of_its_order() -> None:
    floor = floor_of_visits()
    order = floor.order(4)
    card = replace(order.cards[0], state=OrderState.ACCEPTED)
    floor.store.file.orders[4] = replace(order, cards=(card,))
    facts = next(facts_back(floor.store))
    assert facts is not None
    assert facts.done == (CardDone(TIMING.id, TIMING.title, date(2031, 2, 25)),)
    assert facts.has(" m-4472")


def test_that_the_left_engine_of_a_twin_is_said() -> None:
    floor = Floor()
    new = new_order(VISITS[0])
    [engine] = new.aircraft.engines
    left = replace(engine, position=EnginePosition.LEFT)
    open_order(
        floor.shop,
        floor.new("DESK"),
        replace(new, position=EnginePosition.LEFT, aircraft=replace(new.aircraft, engines=(left,))),
    )
    facts = next(facts_back(floor.store))
    assert facts is not None
    assert facts.place == "XQ-TBK, left engine"
