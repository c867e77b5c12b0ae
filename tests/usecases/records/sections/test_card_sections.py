"""A card as sections: the law that everything on it is said, its controls, and the words of single parts."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.records.record import Row, Section, text_trouble
from desktop.core.shop.cards.task_card import CAPTURES
from desktop.core.shop.orders.order_card import OrderCard, Remark, StepDone
from desktop.core.shop.orders.safe_state import is_board
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedTorque
from desktop.files.cards import builtin_cards
from desktop.files.readings import read_readings
from desktop.usecases.fill_card import look_at
from desktop.usecases.records.sections.card_readings import UNITS, typed_paths, unit_of
from desktop.usecases.records.sections.card_sections import card_sections
from desktop.usecases.records.sections.card_steps import capture_words, step_name
from tests.door import RULEBOOK
from tests.toml_card import changed, geared_card, marks_card, sound_card, standing_card, text_of
from tests.usecases.records.sections.whole_card import BOARD, CARD, FINDINGS, STEPS, by, said
from tests.usecases.records.walked import leaves, others, unsaid, words_for

SECTIONS = card_sections(said())
NOT_SHOWN = ("task.steps.5.boxes", "task.steps.5.description", "task.steps.5.capture")
"""Of the one step that does not apply, only its name and instruction are said."""
IN_OTHER_WORDS = ("taken.1.path", "taken.2.path", "severity")
"""The place of a reading that stands, and how hard a finding is, are said in words that other tests hold."""


def section(title: str, sections: tuple[Section, ...] = SECTIONS) -> dict[str, str]:
    """Return the rows of a section by label; a label that stands twice keeps both texts."""
    found: dict[str, str] = {}
    for row in next(one for one in sections if one.title == title).rows:
        found[row.label] = f"{found[row.label]} | {row.text}" if row.label in found else row.text
    return found


def _unsaid(sections: tuple[Section, ...]) -> list[str]:
    places = [*unsaid(CARD, sections), *unsaid((BOARD, FINDINGS), sections)]
    return [place for place in places if not place.endswith(IN_OTHER_WORDS) and not place.startswith(NOT_SHOWN)]


def test_that_every_text_number_and_time_of_a_card_stands_in_its_sections() -> None:
    assert _unsaid(SECTIONS) == []


def test_that_the_walk_reaches_every_value_that_can_stand_on_a_card() -> None:
    places = {place[0] for place, leaf in leaves(CARD) if words_for(leaf)}
    assert places == set(OrderCard.__dataclass_fields__)
    assert len(list(leaves(CARD))) > 150


@pytest.mark.parametrize(
    "title",
    [
        "Card",
        "Step 1",
        "Step 2",
        "Step 3",
        "Step 4",
        "Confirmed earlier, and taken again",
        "Not part of this job",
        "Readings as typed",
        "Findings",
        "Remarks",
        "Safe-state board",
    ],
)
def test_that_a_section_left_out_is_noticed(title: str) -> None:
    assert title in {one.title for one in SECTIONS}
    assert _unsaid(tuple(one for one in SECTIONS if one.title != title))


def test_that_a_row_left_out_of_the_readings_is_noticed() -> None:
    typed = next(one for one in SECTIONS if one.title == "Readings as typed")
    row = next(row for row in typed.rows if row.text == "160.3")
    shorter = Section(typed.title, tuple(one for one in typed.rows if one is not row))
    assert _unsaid((shorter, *(one for one in SECTIONS if one is not typed))) == ["readings.engine.rod_mm"]


def test_that_a_change_of_any_one_value_changes_the_sections() -> None:
    unchanged = {".".join(place) for place, other in others(CARD) if card_sections(said(other)) == SECTIONS}
    # what the step that does not apply asks for, and the boxes before it, were not shown either
    assert {place for place in unchanged if not place.startswith("task.steps.5.")} == set()
    assert not unchanged & {"task.steps.5.id", "task.steps.5.instruction"}
    assert "task.steps.5.description" in unchanged


def test_that_another_board_and_another_finding_change_the_sections() -> None:
    for _, findings in others(FINDINGS):
        assert card_sections(said(findings=findings)) != SECTIONS
    boards = [board for _, board in others(BOARD) if is_board(board)]
    assert len(boards) > len(BOARD)
    for board in boards:
        assert card_sections(replace(said(), order=replace(said().order, board=board))) != SECTIONS


def test_that_the_boxes_stand_before_the_instruction_with_their_signal_words() -> None:
    rows = next(one for one in SECTIONS if one.title == "Step 1").rows
    assert [(row.label, row.text) for row in rows[:4]] == [
        ("WARNING", "Live propeller. Stay out of its arc. A blade that kicks can kill."),
        ("CAUTION", "Bent cam. Do not pry. The cam bends."),
        ("NOTE", "Good light. A lamp helps."),
        ("Instruction", "Measure the contact gap."),
    ]


def test_that_a_step_says_what_it_asks_for_its_limit_who_did_it_when_and_with_what() -> None:
    step = section("Step 1")
    assert step["Asks for"] == (
        "initials; the inspector, before it is covered; somebody other than at the step before; "
        "may be left out with a reason"
    )
    assert (step["Unit"], step["Limit"], step["Written"]) == ("in", "0.016 to 0.020 in", "0.018")
    assert step["Written, continued"] == "measured twice"
    assert step["Confirmed by"] == "Mel Chan (MC), 4 Mar 2031 09:21:07 +02:00"
    assert step["Tool"] == "F-2 | W-3, torque wrench, serial WS-55, calibrated, until 31 Dec 2031"


def test_that_a_step_says_what_is_written_and_its_name_in_words() -> None:
    step = section("Step 1")
    assert (step["Name of the step"], step["What is written"]) == ("gap set", "a reading")
    assert capture_words("as found left") == "timing as found, left magneto"
    assert capture_words("setting right") == "timing setting, right magneto"
    assert capture_words("anything else") == "anything else"


def test_that_every_capture_of_the_cards_has_words_of_its_own() -> None:
    said = [capture_words(one) for one in CAPTURES]
    assert len(set(said)) == len(said)
    assert "confirm" not in said
    # No two steps of a card become one by their names.
    for card in builtin_cards():
        assert len({step_name(step.id) for step in card.steps}) == len({step.id for step in card.steps})


def test_that_a_step_left_out_one_not_confirmed_and_one_that_asks_for_nothing_are_said_apart() -> None:
    assert section("Step 2")["Reason for leaving it out"] == "no tools were out"
    assert section("Step 2")["Left out by"].startswith("Mel Chan (MC)")
    assert section("Step 3")["Confirmed"] == "no"
    assert section("Step 4")["Confirmed"] == "no, and no initials are asked for"


def test_that_what_was_taken_again_and_what_does_not_apply_are_said_with_their_steps() -> None:
    assert section("Confirmed earlier, and taken again")["Step"] == "1, gap set | never there"
    odd = section("Not part of this job")
    assert odd["Step"] == "gone step"
    assert odd["Step that does not apply"] == "gear. Turn the propeller twice."


def test_that_a_card_on_which_every_step_applies_has_no_such_sections() -> None:
    plain = replace(CARD, task=replace(CARD.task, steps=STEPS[:1]), steps=(), earlier=())
    titles = {one.title for one in card_sections(said(plain))}
    assert not titles & {"Confirmed earlier, and taken again", "Not part of this job"}


def test_that_each_value_stands_as_typed_with_its_unit_its_taker_and_its_tool() -> None:
    typed = section("Readings as typed")
    assert typed["Left magneto, approach 2, light (degrees as marked)"] == "337.5"
    assert typed["Left magneto, approach 2, light, taken by"] == (
        "Hal Elpman (HE), under Mel Chan (MC), 4 Mar 2031 09:11:07 +02:00"
    )
    assert typed["Left magneto, approach 2, light, tool"] == "L-1, timing light, check before use"
    assert typed["Left magneto, approach 1, click passed"] == "yes"
    assert typed["Engine, firing order"] == "1-4-5-2-3-6"
    assert typed["Taken where no value stands any more"] == "right.approach[9].light"
    assert typed["That value, tool"] == "L-9"


def test_that_each_typed_number_has_a_unit_or_is_a_count_or_a_word() -> None:
    without = {path for path in typed_paths(CARD.readings) if not unit_of(path)}
    assert {path.rsplit(".", 1)[-1] for path in without} == {
        "format", "cylinders", "firing_order", "reference", "rotation", "propeller_turns_per_crank_turn",
        "propeller_rotation", "decision", "by", "marking", "counts", "on", "zeroed", "after_zeroing", "one_housing",
        "poles", "seen_from", "drive_gear_teeth", "impulse_lag_in", "when", "click_passed", "what", "unit",
    }  # fmt: skip
    both = {path.replace("right.", "left.", 1) for path in typed_paths(CARD.readings)}
    assert len({unit_of(path) for path in both}) == len(set(UNITS.values())) + 1


def test_that_a_finding_stands_with_its_weight_its_rule_its_source_and_its_reason() -> None:
    found = section("Findings")
    assert found["Finding 1"] == "Stops. The gap is outside."
    assert found["Finding 2"] == "Reason needed. It clears the play by little."
    assert found["Finding 2, rule"] == "under-twice at left.approach[2]"
    assert found["Finding 2, source"] == "Practice 12."
    assert found["Finding 2, reason given"] == "The play is that of an old gear."
    assert found["Finding 3"] == "Note. Sure enough."


def test_that_none_is_said_where_there_are_no_findings_and_no_remarks() -> None:
    bare = card_sections(said(replace(CARD, remarks=()), findings=()))
    assert section("Findings", bare) == {"Findings": "none"}
    assert section("Remarks", bare) == {"Remarks": "none"}


def test_that_the_board_says_how_each_thing_stood_at_the_signing_and_who_set_it() -> None:
    board = section("Safe-state board")
    assert board["Plug leads"] == "off (not normal)"
    assert board["Plug leads, set by"] == "Mel Chan (MC), 4 Mar 2031 06:02:00 +00:00"
    assert board["Switch"] == "OFF"


def test_that_the_head_names_the_sheets_with_their_revisions_and_who_confirmed_the_documents() -> None:
    head = section("Card")
    assert head["Limits sheet"] == "ES-5, revision 4 | MS-6, revision 2"
    assert head["Its text, SHA-256"].startswith("ab" * 32)
    assert head["Documents confirmed by"] == "DE, 4 Mar 2031 09:02:07 +02:00"
    assert head["What the sheet is"] == "Fourbanger 360: sheet ES-5, revision 4"
    assert "Documents confirmed by" not in section("Card", card_sections(said(replace(CARD, data_confirmed=None))))


def _worked(readings: TypedCard) -> tuple[Section, ...]:
    return card_sections(said(replace(CARD, readings=readings, task=replace(CARD.task, steps=STEPS[:4]))))


def _read(card: dict[str, object]) -> TypedCard:
    return read_readings(text_of(card).encode())


SOUND_SECTIONS = _worked(read_readings(text_of(sound_card()).encode()))


def test_that_each_attempt_is_said_with_what_it_gave_and_its_limits() -> None:
    # 360 - 338 = 22 before TDC on a disc set to zero; 338 - 310 = 28 with rotation; 338 - 336 = 2 of play
    left = section("Worked out for the left magneto", SOUND_SECTIONS)
    assert left["Approach 1, as left"] == (
        "28°, with rotation; light at 22° BTDC, on nominal; limits 21° BTDC to 23° BTDC, nominal 22° BTDC; "
        "backlash 2°; came up as it must"
    )
    assert left["As left"] == "Within: 22° BTDC"
    assert left["As left, in full"].startswith("On nominal; limits 21° to 23° BTDC. Uncertainty ± ")
    assert left["Readings as left that count"] == "2"
    assert left["Backlash"] == "2°"
    assert left["Housing"] == "It stands on nominal: do not turn the housing."
    assert "right-hand" in left["Data"]


def test_that_an_attempt_that_does_not_count_says_why_and_what_was_found_stands_apart() -> None:
    base = sound_card()
    changes = {
        "left.approach[1].when": "as found",
        "left.approach[2].from": "345",
        "left.approach[3]": {"when": "setting", "from": "309", "light": "338"},
    }
    left = section("Worked out for the left magneto", _worked(_read(changed(base, changes))))
    assert left["As found"] == "22° BTDC, on nominal; within"
    assert left["As found, in full"].startswith("On nominal")
    assert "does not count: it did not come with rotation" in left["Approach 2, as left"]
    assert left["As left"] == "Not established"
    assert left["Set again after it"] == "approach 3"
    void = section(
        "Worked out for the left magneto",
        _worked(_read(changed(base, {"left.approach[1].when": "as found", "left.approach[1].from": "345"}))),
    )
    assert void["As found"] == "not established"
    assert "As found, in full" not in void


def test_that_the_engine_part_holds_tdc_synchronisation_run_up_and_torque() -> None:
    engine = section("Worked out for the engine")
    assert engine["Stop contacts, pair 1"] == "short arc 78°, middle at 39"
    assert engine["Stop contacts, pair 2, off"] == "0°, at most 0.75° allowed"
    assert engine["TDC"] == "reads 39 as the disc stood at the stop contacts"
    assert engine["Synchronisation"] == "1° apart, the left magneto earlier; at most 1° allowed."
    assert engine["Run-up"].startswith("1700 rpm on both; on left 1620 rpm, drop 80;")
    assert engine["Torque 1"].startswith("magneto flange nut; set ")
    assert engine["Torque 1"].endswith("in-lb on the wrench for 300 in-lb at the nut")


def test_that_marks_a_geared_propeller_and_contacts_that_give_nothing_are_said() -> None:
    marks = section("Worked out for the engine", _worked(_read(marks_card())))
    assert set(marks) == {"Measured by"}
    geared = section("Worked out for the engine", _worked(_read(geared_card())))
    assert geared["Top by feel"].endswith("of the disc from the middle of the contacts")
    odd = _worked(_read(changed(standing_card(), {"stop": [{"with": "0", "against": "180"}]})))
    engine = section("Worked out for the engine", odd)
    assert engine["Stop contacts, pair 1"] == "short arc 180°, middle at 90; it gives no TDC"
    assert "TDC" not in engine
    attempt = section("Worked out for the left magneto", odd)["Approach 1, as left"]
    assert "light at" not in attempt
    assert "TDC is not known" in attempt


def test_that_a_card_whose_readings_cannot_be_read_says_them_all_the_same_and_why() -> None:
    steps = (*STEPS[:1], replace(STEPS[1], capture="as left left"))
    broken = replace(CARD, readings=TypedCard(format=1), task=replace(CARD.task, steps=steps))
    sections = card_sections(said(broken))
    assert not any(one.title.startswith("Worked out") for one in sections)
    assert "engine, expected a table [engine]" in section("Values that cannot be read", sections)["Cannot be read"]


def test_that_a_card_that_takes_no_readings_has_no_values_that_cannot_be_read() -> None:
    sections = card_sections(said(replace(CARD, readings=TypedCard(format=1))))
    assert "Values that cannot be read" not in {one.title for one in sections}


@given(st.text(max_size=30), st.text(max_size=30))
def test_that_no_text_that_people_type_raises_and_each_is_said_in_visible_signs(one: str, other: str) -> None:
    readings = replace(
        CARD.readings,
        left=replace(CARD.readings.left, approach=(TypedApproach(one, other, one),)) if CARD.readings.left else None,
        torque=(TypedTorque(one, "300", "in-lb", "10", "4"),),
    )
    card = replace(
        CARD,
        readings=readings,
        remarks=(Remark(one, by("MC", 5), other),),
        steps=(StepDone("gap-set", by("MC", 6), other, (one,)),),
    )
    sections = card_sections(said(card))
    for row in (row for found in sections for row in found.rows):
        assert text_trouble(row.text) is None
        assert text_trouble(row.label) is None
    assert unsaid((one if one.strip() else "", other if other.strip() else ""), sections) == []


def test_that_no_section_is_empty_and_no_label_raises() -> None:
    assert all(one.rows for one in SECTIONS)
    assert all(isinstance(row, Row) for one in SECTIONS for row in one.rows)
    assert look_at(CARD.readings, RULEBOOK).is_whole
