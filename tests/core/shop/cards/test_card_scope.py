"""A card hears of the findings that concern what it takes."""

from dataclasses import replace

import pytest

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import in_scope, takes_readings, takes_timing
from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.hands import doers
from desktop.core.shop.orders.order_card import OrderCard, ReadingTaken, StepDone
from desktop.core.shop.reasons import is_reason
from desktop.core.shop.sheets.electronic import electronic_word
from desktop.core.shop.sheets.sheet_set import SheetSet
from tests.core.shop.some_orders import BY, EMPTY, LATER, TASK, card

FINDINGS = tuple(
    SaidFinding(rule, Severity.STOPS, where, f"{rule}.", "Source.")
    for rule, where in (
        ("not-measured", "stop"),
        ("not-measured", "left.approach"),
        ("retarded", "left.approach[1].light"),
        ("as-found-out", "left.approach[1].light"),
        ("drop-outside", "run_up.left_rpm"),
        ("no-drop", "run_up.left_rpm"),
    )
)


def task_of(*captures: str) -> TaskCard:
    steps = tuple(Step(f"s-{n}", (), (), "Do it.", "", one, False, False) for n, one in enumerate(captures))
    return replace(TASK, steps=steps)


@pytest.mark.parametrize(
    ("captures", "heard"),
    [
        (("confirm",), {}),
        (("stop pairs",), {"stop": ["not-measured"], "left.approach[1].light": ["as-found-out"]}),
        (("as found left",), {"stop": ["not-measured"], "left.approach[1].light": ["as-found-out"]}),
        (
            ("as left left",),
            {
                "stop": ["not-measured"],
                "left.approach": ["not-measured"],
                "left.approach[1].light": ["retarded", "as-found-out"],
            },
        ),
        (("run-up",), {"run_up.left_rpm": ["drop-outside", "no-drop"]}),
        (("run-up as found",), {"run_up.left_rpm": ["drop-outside", "no-drop"]}),
    ],
)
def test_that_a_card_hears_what_concerns_its_captures(captures: tuple[str, ...], heard: dict[str, list[str]]) -> None:
    found: dict[str, list[str]] = {}
    for finding in in_scope(task_of(*captures), FINDINGS):
        found.setdefault(finding.where, []).append(finding.rule)
    assert found == heard


def test_that_drops_as_found_are_noted_and_a_magneto_that_does_not_cut_stops() -> None:
    scoped = {one.rule: one.severity for one in in_scope(task_of("run-up as found"), FINDINGS)}
    assert scoped == {"drop-outside": Severity.NOTE, "no-drop": Severity.STOPS}


def test_that_a_card_is_known_by_what_it_takes() -> None:
    assert takes_timing(task_of("synchronisation"))
    assert not takes_timing(task_of("run-up"))
    assert takes_readings(task_of("run-up as found"))
    assert not takes_readings(task_of("confirm", "reading"))


def test_that_a_check_by_a_second_person_is_no_work() -> None:
    steps = (*TASK.steps[:2], replace(TASK.steps[2], second=True))
    done = (StepDone("first", BY), StepDone("third", LATER))
    one: OrderCard = replace(card(), task=replace(TASK, steps=steps), steps=done)
    assert doers(one) == {"AB"}
    assert doers(replace(one, taken=(ReadingTaken("stop[1].with", LATER),))) == {"AB", "CD"}
    assert doers(replace(one, earlier=(StepDone("second", LATER),))) == {"AB", "CD"}


@pytest.mark.parametrize(
    ("text", "is_one"),
    [
        ("The lamp flickered.", True),
        ("n/a", False),
        ("a b c", False),
        ("- - - - - - - -", False),
        ("No starter fitted", True),
        ("yes, it was", False),
    ],
)
def test_that_a_reason_is_a_sentence(text: str, is_one: bool) -> None:
    assert is_reason(text) is is_one


def test_that_electronic_ignition_is_known_by_its_names() -> None:
    assert electronic_word("Type 3 Electronic Ignition") == "Electronic Ignition"
    assert electronic_word("a solid-state box") == "solid-state"
    assert electronic_word("T2-L") == ""


def test_that_an_order_has_no_sheets_before_a_card_has() -> None:
    assert SheetSet().sheets == ()
    assert SheetSet().limit_for("plug gap", "") is None
    assert EMPTY.left_out == ()
