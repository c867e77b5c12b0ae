"""Each caution that the cards must carry, the words it cannot do without, and the steps before which it stands."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

import pytest

from desktop.core.shop.task_card import BoxKind, Step, TaskCard, holds, steps_for
from tests.core.shop.variants import CARD, VARIANTS

FIRST_TURN = ("compression",)
APPROACHES = (
    "as-found-left",
    "as-found-right",
    "setting-left",
    "setting-right",
    "setting-right-housing",
    "as-left-left",
    "as-left-right",
    "synchronisation",
)
WARNING, CAUTION, NOTE = BoxKind.WARNING, BoxKind.CAUTION, BoxKind.NOTE


@dataclass(frozen=True, slots=True)
class Required:
    """A caution: its box, the words that it must have, the steps that it must precede, and the jobs that need it."""

    says: str
    hazard: str
    kind: BoxKind
    words: tuple[str, ...]
    before: tuple[str, ...]
    only: tuple[str, ...] = ()


CAUTIONS = (
    Required(
        "every propeller is live, whatever the switch says",
        "live-propeller",
        WARNING,
        ("every propeller is live", "whatever the switch says"),
        ("starter-disabled", "plugs-out", *FIRST_TURN),
    ),
    Required(
        "a disconnected grounding lead makes the magneto live",
        "ground-lead-off",
        WARNING,
        ("grounding lead", "live", "kill"),
        ("off-proved-first", *FIRST_TURN, "disc-off", "gauge-off", "light-off", "leads-on"),
    ),
    Required(
        "nobody and nothing in the arc",
        "arc-clear",
        WARNING,
        ("arc", "people", "stands", "tools"),
        FIRST_TURN,
    ),
    Required(
        "switch off, key out, battery off, starter disabled, fuel off, chocks, a second person",
        "safe-state",
        WARNING,
        (
            "switch off",
            "key out",
            "battery off",
            "starter disabled",
            "fuel off",
            "wheels chocked",
            "a second person",
        ),
        ("switch-off", "starter-disabled"),
    ),
    Required(
        "all plug leads off, ends secured away from plug holes and hands, a plug out of every cylinder before turning",
        "plug-leads",
        WARNING,
        ("all leads off", "secure their ends away from plug holes and hands", "out of every cylinder before anything"),
        ("plugs-out", *FIRST_TURN),
    ),
    Required(
        "the light needs BOTH, separate switches both ON; BOTH for the last approach only, OFF after every reading",
        "light-at-both",
        WARNING,
        ("both", "last approach only", "off after"),
        APPROACHES,
    ),
    Required(
        "pass the snap with the switch at OFF",
        "snap-live",
        WARNING,
        ("pass every snap with the switch at off",),
        ("snap-passed", "as-found-left", "as-found-right"),
        ("impulse",),
    ),
    Required(
        "proof by lamp or meter that OFF grounds each side before anybody touches the blade",
        "off-not-proved",
        WARNING,
        ("by lamp or meter", "off grounds each side", "before anybody touches the blade"),
        ("off-proved-first", *FIRST_TURN, "off-proved", "closing-pair", "leads-on"),
    ),
    Required(
        "rotor-lock or timing pin out before the crankshaft moves",
        "rotor-pin",
        CAUTION,
        ("pin", "before the crankshaft moves"),
        ("pins-out", *FIRST_TURN),
    ),
    Required(
        "never the starter with pin or stop fitted",
        "starter-with-stop",
        CAUTION,
        ("starter", "stop or a pin", "never"),
        ("stop-pair", "closing-pair", "tools-counted", "back-to-normal"),
    ),
    Required(
        "the piston meets the stop at the touch, by hand, never by the starter",
        "stop-fitted",
        CAUTION,
        ("by hand", "never by the starter", "at the touch"),
        ("stop-pair", "closing-pair"),
        ("not marks",),
    ),
    Required(
        "stop out before compression is proved or TDC is passed; thumb on the other plug hole",
        "stop-before-tdc",
        CAUTION,
        ("before compression is proved or tdc is passed", "thumb on the other plug hole"),
        ("stop-out", "compression-again"),
        ("not marks",),
    ),
    Required(
        "a radial may be full of oil",
        "hydraulic-lock",
        CAUTION,
        (
            "radial",
            "full of oil",
            "plugs out of the low cylinders",
            "drain",
            "several turns forward by hand",
            "proved clear",
            "never turn against rotation",
        ),
        ("plugs-out", *FIRST_TURN),
    ),
    Required(
        "on a geared propeller the zero holds one crankshaft turn",
        "geared-zero",
        CAUTION,
        ("geared propeller", "zero", "one turn of the crankshaft"),
        ("compression-again", "as-found-left", "as-found-right"),
        ("geared",),
    ),
    Required(
        "run-up with the area clear, brakes, chocks",
        "run-up-area",
        WARNING,
        ("area clear", "brakes set", "wheels chocked"),
        ("run-up",),
        ("run-up",),
    ),
    Required(
        "what to do when a magneto does not cut",
        "does-not-cut",
        WARNING,
        ("does not cut", "not grounded", "stop the engine with the fuel", "off the propeller", "grounding first"),
        ("run-up", "switch-check"),
        ("run-up",),
    ),
    Required(
        "no snap at all is a finding of the coupling",
        "no-snap",
        NOTE,
        ("no snap", "finding", "coupling"),
        ("snap-passed",),
        ("impulse",),
    ),
    Required(
        "other cylinders snap too: a snap does not prove No. 1",
        "other-snaps",
        NOTE,
        ("other cylinders", "does not prove"),
        ("snap-passed",),
        ("impulse",),
    ),
    Required(
        "a light that comes with a snap is void",
        "snap-with-light",
        NOTE,
        ("with a snap", "void"),
        ("as-left-left", "as-left-right"),
        ("impulse",),
    ),
    Required(
        "turning against rotation only where the data allow it",
        "against-rotation",
        CAUTION,
        ("starter drive", "pump vanes", "only where the data allow it"),
        ("stop-pair", "back-short", "back-off"),
    ),
)
BY_HAZARD = {required.hazard: required for required in CAUTIONS}


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


def _needing(required: Required) -> list[frozenset[str]]:
    return [facts for facts in VARIANTS if holds(required.only, facts)]


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_every_caution_stands_before_its_steps_on_every_job_that_needs_it(required: Required) -> None:
    missed = {missed for facts in _needing(required) for missed in _missing(required, steps_for(CARD, facts))}
    assert missed == set()


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_every_job_without_a_cause_for_a_caution_is_spared_it(required: Required) -> None:
    spared = [facts for facts in VARIANTS if not holds(required.only, facts)]
    assert not any(
        box.hazard == required.hazard for facts in spared for step in steps_for(CARD, facts) for box in step.boxes
    )


@pytest.mark.parametrize("required", CAUTIONS, ids=lambda required: required.hazard)
def test_that_a_caution_taken_off_the_card_would_be_missed_before_each_of_its_steps(required: Required) -> None:
    bare = _without(required.hazard)
    missed = {missed for facts in _needing(required) for missed in _missing(required, steps_for(bare, facts))}
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
        steps = steps_for(CARD, facts)
        for place, step in enumerate(steps):
            if step.id in APPROACHES:
                near = steps[place - 1 : place + 1] if steps[place - 1].id in APPROACHES else (step,)
                assert any(box.hazard == "light-at-both" for one in near for box in one.boxes), (facts, step.id)


def test_that_the_switch_stands_in_the_words_of_each_step_that_needs_it_at_off() -> None:
    by_id = {step.id: step for step in CARD.steps}
    at_off = ("switch-off", "compression", "snap-passed", "back-short", "back-off", "back-to-normal")
    assert [step_id for step_id in at_off if "OFF" not in by_id[step_id].instruction] == []
    turned = ("turn-left", "turn-right", "turn-housing", "tighten-left", "tighten-right", "tighten-housing")
    described = (*turned, "as-found-left", "as-found-right", "as-left-left", "as-left-right", "security")
    assert [step_id for step_id in described if "OFF" not in by_id[step_id].description] == []


def test_that_with_a_coupling_the_approach_goes_through_the_snap_back_short_of_the_catch_and_forward() -> None:
    for facts in VARIANTS:
        if "impulse" not in facts:
            continue
        steps = steps_for(CARD, facts)
        place = [step.id for step in steps].index("snap-passed")
        said = [step.instruction for step in steps[place : place + 3]]
        assert re.search(r"OFF.*with rotation through the snap", said[0])
        assert re.search(r"OFF.*back past the mark.*short of the catch", said[1])
        assert re.search(r"BOTH.*forward.*lamp", said[2])


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
        for step in steps_for(CARD, facts):
            hazards = [box.hazard for box in step.boxes]
            assert len(hazards) == len(set(hazards))
            assert len(hazards) <= 5
