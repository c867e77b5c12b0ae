"""Every caution and hazard stands before its steps on every card, alone and in every job."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from desktop.core.shop.cards.jobs import facts_among
from desktop.core.shop.cards.task_card import BoxKind, Step, TaskCard, holds, steps_for
from tests.core.shop.cards.cautions import CAUTIONS, Required
from tests.core.shop.cards.hazards import HAZARDS, PRACTICE, Hazard
from tests.core.shop.cards.variants import CARDS, ENGINE_JOBS, JOBS, cards_of, job_steps

ENDINGS = re.compile(r"-(left|right|housing)$")
ON_THE_BENCH = ("B1", "B2")


@cache
def worked() -> tuple[tuple[str, frozenset[str], tuple[Step, ...]], ...]:
    """Return each card with its facts and steps: in each job, and issued alone."""
    found = []
    for facts in ENGINE_JOBS:
        for job in JOBS:
            for card_id, steps in cards_of(job, facts):
                found.append((card_id, facts | facts_among(card_id, job.cards, job.where), steps))
        found += [(card_id, facts, job_steps(facts, card_id)) for card_id in CARDS]
    return tuple(dict.fromkeys(found))


def _unwarned(hazard: str, before: frozenset[str], steps: tuple[Step, ...]) -> Iterator[str]:
    """Yield each of the steps, by its id as it stands or without its side, before which no box of the hazard stood."""
    seen = False
    for step in steps:
        seen = seen or any(box.hazard == hazard for box in step.boxes)
        if not seen and (step.id in before or ENDINGS.sub("", step.id) in before):
            yield step.id


def _on(card_id: str, hazard: Hazard) -> frozenset[str]:
    named = (place.split() for place in hazard.before)
    return frozenset(step for card, step in named if card == card_id)


def _boxes(card: TaskCard) -> Iterator[tuple[str, BoxKind, str]]:
    for step in card.steps:
        for box in step.boxes:
            yield box.hazard, box.kind, box.text


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_a_caution_stands_before_its_steps_on_every_card_that_has_them(required: Required) -> None:
    before = frozenset(required.before)
    missed = {
        (card_id, step)
        for card_id, facts, steps in worked()
        if holds(required.only, facts) and not (required.hazard == "wrong-engine" and card_id in ON_THE_BENCH)
        for step in _unwarned(required.hazard, before, steps)
    }
    assert missed == set()


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.hazard)
def test_that_a_hazard_stands_before_its_steps_on_every_card_that_has_them(hazard: Hazard) -> None:
    missed = {
        (card_id, step)
        for card_id, _, steps in worked()
        for step in _unwarned(hazard.hazard, _on(card_id, hazard), steps)
    }
    assert missed == set()


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.hazard)
def test_that_each_step_of_a_hazard_is_on_its_card_and_would_miss_its_box(hazard: Hazard) -> None:
    missed = set()
    for card_id in {place.split()[0] for place in hazard.before}:
        steps = CARDS[card_id].steps
        bare = tuple(replace(step, boxes=()) for step in steps)
        missed |= {
            f"{card_id} {ENDINGS.sub('', step)}" for step in _unwarned(hazard.hazard, _on(card_id, hazard), bare)
        }
        missed |= {f"{card_id} {step}" for step in _unwarned(hazard.hazard, _on(card_id, hazard), bare)}
    assert set(hazard.before) <= missed


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.hazard)
def test_that_the_box_of_a_hazard_says_what_it_cannot_do_without_on_each_card(hazard: Hazard) -> None:
    texts = [text.lower() for card in CARDS.values() for name, _, text in _boxes(card) if name == hazard.hazard]
    assert texts
    assert any(all(words in text for words in hazard.words) for text in texts)


def test_that_every_warning_and_caution_of_the_cards_is_mapped_to_its_steps() -> None:
    mapped = {one.hazard for one in (*CAUTIONS, *HAZARDS)}
    found = {name for card in CARDS.values() for name, kind, _ in _boxes(card) if kind is not BoxKind.NOTE}
    assert found - mapped == set()
    assert {hazard.hazard for hazard in HAZARDS} & {one.hazard for one in CAUTIONS} == set()


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.hazard)
def test_that_each_hazard_has_a_source_or_says_that_there_is_none(hazard: Hazard) -> None:
    assert hazard.source == PRACTICE or re.search(r"\bpp?\. \d", hazard.source)


def test_that_one_hazard_has_one_signal_word_on_all_cards() -> None:
    kinds: dict[str, set[BoxKind]] = {}
    for card in CARDS.values():
        for name, kind, _ in _boxes(card):
            kinds.setdefault(name, set()).add(kind)
    assert {name for name, found in kinds.items() if len(found) > 1} == set()


def test_that_a_warning_ends_with_injury_or_death_and_a_caution_never_speaks_of_it() -> None:
    boxes = [box for card in CARDS.values() for box in _boxes(card)]
    hurts = re.compile(r"\b(kills?|injure)\b")
    assert [name for name, kind, text in boxes if kind is BoxKind.WARNING and not hurts.search(text)] == []
    assert [name for name, kind, text in boxes if kind is BoxKind.CAUTION and hurts.search(text)] == []


def test_that_a_warning_or_caution_says_hazard_way_out_and_consequence() -> None:
    few = {
        name
        for card in CARDS.values()
        for name, kind, text in _boxes(card)
        if kind is not BoxKind.NOTE and len(re.findall(r"[.!?](?=\s|$)", text)) < 3
    }
    assert few == set()


def test_that_no_step_carries_more_boxes_than_a_reader_takes_in_and_none_twice() -> None:
    for card_id, _, steps in worked():
        for step in steps:
            names = [box.hazard for box in step.boxes]
            assert len(names) == len(set(names)), (card_id, step.id)
            assert len(names) <= 5, (card_id, step.id)


def test_that_the_words_of_the_work_are_those_of_the_trade() -> None:
    told = {text for card in CARDS.values() for step in card.steps for text in (step.instruction, step.description)}
    told |= {text for card in CARDS.values() for _, _, text in _boxes(card)}
    assert [text for text in told if re.search(r"\b(forward|middle|simply)\b", text)] == []


def test_that_a_card_with_a_box_of_an_early_step_taken_off_is_noticed() -> None:
    bench = CARDS["B1"]
    bare = replace(bench, steps=tuple(replace(step, boxes=step.boxes[1:]) for step in bench.steps))
    spark = next(hazard for hazard in HAZARDS if hazard.hazard == "bench-spark")
    steps = steps_for(bare, frozenset({"left", "removed"}))
    assert "e-gap-left" in set(_unwarned("bench-spark", _on("B1", spark), steps))
