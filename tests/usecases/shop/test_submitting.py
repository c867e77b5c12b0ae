"""Submitting a card: refused while anything stands against it, returned with a reason, submitted again."""

from dataclasses import replace

import pytest

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.orders.hands import whose_instead
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.tools import Tool
from desktop.core.timing.typed_card import TypedCard
from desktop.usecases.fill_card import empty_card, look_at
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from tests.usecases.shop.shop_floor import PEOPLE, RULEBOOK, SOUND, TIMING, TOOLS, Floor


def reasons_against(floor: Floor) -> tuple[str, ...]:
    """Submit the card, and return every reason for which it is refused."""
    before = floor.order()
    with pytest.raises(NotReady) as refused:
        submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order() == before
    return refused.value.reasons


def in_work(readings: TypedCard) -> Floor:
    return Floor().with_card(readings).with_initials()


def test_that_a_whole_card_is_submitted_returned_and_submitted_again() -> None:
    floor = in_work(SOUND)
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION
    with pytest.raises(NotReady, match="The reason is missing"):
        return_card(floor.shop, floor.by("INSP"), 1, 1, "")
    return_card(floor.shop, floor.by("INSP"), 1, 1, "The second approach was overrun.")
    assert floor.order().state is OrderState.IN_WORK
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.approach[3].from", "310"))
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.approach[3].light", "338"))
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.approach[3].click_passed", True))
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION
    assert [(one.move, one.by.person, one.reason) for one in floor.order().passages[1:]] == [
        (Move.BEGIN, "MECH", ""),
        (Move.SUBMIT, "MECH", ""),
        (Move.RETURN, "INSP", "The second approach was overrun."),
        (Move.SUBMIT, "MECH", ""),
    ]


def test_that_every_missing_initial_is_named_with_its_step() -> None:
    floor = in_work(SOUND)
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "switch-off")
    take_back_step(floor.shop, floor.by("MECH"), 1, 1, "torque-set")
    missing = [step.instruction for step in floor.card().task.steps if step.id in ("switch-off", "torque-set")]
    assert [reason.split('"')[:2] for reason in reasons_against(floor)] == [
        ["A later step is confirmed, but not this one: ", instruction] for instruction in missing
    ]


def test_that_a_step_that_does_not_apply_to_the_job_needs_no_initials() -> None:
    floor = in_work(replace(SOUND, run_up=None))
    assert floor.card().done("run-up") is None
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_every_finding_that_stops_refuses_the_card() -> None:
    floor = in_work(SOUND)
    take_reading(
        floor.shop, floor.by("MECH"), 1, 1, ("left.approach[2].light", "334"), ("left.approach[2].back", "333")
    )
    take_reading(
        floor.shop, floor.by("MECH"), 1, 1, ("right.approach[3].light", "334"), ("right.approach[3].back", "333")
    )
    checked = look_at(floor.card().readings, RULEBOOK).checked
    assert checked is not None
    stopping = [finding.sentence for finding in checked.findings if finding.severity == "stops"]
    assert len(stopping) >= 2
    reasons = reasons_against(floor)
    assert [reason.split(" It stops the card: ")[0] for reason in reasons] == stopping
    assert "It stops the card: left magneto, approach 2, light." in reasons[0]


def test_that_a_finding_that_asks_for_a_reason_is_refused_until_it_is_written() -> None:
    floor = in_work(SOUND)
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.approach[2].back", "345"))
    checked = look_at(floor.card().readings, RULEBOOK).checked
    assert checked is not None
    asking = next(finding for finding in checked.findings if finding.severity == "explain")
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "The lamp flickers.", about="another at left.approach[2].back")
    assert reasons_against(floor) == (f"{asking.sentence} Write the reason at the finding, in a sentence.",)
    key = finding_key(asking.rule, asking.where)
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "Late.", about=key)
    assert reasons_against(floor) == (f"{asking.sentence} Write the reason at the finding, in a sentence.",)
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "It was read late.", about=key)
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_typed_text_that_cannot_be_read_refuses_the_card_by_its_field() -> None:
    floor = in_work(SOUND)
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("run_up.left_rpm", "fast"))
    assert any(reason.startswith("Run-up, left rpm: expected a number") for reason in reasons_against(floor))


