"""The intake of an order written after it was opened: what stands there, what is refused, and until when."""

from dataclasses import replace

import pytest

from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.timing.readings import Hand, Side
from desktop.usecases.shop.orders.take_in import take_in
from desktop.viewmodels.orders.intake_form import IntakeForm, may_change
from desktop.viewmodels.orders.job_form import JobForm
from desktop.viewmodels.orders.new_order_form import LOOK, NewOrderForm
from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.viewmodels.pieces.bench import Bench
from tests.usecases.shop.shop_floor import TIMING, Floor
from tests.viewmodels.shop_orders import STATES, desk_at, in_state, new_order, shop_with

WRITTEN = Intake(True, "1234.5", "987", "rough on the left", (Plate(Side.LEFT, "M-20", "S-1", Hand.LEFT, "25", "410"),))


def test_that_the_form_begins_with_the_intake_and_keeps_it_unchanged() -> None:
    floor = shop_with(1)
    take_in(floor.shop, floor.by("DESK"), 1, WRITTEN)
    form = IntakeForm(floor.order())
    assert (form.intake(), form.is_begun) == (WRITTEN, False)


def test_that_a_plate_that_nobody_wrote_begins_with_the_numbers_that_the_order_has() -> None:
    form = IntakeForm(shop_with(1).order())
    assert form.intake().plates == (Plate(Side.LEFT, "M-20", "S-1"),)
    assert form.is_filled_in(next(one for one in form.fields() if one.path == "left.serial"))


def test_that_a_value_that_was_missing_is_written_and_a_wrong_number_is_said_at_its_field() -> None:
    floor = shop_with(1)
    form = IntakeForm(floor.order())
    fields = {one.path: one for one in form.fields()}
    form.commit(fields["left.hand"], "left")
    form.commit(fields["left.lag"], "soon")
    assert [one.where for one in form.faults()] == ["left.lag"]
    assert form.fault_at(fields["left.lag"]) == "Write a number such as 1234.5, 0 or more."
    form.commit(fields["left.lag"], "25")
    assert form.faults() == ()
    form.verb(floor.shop, floor.by("DESK"), 1)
    taken = floor.order().taken_in
    assert taken is not None
    assert taken.intake.plates == (Plate(Side.LEFT, "M-20", "S-1", Hand.LEFT, "25"),)


@pytest.mark.parametrize("state", STATES)
def test_that_the_intake_is_written_only_before_anything_was_submitted(state: OrderState) -> None:
    order = in_state(shop_with(1).order(), state)
    assert may_change(order) is (state in (OrderState.OPEN, OrderState.ISSUED))


def test_that_one_submitted_card_is_enough_to_keep_the_intake() -> None:
    order = in_state(shop_with(1).order(), OrderState.ISSUED)
    second = replace(order.cards[0], number=2, state=OrderState.FOR_INSPECTION)
    assert not may_change(replace(order, cards=(*order.cards, second)))
    assert "Cards that are issued keep" in IntakeForm(order).words.task


def test_that_a_refused_plate_names_the_button_and_another_refusal_does_not() -> None:
    floor = Floor().with_order()
    form = JobForm(floor.shop, (TIMING,), floor.order())
    said = "Data plate of the left magneto: lag, the plate's value is not written; the sheets say 25."
    assert form.remedy(said) == f'{said} The plates are written at the order, with the button "Intake…".'
    assert form.remedy("Confirm first.") == "Confirm first."


def test_that_single_cards_stand_in_the_order_of_their_names() -> None:
    floor = Floor().with_order()
    cards = tuple(replace(TIMING, id=one) for one in ("T10", "B2", "C1", "B1", "T2"))
    form = JobForm(floor.shop, cards, floor.order())
    what = next(one for one in form.fields() if one.path == "what")
    assert [value.removeprefix("card:") for value, _ in what.choices if value.startswith("card:")] == [
        "B1",
        "B2",
        "C1",
        "T2",
        "T10",
    ]


def test_that_a_magneto_that_is_the_same_brings_hand_and_lag_marked_to_be_looked_at() -> None:
    floor = shop_with(1)
    taken = Intake(plates=(Plate(Side.LEFT, "M-20", "S-1", Hand.LEFT, "25", "410"), Plate(Side.RIGHT, "M-20", "S-9")))
    take_in(floor.shop, floor.by("DESK"), 1, taken)
    desk = desk_at(floor)
    form = NewOrderForm(desk.aircraft, None, desk.plates)
    fields = {one.path: one for one in form.fields()}
    form.commit(fields["aircraft.registration"], new_order(1).aircraft.registration)
    assert (form.text("left.hand"), form.text("left.lag"), form.text("left.since_overhaul")) == ("left", "25", "")
    assert form.note_at(fields["left.lag"]) == LOOK
    assert form.is_filled_in(fields["left.hand"])
    form.commit(fields["left.serial"], "S-2")
    form.commit(fields["aircraft.registration"], "X-NEW")
    assert (form.text("left.hand"), form.text("left.serial")) == ("", "S-2")


def test_that_an_intake_over_a_changed_order_says_what_changed_and_writes_nothing_over() -> None:
    floor = shop_with(1)
    hub = OrderHub(floor.shop, Bench((TIMING,)), 1, lambda: "DESK", lambda: "intake-1")
    said: list[tuple[str, ...]] = []
    hub.changed_elsewhere.connect(said.append)
    form = IntakeForm(hub.order)
    form.commit(next(one for one in form.fields() if one.path == "complaint"), "smooth")
    take_in(floor.shop, floor.by("DESK"), 1, Intake(complaint="rough"))
    assert not hub.ask("intake", lambda request: form.verb(floor.shop, request, 1), "Kept.")
    assert "intake" in said[0][0]
    taken = floor.order().taken_in
    assert taken is not None
    assert taken.intake.complaint == "rough"
