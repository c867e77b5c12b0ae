"""A card that was submitted is judged by what stood then: a sheet or a calibration that came later accuses nobody."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from desktop.core.rules.paperwork import settled_at
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.stamp import Stamp
from desktop.files.sheets import demo_sheets
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.submit_card import submit_card
from desktop.usecases.shop.cards.write_remark import write_remark
from tests.usecases.shop.shop_floor import SOUND, TIMING, Floor

SHEET = next(one for one in demo_sheets() if one.id == "marrow-six")
PIN = SheetPin("marrow-six", 1, "0" * 64, "engine")
LATER = timedelta(days=700)
STOOD, CAME = "sheet-superseded", "sheet-revised-since"


def issued() -> Floor:
    """Return a shop with a card that was issued with a limits sheet, and filled."""
    floor = Floor().with_order()
    floor.store.file.sheets[("marrow-six", 1)] = SHEET
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(TIMING, SOUND, "MECH", sheets=(PIN,), documents=("MM-6",)))
    return floor.with_initials()


def submitted() -> Floor:
    floor = issued()
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    return floor


def revise(floor: Floor, at: datetime) -> None:
    """Have the next revision of the sheet compared at a time."""
    by = (Stamp("MECH", at), Stamp("DESK", at))
    floor.store.file.sheets[("marrow-six", 2)] = replace(SHEET, revision=2, transcribed_by=by[0], compared_by=by[1])


def last(floor: Floor) -> datetime:
    return floor.order().passages[-1].by.at


def found(floor: Floor, order: WorkOrder | None = None, *, today: date = date(2031, 3, 4)) -> dict[str, SaidFinding]:
    order = order or floor.order()
    look = look_at_card(floor.shop, floor.store, order, order.cards[0], today)
    return {one.rule: one for one in look.findings}


def ended(order: WorkOrder, move: Move, ending: OrderState) -> WorkOrder:
    by = Stamp("DESK", order.passages[-1].by.at + timedelta(hours=1))
    return replace(order, ending=ending, passages=(*order.passages, Passage(move, by, reason="So it was.")))


def test_that_a_sheet_that_is_newer_asks_for_a_reason_while_the_card_is_in_work() -> None:
    floor = issued()
    assert not {STOOD, CAME} & set(found(floor))
    revise(floor, last(floor) + LATER)
    assert found(floor)[STOOD].severity is Severity.EXPLAIN
    assert CAME not in found(floor)


def test_that_a_sheet_that_came_after_the_submission_is_told_and_asks_for_no_reason() -> None:
    floor = submitted()
    revise(floor, last(floor) + LATER)
    assert STOOD not in found(floor)
    assert found(floor)[CAME].severity is Severity.NOTE
    look = look_at_card(floor.shop, floor.store, floor.order(), floor.card(), date(2033, 3, 4))
    assert look.unexplained == ()
    assert look.seen.revised_since == (look.seen.revised_since[0],)
    assert "revision 2" in look.seen.revised_since[0]


def test_that_a_sheet_that_stood_at_the_submission_is_still_a_finding_with_its_reason() -> None:
    floor = issued()
    revise(floor, last(floor))
    key = finding_key(STOOD, "limits")
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "Compared: the limits of this job are the same.", about=key)
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert found(floor)[STOOD].severity is Severity.EXPLAIN
    assert CAME not in found(floor)


@pytest.mark.parametrize("move", [(Move.APPROVE, OrderState.APPROVED), (Move.NOT_APPROVE, OrderState.NOT_APPROVED)])
def test_that_an_order_that_has_ended_is_not_accused_by_a_later_sheet(move: tuple[Move, OrderState]) -> None:
    floor = submitted()
    order = floor.order()
    order = ended(replace(order, cards=(replace(order.cards[0], state=OrderState.ACCEPTED),)), *move)
    revise(floor, order.passages[-1].by.at + LATER)
    assert not {STOOD, CAME} & set(found(floor, order))


def test_that_a_card_in_work_on_a_void_order_is_judged_by_what_stood_when_it_was_made_void() -> None:
    floor = issued()
    order = ended(floor.order(), Move.VOID, OrderState.VOID)
    revise(floor, order.passages[-1].by.at + LATER)
    assert not {STOOD, CAME} & set(found(floor, order))
    revise(floor, order.passages[0].by.at)
    assert STOOD in found(floor, order)


def test_that_a_calibration_that_ran_out_after_the_submission_stops_nothing() -> None:
    def with_wrench(floor: Floor) -> WorkOrder:
        order = floor.order()
        card = order.cards[0]
        steps = tuple(replace(one, tools=("L-1", "W-3")) if one.tools else one for one in card.steps)
        return replace(order, cards=(replace(card, steps=steps),))

    after = date(2032, 6, 1)  # W-3 is calibrated until the end of 2031
    assert "tool-out-of-date" in found(issued(), with_wrench(issued()), today=after)
    floor = submitted()
    assert "tool-out-of-date" not in found(floor, with_wrench(floor), today=after)


def test_that_a_card_is_settled_at_its_last_submission() -> None:
    floor = issued()
    assert settled_at(floor.order(), floor.card()) is None
    floor = submitted()
    order = floor.order()
    assert settled_at(order, order.cards[0]) == last(floor)
    again = Passage(Move.SUBMIT, Stamp("MECH", last(floor) + timedelta(hours=2)), 1)
    other = Passage(Move.SUBMIT, Stamp("MECH", last(floor) + timedelta(hours=3)), 2)
    assert settled_at(replace(order, passages=(*order.passages, again, other)), order.cards[0]) == again.by.at
    assert settled_at(replace(order, passages=()), order.cards[0]) is None