def test_that_an_empty_card_is_refused_by_its_fields_only() -> None:
    floor = Floor().with_card(empty_card())
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "begun")
    reasons = reasons_against(floor)
    assert len(reasons) > 5
    assert all(reason.endswith("Fill the field in.") for reason in reasons)


def test_that_a_calibrated_tool_that_is_out_of_date_refuses_the_card() -> None:
    floor = in_work(SOUND)
    confirm_step(floor.shop, floor.by("MECH"), 1, 1, "tools-ready", tools=("L-1", "W-3", "W-9"))
    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("torque[1].wrench", "11"), tool="W-9")
    reasons = reasons_against(floor)
    assert len(reasons) == 1
    assert reasons[0].startswith("The calibration of old wrench (W-9) is out of date since 2031-03-03, so ")
    undated: Tool = replace(TOOLS[2], due=None)
    floor.store.file.put_tool(undated)
    assert reasons_against(floor)[0].startswith("The calibration of old wrench (W-9) is out of date, so ")


def test_that_a_card_is_submitted_by_a_mechanic_and_returned_by_an_inspector() -> None:
    floor = in_work(SOUND)
    with pytest.raises(Refusal, match="It takes the right of mechanic"):
        submit_card(floor.shop, floor.by("HELP"), 1, 1)
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    with pytest.raises(Refusal, match="It takes the right of inspector"):
        return_card(floor.shop, floor.by("MECH"), 1, 1, "no")


def test_that_a_card_that_is_not_in_work_is_not_submitted() -> None:
    floor = Floor().with_card()
    assert reasons_against(floor)[0].startswith("Card 1 is issued, so this cannot be done: submit for inspection.")
    with pytest.raises(NotReady, match="Order 1 has no card 5"):
        submit_card(floor.shop, floor.by("MECH"), 1, 5)


def test_that_nobody_submits_a_card_of_which_no_work_is_theirs() -> None:
    floor = in_work(SOUND)
    other = replace(PEOPLE[1], id="ALSO", name="Al Sorel")
    floor.store.file.put_person(other)
    before = floor.order()
    with pytest.raises(Refusal) as refused:
        submit_card(floor.shop, floor.by("ALSO"), 1, 1)
    assert refused.value.sentence == (
        "This card was given to Mel Chan (MECH), and none of its work is yours. Leave it to Mel Chan (MECH) to submit; "
        "where you took the work over, initial the steps that you did."
    )
    assert floor.order() == before
    confirm_step(floor.shop, floor.by("ALSO"), 1, 1, "switch-off")
    submit_card(floor.shop, floor.by("ALSO"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_a_card_given_to_nobody_is_submitted_by_whoever_worked_on_it() -> None:
    floor = Floor().with_order()
    issue_card(floor.shop, floor.by("DESK"), 1, NewCard(TIMING, SOUND, ""))
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "begun")
    with pytest.raises(Refusal, match="No step of this card carries your initials"):
        submit_card(floor.shop, floor.by("MECH"), 1, 1)
    floor.with_initials()
    floor.store.file.put_person(replace(PEOPLE[1], id="ALSO", name="Al Sorel"))
    with pytest.raises(Refusal, match=r"This card was filled by Mel Chan \(MECH\)"):
        submit_card(floor.shop, floor.by("ALSO"), 1, 1)
    submit_card(floor.shop, floor.by("MECH"), 1, 1)
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_somebody_who_is_no_longer_on_the_roster_is_named_by_initials() -> None:
    card = in_work(SOUND).card()
    assert "given to LEFT" in whose_instead(replace(card, mechanic="LEFT"), "ALSO", lambda one: one)
    assert whose_instead(card, "MECH", lambda one: one) == ""
