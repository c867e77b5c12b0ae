"""Which steps a job gets, and in which order: what a mechanic and an inspector hold against the card."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

import pytest

from desktop.core.shop.cards.task_card import (
    CAPTURES,
    ELSEWHERE,
    FACTS,
    LIMITS,
    Box,
    BoxKind,
    Say,
    Step,
    TaskCard,
    holds,
    is_known,
    steps_for,
)
from tests.core.shop.cards.variants import CARD, CARDS, FULL, READINGS, VARIANTS, ids_of, job_steps

STEP = Step("one", (), (), "Do it.", "", "confirm", initials=True, inspector=False)
ORDERS = {facts: ids_of(job_steps(facts)) for facts in VARIANTS}
NOTE = Box(BoxKind.NOTE, "a-hazard", "It helps.")

FIRST_PAIR = ("stop-down", "stop-in", "stop-with", "stop-pair")
CLOSING_PAIR = ("closing-down", "closing-in", "closing-with", "closing-pair")
TIGHTENED = ("tighten-left", "tighten-right", "tighten-housing")
MADE_SAFE = (
    *("switch-off", "key-given", "battery-off", "fuel-off", "wheels-chocked", "starter-disabled"),
    *("leads-off", "plugs-out", "pins-out"),
)

# Each pair: wherever both stand on a job's card, the first comes before the second.
BEFORE = (
    ("engine-placed", "data-current"),
    ("data-current", "switch-off"),
    ("data-current", "board-safe"),
    ("board-safe", "light-on"),
    ("no-contacts", "as-found-left"),
    ("no-contacts", "snap-passed"),
    ("snap-passed", "coupling-by-data"),
    ("coupling-by-data", "as-found-left"),
    ("compression", "forward-start"),
    ("forward-start", "as-found-right"),
    ("forward-start", "setting-left"),
    ("back-short", "setting-left"),
    ("back-off", "setting-right"),
    ("leads-on", "leads-traced"),
    ("leads-traced", "tools-counted"),
    ("indicator-off", "light-off"),
    ("switch-off", "key-given"),
    *(("key-given", made_safe) for made_safe in ("battery-off", "fuel-off", "wheels-chocked", "starter-disabled")),
    *((made_safe, "leads-off") for made_safe in ("battery-off", "fuel-off", "wheels-chocked", "starter-disabled")),
    ("leads-off", "plugs-out"),
    ("plugs-out", "radial-cleared"),
    ("pins-out", "radial-cleared"),
    ("light-on", "off-proved-first"),
    ("off-proved-first", "radial-cleared"),
    ("radial-cleared", "compression"),
    ("radial-cleared", "stop-down"),
    ("disc-fit", "compression"),
    ("gauge-fit", "compression"),
    ("compression", "mark-named"),
    ("compression", "centre-by-feel"),
    ("centre-by-feel", "stop-down"),
    ("compression", "stop-down"),
    *((before, after) for pair in (FIRST_PAIR, CLOSING_PAIR) for before, after in pairwise(pair)),
    ("stop-pair", "disc-zero"),
    ("disc-zero", "stop-out"),
    ("stop-pair", "stop-out"),
    ("stop-out", "compression-again"),
    ("stop-out", "snap-passed"),
    ("compression-again", "snap-passed"),
    ("compression-again", "back-off"),
    ("mark-named", "as-found-left"),
    ("mark-named", "as-found-right"),
    ("snap-passed", "back-short"),
    *((approach, found) for approach in ("back-short", "back-off") for found in ("as-found-left", "as-found-right")),
    *(
        (found, loosened)
        for found in ("as-found-left", "as-found-right")
        for loosened in ("turn-left", "turn-right", "turn-housing")
    ),
    ("turn-left", "setting-left"),
    ("turn-right", "setting-right"),
    ("turn-housing", "setting-left"),
    ("turn-housing", "setting-right-housing"),
    ("setting-left", "tighten-left"),
    ("setting-right", "tighten-right"),
    ("setting-left", "tighten-housing"),
    ("setting-right-housing", "tighten-housing"),
    ("as-found-left", "again-right"),
    ("again-right", "as-found-right"),
    *(("torque-set", tightened) for tightened in TIGHTENED),
    ("turn-right", "torque-set-right"),
    ("setting-right", "torque-set-right"),
    ("torque-set-right", "tighten-right"),
    ("tighten-left", "as-left-left"),
    ("tighten-right", "as-left-right"),
    ("tighten-housing", "as-left-left"),
    ("tighten-housing", "as-left-right"),
    ("as-left-left", "turn-right"),
    ("as-left-left", "synchronisation"),
    ("as-left-right", "synchronisation"),
    ("synchronisation", "closing-down"),
    ("as-left-left", "closing-down"),
    ("as-left-right", "closing-down"),
    ("closing-pair", "stop-off"),
    ("stop-off", "disc-off"),
    ("stop-off", "gauge-off"),
    ("disc-off", "light-off"),
    ("gauge-off", "light-off"),
    ("synchronisation", "off-proved"),
    ("as-left-left", "off-proved"),
    ("as-left-right", "off-proved"),
    ("off-proved", "closing-down"),
    *(("off-proved", off) for off in ("disc-off", "gauge-off", "light-off", "leads-on")),
    ("light-off", "ground-leads-tight"),
    ("ground-leads-tight", "off-proved-again"),
    ("off-proved-again", "plugs-in"),
    ("plugs-in", "leads-on"),
    ("leads-on", "tools-counted"),
    *(("tools-counted", f"{what}-normal") for what in ("starter", "battery", "fuel")),
    *((f"{what}-normal", "run-up") for what in ("starter", "battery", "fuel")),
    ("run-up", "switch-check"),
    ("switch-check", "security"),
    ("leads-on", "security"),
)

# Each: the step stands on the card of exactly those jobs of which all these hold.
EXACTLY = {
    "disc-fit": ("disc",),
    "disc-off": ("disc",),
    "gauge-fit": ("gauge",),
    "gauge-off": ("gauge",),
    "mark-named": ("marks",),
    "indicator-off": ("marks",),
    "engine-placed": ("twin",),
    "board-safe": ("safe elsewhere",),
    **dict.fromkeys(MADE_SAFE, ("not safe elsewhere",)),
    "radial-cleared": ("not opposed",),
    "no-contacts": ("not marks", "back forbidden"),
    **dict.fromkeys((*FIRST_PAIR, *CLOSING_PAIR, "stop-off"), ("not marks", "not back forbidden")),
    "stop-out": ("not marks", "not back forbidden"),
    "compression-again": ("not marks", "not back forbidden"),
    "disc-zero": ("zeroed", "not back forbidden"),
    "centre-by-feel": ("geared", "not back forbidden"),
    "snap-passed": ("impulse",),
    "back-short": ("impulse", "not back forbidden"),
    "coupling-by-data": ("impulse", "back forbidden"),
    "back-off": ("not impulse", "not back forbidden"),
    "forward-start": ("not impulse", "back forbidden"),
    "as-found-left": ("left", "not found elsewhere"),
    "as-left-left": ("left",),
    "setting-left": ("left",),
    "again-right": ("both", "not found elsewhere"),
    "as-found-right": ("right", "not found elsewhere"),
    "as-left-right": ("right",),
    "setting-right": ("right", "not one housing"),
    "setting-right-housing": ("one housing",),
    "turn-left": ("left", "not one housing"),
    "turn-right": ("right", "not one housing"),
    "turn-housing": ("one housing",),
    "tighten-left": ("left", "not one housing"),
    "tighten-right": ("right", "not one housing"),
    "tighten-housing": ("one housing",),
    "torque-set": ("torque", "left"),
    "torque-set-right": ("torque", "not left"),
    "synchronisation": ("both",),
    "plugs-in": ("not plugs elsewhere",),
    **dict.fromkeys(("leads-on", "leads-traced"), ("not leads elsewhere",)),
    **dict.fromkeys(("tools-counted", "starter-normal", "battery-normal", "fuel-normal"), ("not closed elsewhere",)),
    **dict.fromkeys(("run-up", "switch-check", "security"), ("not run-up elsewhere",)),
}
MUST_SEE = (
    "as-left-left",
    "as-left-right",
    "synchronisation",
    "off-proved",
    "ground-leads-tight",
    "off-proved-again",
    "leads-traced",
    "tools-counted",
)


WITHOUT_TABLE = {"confirm", "compression", "text", "reading"}


def _card(*steps: Step) -> TaskCard:
    return TaskCard("X1", 1, "A card", "The scheme.", "Everywhere.", steps)


def _swapped(card: TaskCard, first: str, second: str) -> TaskCard:
    by_id = {step.id: step for step in card.steps}
    swap = {first: by_id[second], second: by_id[first]}
    return replace(card, steps=tuple(swap.get(step.id, step) for step in card.steps))


def _jobs_out_of_order(orders: Iterable[list[str]], first: str, second: str) -> int:
    """Count the jobs that have both steps, the second before the first."""
    return sum(first in ids and second in ids and ids.index(first) > ids.index(second) for ids in orders)


def test_that_a_step_without_conditions_is_on_every_card() -> None:
    assert steps_for(_card(STEP), frozenset()) == (STEP,)


@pytest.mark.parametrize(
    ("only", "facts", "expected"),
    [
        (("disc",), {"disc"}, True),
        (("disc",), {"gauge"}, False),
        (("disc", "zeroed"), {"disc"}, False),
        (("disc", "zeroed"), {"disc", "zeroed", "left"}, True),
        (("not marks",), {"disc"}, True),
        (("not marks",), {"marks"}, False),
        (("left", "not one housing"), {"left", "one housing"}, False),
        (("left", "not one housing"), {"left"}, True),
    ],
)
def test_that_all_conditions_must_hold_and_not_asks_for_absence(
    only: tuple[str, ...], facts: set[str], expected: bool
) -> None:
    assert holds(only, frozenset(facts)) is expected
    assert (steps_for(_card(replace(STEP, only=only)), frozenset(facts)) != ()) is expected


def test_that_a_box_is_left_out_where_its_conditions_do_not_hold() -> None:
    geared = replace(NOTE, hazard="geared-only", only=("geared",))
    card = _card(replace(STEP, boxes=(NOTE, geared)))
    assert steps_for(card, frozenset())[0].boxes == (NOTE,)
    assert steps_for(card, frozenset({"geared"}))[0].boxes == (NOTE, geared)


def test_that_a_fact_that_no_card_knows_is_refused() -> None:
    with pytest.raises(ValueError, match="diesel"):
        steps_for(_card(STEP), frozenset({"disc", "diesel"}))


def test_that_a_description_holds_the_parts_of_its_job_in_their_order() -> None:
    parts = (Say("For the disc.", ("disc",)), Say("Always.", ()), Say("Not geared.", ("not geared",)))
    card = _card(replace(STEP, description="First.", says=parts))
    assert steps_for(card, frozenset({"disc"}))[0].description == "First. For the disc. Always. Not geared."
    assert steps_for(card, frozenset({"geared"}))[0].description == "First. Always."
    assert steps_for(_card(replace(STEP, says=parts[:1])), frozenset())[0].description == ""
    assert steps_for(card, frozenset())[0].says == ()


def test_that_only_facts_and_their_absence_are_conditions() -> None:
    assert all(is_known(name) and is_known(f"not {name}") for name, _ in FACTS)
    assert not any(is_known(text) for text in ("", "not", "not ", "diesel", "not not disc", "Disc", " disc"))


def test_that_each_fact_has_a_name_of_its_own_and_a_sentence() -> None:
    assert len({name for name, _ in FACTS}) == len(FACTS)
    assert all(sentence[0].isupper() and sentence.endswith(".") for _, sentence in FACTS)


def test_that_every_fact_decides_something_on_a_card() -> None:
    asked = {
        condition.removeprefix("not ")
        for card in CARDS.values()
        for step in card.steps
        for only in (step.only, *(box.only for box in step.boxes), *(say.only for say in step.says))
        for condition in only
    }
    assert asked == {name for name, _ in FACTS}


def test_that_what_other_cards_do_is_a_fact_of_its_own_kind() -> None:
    assert set(ELSEWHERE) < {name for name, _ in FACTS}
    assert len(ELSEWHERE) == 6


@pytest.mark.parametrize(("first", "second"), BEFORE)
def test_that_the_order_of_work_is_kept_on_every_job(first: str, second: str) -> None:
    assert any(first in ids and second in ids for ids in ORDERS.values())
    assert _jobs_out_of_order(ORDERS.values(), first, second) == 0


def test_that_a_card_with_two_steps_swapped_would_be_noticed() -> None:
    swapped = _swapped(CARD, "stop-out", "compression-again")
    orders = [ids_of(steps_for(swapped, facts)) for facts in VARIANTS]
    assert _jobs_out_of_order(orders, "stop-out", "compression-again") == sum(
        not facts & {"marks", "back forbidden"} for facts in VARIANTS
    )


@pytest.mark.parametrize("step_id", ids_of(CARD.steps))
def test_that_a_step_stands_on_the_cards_of_its_jobs_and_on_no_other(step_id: str) -> None:
    only = EXACTLY.get(step_id, ())
    assert all((step_id in ids) is holds(only, facts) for facts, ids in ORDERS.items())


def test_that_each_magneto_of_a_job_is_captured_as_found_set_and_left_exactly_once() -> None:
    for facts in VARIANTS:
        captures = [step.capture for step in job_steps(facts)]
        for side in ("left", "right"):
            expected = 1 if side in facts else 0
            found = 0 if "found elsewhere" in facts else expected
            taken = [captures.count(f"{when} {side}") for when in ("as found", "setting", "as left")]
            assert taken == [found, expected, expected]


def test_that_each_table_is_captured_at_most_once() -> None:
    for facts in VARIANTS:
        tables = [step.capture for step in job_steps(facts) if step.capture not in WITHOUT_TABLE]
        assert len(tables) == len(set(tables))
        with_stop = not facts & {"marks", "back forbidden"}
        assert ("stop pairs" in tables) is ("closing pair" in tables) is with_stop
        assert ("torque" in tables) is ("torque" in facts)
        assert [f"turn {side}" in tables for side in ("left", "right")] == [
            side in facts and "one housing" not in facts for side in ("left", "right")
        ]
        assert ("turn housing" in tables) is ("one housing" in facts)
        assert ("centre by feel" in tables) is ("geared" in facts and "back forbidden" not in facts)
        assert ("synchronisation" in tables) is ("both" in facts)
        assert ("leads" in tables) is ("leads elsewhere" not in facts)
        assert ({"run-up", "cut"} <= set(tables)) is ("run-up elsewhere" not in facts)
        assert "tool" in tables


def test_that_every_capture_of_the_vocabulary_is_used() -> None:
    assert {step.capture for card in CARDS.values() for step in card.steps} == set(CAPTURES)


def test_that_every_limit_but_those_of_the_run_up_has_a_reading() -> None:
    read = {step.limit for card in CARDS.values() for step in card.steps if step.capture == "reading"}
    assert read - {""} == set(LIMITS) - {"run-up drop", "run-up apart"}


def test_that_no_card_is_longer_than_a_mechanic_bears() -> None:
    lengths = [len(job_steps(facts)) for facts in READINGS]
    assert min(lengths) == 37
    assert max(lengths) == 59
    assert len(job_steps(FULL - {"torque", "run-up"})) == 57
    assert max(len(job_steps(facts, card_id)) for card_id in CARDS for facts in VARIANTS[::11]) <= 60


def test_that_a_card_is_shorter_where_other_cards_do_their_part() -> None:
    alone = frozenset(FULL | {"opposed"})
    assert len(job_steps(alone)) - len(job_steps(alone | frozenset(ELSEWHERE))) >= 20


def test_that_the_longest_card_is_long_by_steps_of_one_line() -> None:
    longest = max((job_steps(facts) for facts in VARIANTS), key=len)
    tables = [step for step in longest if step.capture not in {"confirm", "compression", "text", "tool"}]
    assert len(tables) <= 18


@pytest.mark.parametrize("step_id", MUST_SEE)
def test_that_the_inspector_sees_what_cannot_be_seen_later(step_id: str) -> None:
    assert {step.id for step in CARD.steps if step.inspector} == set(MUST_SEE)
    assert next(step for step in CARD.steps if step.id == step_id).initials


def test_that_whatever_holds_a_value_is_initialled() -> None:
    assert [step.id for step in CARD.steps if not step.initials and step.capture != "confirm"] == []
