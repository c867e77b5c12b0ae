"""The boxes for the pencil of what a step captures beside the readings of the timing."""

from dataclasses import replace

import pytest

from desktop.core.shop.cards.task_card import CAPTURES, Step, steps_for
from desktop.core.shop.orders.card_facts import facts_of
from desktop.files.cards import builtin_cards
from desktop.files.readings import read_readings
from desktop.usecases.check_readings import check_readings
from desktop.usecases.papers.cards.capture import Capture
from desktop.usecases.papers.cards.captures import PART_ROWS, capture_blocks
from desktop.usecases.papers.cards.task_card import CardPrint, task_card_paper
from desktop.usecases.papers.heading import CardHeading
from reports.document import Block, Facts, ReadingRow, ReadingTable, Table
from reports.document import Step as PaperStep
from tests.door import RULEBOOK
from tests.toml_card import changed, sound_card, text_of

STEP = Step("one", (), (), "Do it.", "", "confirm", initials=True, inspector=False)
WITH_RUN_UP = changed(
    sound_card(),
    {"run_up": {"both_rpm": "1700", "left_rpm": "1620", "right_rpm": "1610", "drop_most": "150", "apart_most": "50"}},
)
WITHOUT = sound_card()


def _blocks(step: Step, card: dict[str, object] | None = None, *, blank: bool = False) -> tuple[Block, ...]:
    checked = check_readings(read_readings(text_of(card or WITHOUT).encode()), RULEBOOK)
    return capture_blocks(step, Capture("7", checked.worked, blank))


def _row(step: Step) -> ReadingRow:
    table = _blocks(step)[0]
    assert isinstance(table, ReadingTable)
    assert len(table.rows) == 1
    return table.rows[0]


def test_that_a_choice_prints_its_answers_as_boxes_to_tick() -> None:
    row = _row(replace(STEP, capture="choice", choices=("good", "replaced", "outside the data")))
    assert (row.number, row.reading, row.choices) == ("7.1", "", ("good", "replaced", "outside the data"))


@pytest.mark.parametrize(
    ("step", "what", "unit"),
    [
        (replace(STEP, capture="reading", unit="°", limit="e-gap", side="left"), "E-gap, left magneto", "°"),
        (replace(STEP, capture="reading", limit="plug gap"), "Plug gap, with its unit", ""),
        (replace(STEP, capture="reading", unit="rpm"), "Reading", "rpm"),
        (
            replace(STEP, capture="reading", limit="contact gap", side="right"),
            "Contact gap, right magneto, with its unit",
            "",
        ),
    ],
)
def test_that_a_reading_prints_a_box_with_its_limit_side_and_unit(step: Step, what: str, unit: str) -> None:
    row = _row(step)
    assert (row.what, row.unit, row.reading) == (what, unit, "")


def test_that_parts_have_lines_with_their_papers() -> None:
    table = _blocks(replace(STEP, capture="part"))[0]
    assert isinstance(table, Table)
    headings = [column.heading for column in table.columns]
    assert headings == ["off or on", "part number", "serial or batch", "quantity", "paper"]
    assert table.rows == ((None,) * 5,) * PART_ROWS


def test_that_a_text_has_a_line_to_write_on() -> None:
    facts = _blocks(replace(STEP, capture="text"))[0]
    assert isinstance(facts, Facts)
    assert [(fact.value, fact.span) for fact in facts.items] == [(None, 4)]


@pytest.mark.parametrize("capture", ["run-up as found", "run-up"])
def test_that_a_run_up_that_was_not_taken_has_boxes_and_room_for_the_limits(capture: str) -> None:
    table = _blocks(replace(STEP, capture=capture))[0]
    assert isinstance(table, ReadingTable)
    assert [row.what for row in table.rows] == [
        "Switch at BOTH",
        "Switch at L",
        "Switch at R",
        "Difference of the drops",
    ]
    assert "drop at most ______ rpm" in {row.worked_out for row in table.rows}


def test_that_the_run_up_as_found_never_shows_the_one_as_left_but_its_limits() -> None:
    table = _blocks(replace(STEP, capture="run-up as found"), WITH_RUN_UP)[0]
    assert isinstance(table, ReadingTable)
    assert {row.reading for row in table.rows} == {""}
    assert {row.worked_out for row in table.rows} == {"", "drop at most 150 rpm", "apart at most 50 rpm"}
    left = _blocks(replace(STEP, capture="run-up"), WITH_RUN_UP)[0]
    assert isinstance(left, ReadingTable)
    assert {row.reading for row in left.rows} >= {"1700", "1620", "1610"}


def test_that_every_capture_of_the_vocabulary_prints() -> None:
    nothing = {"confirm", "compression", "tool"}
    for capture in CAPTURES:
        step = replace(STEP, capture=capture, choices=("a", "b") if capture == "choice" else ())
        if capture == "torque":
            continue
        assert bool(_blocks(step, WITH_RUN_UP)) is (capture not in nothing), capture


def test_that_a_step_of_a_second_person_says_so_in_its_box() -> None:
    card = next(card for card in builtin_cards() if card.id == "H1")
    checked = check_readings(read_readings(text_of(WITHOUT).encode()), RULEBOOK)
    document = task_card_paper(checked, CardPrint(card, CardHeading(), blank=True, printed="now"))
    steps = {block.instruction: block for block in document.blocks if isinstance(block, PaperStep)}
    labels = [box.label for box in steps["Trace each lead from its tower to its plug."].initials]
    assert labels == ["second person", "inspector"]
    assert [box.label for box in steps["Fit the leads by the table."].initials] == ["mechanic"]


@pytest.mark.parametrize("card_id", [card.id for card in builtin_cards()])
def test_that_every_shipped_card_prints_with_all_its_steps(card_id: str) -> None:
    card = next(card for card in builtin_cards() if card.id == card_id)
    checked = check_readings(read_readings(text_of(WITH_RUN_UP).encode()), RULEBOOK)
    document = task_card_paper(checked, CardPrint(card, CardHeading(), blank=True, printed="now"))
    printed = [block.instruction for block in document.blocks if isinstance(block, PaperStep)]
    assert printed == [step.instruction for step in steps_for(card, facts_of(checked.worked.card))]
