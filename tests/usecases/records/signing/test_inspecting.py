"""What the inspector reads: everything in reading order, marked where it stands out, and what is new."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.entry.entry_parts import EntryKind
from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.inspect_card import CardRead, Mark, read_card_through
from desktop.usecases.records.signing.look_at_entry import look_at_entry
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import ActingFloor

SUBMIT, RETURN = RecordKind.CARD_SUBMITTED, RecordKind.CARD_RETURNED


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[ActingFloor]:
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        yield ActingFloor(file, None).staffed().filled()


def read(floor: ActingFloor) -> CardRead:
    return read_card_through(floor.shop, floor.file, 1, 1)


def marked(floor: ActingFloor) -> dict[str, tuple[Mark, ...]]:
    return {f"{section.title}: {row.label}": row.marks for section in read(floor).sections for row in section.rows}


def test_that_an_attempt_outside_and_one_taken_again_are_marked(floor: ActingFloor) -> None:
    marks = marked(floor)
    reading = "Readings as typed: {} magneto, approach {}, light (degrees as marked)"
    assert marks[reading.format("Right", 1)] == (Mark.OUTSIDE,)
    assert marks[reading.format("Left", 1)] == ()
    assert marks[reading.format("Left", 3)] == (Mark.REPEATED,)
    assert marks["Worked out for the right magneto: Approach 1, as found"] == (Mark.OUTSIDE,)
    assert any(row.marks == (Mark.OUTSIDE,) for row in read(floor).standing_out)


def test_that_a_finding_that_stops_marks_its_row_and_its_reading(floor: ActingFloor) -> None:
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].light", "330"))
    marks = marked(floor)
    assert marks["Findings: Finding 1"] == (Mark.OUTSIDE,)
    assert Mark.OUTSIDE in marks["Readings as typed: Left magneto, approach 3, light (degrees as marked)"]
    assert read(floor).stops


def test_that_a_reason_that_is_needed_is_marked_until_it_is_given(floor: ActingFloor) -> None:
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("stop[2].with", None), ("stop[2].against", None))
    order = floor.order()
    look = look_at_card(floor.shop, floor.file, order, order.cards[0], floor.clock.now().date())
    finding = look.unexplained[0]
    number = look.findings.index(finding) + 1
    assert marked(floor)[f"Findings: Finding {number}"] == (Mark.REASON,)
    key = finding_key(finding.rule, finding.where)
    write_remark(floor.shop, floor.on("MECH"), 1, 1, "The disc was checked at the flange mark.", about=key)
    assert marked(floor)[f"Findings: Finding {number}"] == (Mark.EXPLAINED,)


def test_that_a_step_that_was_confirmed_anew_is_marked_where_it_stands_and_before(floor: ActingFloor) -> None:
    step = floor.order().cards[0].steps[0].step
    confirm_step(floor.shop, floor.on("MECH"), 1, 1, step, text="as the data say, read anew")
    marks = marked(floor)
    assert Mark.REPEATED in marks["Step 1: Written"]
    assert Mark.REPEATED in marks["Step 1: Confirmed by"]
    assert marks["Confirmed earlier, and taken again: Step"] == (Mark.REPEATED,)


def test_that_a_card_that_cannot_be_read_still_shows_what_was_typed(floor: ActingFloor) -> None:
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("engine.cylinders", "four"))
    seen = read(floor)
    rows = {row.label: row.text for section in seen.sections for row in section.rows}
    assert rows["Engine, cylinders"] == "four"
    assert not any(section.title.startswith("Worked out") for section in seen.sections)


def test_that_what_is_new_since_the_last_return_is_said(floor: ActingFloor) -> None:
    assert (read(floor).returned, read(floor).changed) == (None, ())
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", RETURN, "Read the left magneto once more.")
    assert read(floor).changed == ()
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].back", "336.25"))
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=True)
    floor.act("MECH", SUBMIT)
    seen = read(floor)
    assert seen.returned is not None
    assert seen.returned.reason == "Read the left magneto once more."
    assert seen.changed == ('left magneto, approach 3, back: new: "336.25"',)


def test_that_there_is_nothing_to_read_of_a_card_that_is_not_there(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match="Order 1 has no card 2"):
        read_card_through(floor.shop, floor.file, 1, 2)
    with pytest.raises(Refusal, match="Order 9 has no card 1"):
        read_card_through(floor.shop, floor.file, 9, 1)


def test_that_the_entry_is_looked_at_though_it_is_not_whole(floor: ActingFloor) -> None:
    look = look_at_entry(floor.shop, "KEEP", Act(RecordKind.APPROVED, 1, entry_kind=EntryKind.INSPECTION))
    assert any("certifying statement for airworthy" in words for words in look.missing)
    assert any("number of the approver's certificate" in words for words in look.missing)
    assert look.sections[0].title == "Maintenance entry"
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    stopped = look_at_entry(floor.shop, "ROLF", Act(RecordKind.APPROVED, 1))
    assert [one.rule for one in stopped.stopping] == ["safe-state-not-normal"]


def test_that_an_order_not_approved_carries_its_list_and_the_approvers_wording(floor: ActingFloor) -> None:
    act = Act(RecordKind.NOT_APPROVED, 1, reason="The left clamp is cracked.")
    look = look_at_entry(floor.shop, "ROLF", act)
    assert look.stopping == ()
    assert look.entry.facts.discrepancies is not None
    assert look.entry.facts.discrepancies.entries[0].text == "The left clamp is cracked."
    wording = look.entry.wording
    reworded = look_at_entry(
        floor.shop, "ROLF", Act(RecordKind.APPROVED, 1, wording=replace(wording, work="Both magnetos were overhauled."))
    )
    assert 'The wording says "overhaul"' in reworded.warnings[0]


def test_that_the_entry_of_nobody_is_refused(floor: ActingFloor) -> None:
    with pytest.raises(Refusal, match='"XX" is not on the roster'):
        look_at_entry(floor.shop, "XX", Act(RecordKind.APPROVED, 1))
