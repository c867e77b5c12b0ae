"""Each caution that the cards must carry, the words it cannot do without, and the steps before which it stands."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from desktop.core.shop.cards.task_card import BoxKind, Step, TaskCard, holds, steps_for
from tests.core.shop.cards.cautions import APPROACHES, CAUTION, CAUTIONS, WARNING, Required
from tests.core.shop.cards.variants import AROUND, CARD, READINGS, VARIANTS, job_steps, said

SOME = (*READINGS[::9], *AROUND[::13])


def _missing(required: Required, steps: tuple[Step, ...]) -> Iterator[str]:
    """Yield each step of a job that the caution should precede and does not, and any box that lacks its kind."""
    seen = False
    for step in steps:
        boxes = [box for box in step.boxes if box.hazard == required.hazard]
        seen = seen or bool(boxes)
        if any(box.kind is not required.kind for box in boxes):
            yield f"{step.id}: kind"
        if step.id in required.before and not seen:
            yield step.id
    if not seen:
        yield "no step"


def _without(hazard: str) -> TaskCard:
    steps = (replace(step, boxes=tuple(box for box in step.boxes if box.hazard != hazard)) for step in CARD.steps)
    return replace(CARD, steps=tuple(steps))


def _needing(required: Required, among: tuple[frozenset[str], ...] = VARIANTS) -> list[frozenset[str]]:
    """Return the jobs for which the caution's conditions hold and which have one of its steps."""
    held = [facts for facts in among if holds(required.only, facts)]
    return [facts for facts in held if any(step.id in required.before for step in job_steps(facts))]


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_every_caution_stands_before_its_steps_on_every_job_that_needs_it(required: Required) -> None:
    missed = {missed for facts in _needing(required) for missed in _missing(required, job_steps(facts))}
    assert missed == set()


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_every_job_without_a_cause_for_a_caution_is_spared_it(required: Required) -> None:
    spared = [facts for facts in VARIANTS if not holds(required.only, facts)]
    assert not any(box.hazard == required.hazard for facts in spared for step in job_steps(facts) for box in step.boxes)


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_a_caution_taken_off_the_card_would_be_missed_before_each_of_its_steps(required: Required) -> None:
    bare = _without(required.hazard)
    missed = {missed for facts in _needing(required, SOME) for missed in _missing(required, steps_for(bare, facts))}
    assert missed == {*required.before, "no step"}


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_the_first_box_of_a_caution_says_all_of_it(required: Required) -> None:
    first = next(box for step in CARD.steps for box in step.boxes if box.hazard == required.hazard)
    said = first.text.lower()
    assert [words for words in required.words if words not in said] == []


def test_that_the_box_about_the_light_names_separate_switches() -> None:
    first = next(box for step in CARD.steps for box in step.boxes if box.hazard == "light-at-both")
    assert "separate switches both ON" in first.text


def test_that_no_approach_goes_to_both_without_the_box_at_it_or_at_the_reading_just_before() -> None:
    for facts in VARIANTS:
        steps = job_steps(facts)
        for place, step in enumerate(steps):
            if step.id in APPROACHES:
                near = steps[place - 1 : place + 1] if steps[place - 1].id in APPROACHES else (step,)
                assert any(box.hazard == "light-at-both" for one in near for box in one.boxes), (facts, step.id)


def test_that_the_switch_stands_in_the_words_of_each_step_that_needs_it_at_off() -> None:
    by_id = {step.id: step for step in CARD.steps}
    turned = ("compression", "compression-again", "stop-down", "closing-down", "snap-passed", "back-short", "back-off")
    at_off = ("switch-off", *turned, "again-right", "starter-normal", "battery-normal", "fuel-normal")
    assert [step_id for step_id in at_off if "OFF" not in by_id[step_id].instruction] == []
    loosened = ("turn-left", "turn-right", "turn-housing", "tighten-left", "tighten-right", "tighten-housing")
    described = (*loosened, "as-found-left", "as-found-right", "as-left-left", "as-left-right", "security")
    assert [step_id for step_id in described if "OFF" not in said(by_id[step_id])] == []


def test_that_with_a_coupling_the_approach_goes_through_the_snap_back_short_of_the_catch_and_with_rotation() -> None:
    for facts in VARIANTS:
        if "impulse" not in facts:
            continue
        steps = job_steps(facts)
        place = [step.id for step in steps].index("snap-passed")
        told = [step.instruction for step in steps[place : place + 3]]
        assert re.search(r"OFF.*with rotation through the snap", told[0])
        if "back forbidden" in facts:
            assert re.search(r"OFF.*past its catch the way the data describe", told[1])
        else:
            assert re.search(r"OFF.*back past the mark.*short of the catch", told[1])
        if "found elsewhere" not in facts:
            assert re.search(r"BOTH.*with rotation.*lamp", told[2])


def test_that_a_hazard_that_comes_back_carries_the_same_signal_word() -> None:
    kinds: dict[str, set[BoxKind]] = {}
    for step in CARD.steps:
        for box in step.boxes:
            kinds.setdefault(box.hazard, set()).add(box.kind)
    assert {hazard for hazard, found in kinds.items() if len(found) > 1} == set()


def test_that_a_warning_ends_with_injury_or_death_and_a_caution_never_speaks_of_it() -> None:
    boxes = [box for step in CARD.steps for box in step.boxes]
    assert [box.hazard for box in boxes if box.kind is WARNING and not re.search(r"\bkills?\b", box.text)] == []
    assert [box.hazard for box in boxes if box.kind is CAUTION and re.search(r"\b(kills?|injur)", box.text)] == []


def test_that_a_box_is_not_repeated_within_one_step_and_no_step_carries_more_than_a_reader_takes_in() -> None:
    for facts in VARIANTS:
        for step in job_steps(facts):
            hazards = [box.hazard for box in step.boxes]
            assert len(hazards) == len(set(hazards))
            assert len(hazards) <= 5
