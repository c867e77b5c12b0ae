"""Each job from the intake to the submission of its last card, and back: returned with a reason, submitted again."""

from dataclasses import replace
from fractions import Fraction

import pytest

from desktop.core.errors import NotReady
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.timing.readings import Side
from desktop.demo.plans import Stands
from desktop.demo.working import work_card
from desktop.usecases.shop.cards.confirm_step import take_back_step
from tests.journeys.job_floor import HANDS, JOBS, VARIANTS, JobFloor, plan_of

REASON = "The clamp washer of one nut is missing. Fit it, and confirm the step again."


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("name", VARIANTS)
def test_that_a_job_goes_from_the_intake_to_the_inspector_and_back(name: str, job: str) -> None:
    floor, variant = JobFloor(), VARIANTS[name]
    plan = plan_of(variant)
    floor.takes_in(variant)
    floor.issues(variant, job)
    for card in floor.crew.order(1).cards:
        work_card(floor.crew, 1, card.number, plan)
        floor.submits(card.number)
    order = floor.crew.order(1)
    assert order.state is OrderState.FOR_INSPECTION
    if JOBS[job].run_up_due:
        assert not_normal(order.board) == ()

    for card in order.cards:
        floor.returns(card.number, REASON)
    order = floor.crew.order(1)
    assert order.state is OrderState.IN_WORK
    assert [one.reason for one in order.passages if one.move is Move.RETURN] == [REASON] * len(order.cards)
    for card in order.cards:
        last = card.steps[-1].step
        take_back_step(floor.shop, floor.by(HANDS), 1, card.number, last)
        with pytest.raises(NotReady):
            floor.submits(card.number)
        work_card(floor.crew, 1, card.number, plan)
        floor.submits(card.number)
        again = floor.crew.card(1, card.number)
        assert again.state is OrderState.FOR_INSPECTION
        assert [done.step for done in again.earlier] == [last]


@pytest.mark.parametrize("name", [name for name, variant in VARIANTS.items() if variant.out is None])
def test_that_a_magneto_left_outside_its_limits_never_reaches_the_inspector(name: str) -> None:
    floor, variant = JobFloor(), VARIANTS[name]
    late = {side: Stands(Fraction(-6), Fraction(-6)) for side in Side}
    floor.takes_in(variant)
    floor.issues(variant, "periodic-timing")
    timing = next(card.number for card in floor.crew.order(1).cards if card.task.id == "T4")
    work_card(floor.crew, 1, timing, replace(plan_of(variant), stands=late))
    with pytest.raises(NotReady) as refused:
        floor.submits(timing)
    assert any("retarded" in reason for reason in refused.value.reasons)
    assert floor.crew.card(1, timing).state is OrderState.IN_WORK


def test_that_a_side_that_was_left_out_has_no_step_of_its_own() -> None:
    for name, side in (("the right magneto left out", "right"), ("the left magneto left out", "left")):
        floor, variant = JobFloor(), VARIANTS[name]
        floor.takes_in(variant)
        floor.issues(variant, "replace-magneto")
        plan = plan_of(variant)
        for card in floor.crew.order(1).cards:
            work_card(floor.crew, 1, card.number, plan)
            steps = [step for step in floor.crew.look(1, card.number).steps if step.side == side]
            assert steps == []
