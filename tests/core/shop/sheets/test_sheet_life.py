"""The life of a limits sheet: draft, finished, sent back or compared by a second person, revised."""

from dataclasses import replace
from datetime import date

import pytest

from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_life import (
    Difference,
    SheetLife,
    SheetMove,
    SheetState,
    begun,
    compare_troubles,
    compared,
    confirm_current,
    finish_troubles,
    finished,
    is_superseded,
    revised,
    sent_back,
    written,
)
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet
from desktop.core.shop.stamp import Stamp
from tests.core.shop.sheets.sheet_cases import FULL_ENGINE, FULL_MAGNETO, changed
from tests.core.shop.some_orders import NOW

FIRST, SECOND, THIRD = Stamp("AB", NOW), Stamp("CD", NOW), Stamp("EF", NOW)
DRAFT = begun(FULL_ENGINE, FIRST)
FINISHED = finished(DRAFT, FIRST)
ALL = tuple(name for name, _ in sheet_groups(FULL_ENGINE))
COMPARED = compared(FINISHED, SECOND, "")
REASON = "Nobody else works here."
DIFFERS = (Difference("limits.left_btdc", "22"),)


def test_that_a_sheet_goes_from_draft_to_compared_with_both_names() -> None:
    assert (DRAFT.state, DRAFT.written_by, DRAFT.kind) == (SheetState.DRAFT, ("AB",), SheetKind.ENGINE)
    assert finish_troubles(DRAFT) == ()
    assert FINISHED.sheet == replace(FULL_ENGINE, transcribed_by=FIRST)
    assert compare_troubles(FINISHED, SECOND, ALL, (), "", is_alone=False) == ()
    assert COMPARED.sheet == replace(FULL_ENGINE, transcribed_by=FIRST, compared_by=SECOND)
    assert [one.move for one in COMPARED.passages] == [SheetMove.BEGUN, SheetMove.FINISHED, SheetMove.COMPARED]
    assert begun(FULL_MAGNETO, FIRST).kind is SheetKind.MAGNETO


def test_that_a_new_sheet_takes_no_signature_and_no_revision_from_elsewhere() -> None:
    assert begun(replace(COMPARED.sheet, revision=7), THIRD).sheet == FULL_ENGINE


def test_that_a_transcription_with_faults_is_not_finished_and_names_them_all() -> None:
    life = written(DRAFT, changed(FULL_ENGINE, ("limits.left_btdc", "x"), ("turning.against", None)), FIRST)
    troubles = finish_troubles(life)
    assert [one.split(":")[0] for one in troubles] == ["limits.left_btdc", "turning.against"]
    assert finish_troubles(FINISHED) == (
        "Sheet marrow-six-g is for comparison, and its transcription is finished. Compare or revise it.",
    )


def test_that_numbers_are_signed_in_their_written_form() -> None:
    life = written(DRAFT, changed(FULL_ENGINE, ("limits.left_btdc", "22 1/2")), FIRST)
    assert finish_troubles(life) == ()
    assert finished(life, FIRST).sheet == changed(
        replace(FULL_ENGINE, transcribed_by=FIRST), ("limits.left_btdc", "22.5")
    )


@pytest.mark.parametrize("life", [FINISHED, COMPARED])
def test_that_only_a_draft_is_written_on(life: SheetLife) -> None:
    with pytest.raises(ValueError, match="draft"):
        written(life, FULL_ENGINE, FIRST)


def test_that_a_sheet_keeps_its_id_and_its_kind() -> None:
    for other in (replace(FULL_ENGINE, id="other"), replace(FULL_MAGNETO, id="marrow-six-g")):
        with pytest.raises(ValueError, match="keeps its id"):
            written(DRAFT, other, FIRST)


def test_that_nobody_who_typed_compares() -> None:
    typed = finished(written(DRAFT, FULL_ENGINE, SECOND), FIRST)
    again = written(DRAFT, FULL_ENGINE, FIRST)
    assert (typed.written_by, again.written_by) == (("AB", "CD"), ("AB",))
    for hand in (FIRST, SECOND):
        [said] = compare_troubles(typed, hand, ALL, (), REASON, is_alone=False)
        assert said == "Whoever transcribed a sheet does not compare it. Ask somebody else of the shop."
    assert compare_troubles(typed, THIRD, ALL, (), "", is_alone=False) == ()
    assert finished(written(DRAFT, FULL_ENGINE, SECOND), THIRD).written_by == ("AB", "CD", "EF")


def test_that_a_person_alone_rechecks_with_a_reason_that_is_kept() -> None:
    for reason in ("", " ", "alone"):
        [said] = compare_troubles(FINISHED, FIRST, ALL, (), reason, is_alone=True)
        assert "Write a sentence" in said
    assert compare_troubles(FINISHED, FIRST, ALL, (), REASON, is_alone=True) == ()
    life = compared(FINISHED, FIRST, f" {REASON} ")
    assert (life.sheet.recheck_reason, life.passages[-1].move, life.passages[-1].said) == (
        REASON, SheetMove.RECHECKED, (REASON,),
    )  # fmt: skip
    assert compared(FINISHED, SECOND, REASON).sheet.recheck_reason == ""
    typed_by_two = finished(written(DRAFT, FULL_ENGINE, SECOND), FIRST)
    assert compared(typed_by_two, SECOND, REASON).sheet.recheck_reason == REASON


def test_that_every_group_is_compared() -> None:
    for left_out in ALL:
        confirmed = [name for name in ALL if name != left_out]
        [said] = compare_troubles(FINISHED, SECOND, confirmed, (), "", is_alone=False)
        assert said == f"Not compared yet: {left_out}. Compare each group with the document."


@pytest.mark.parametrize(("life", "advice"), [(DRAFT, "Finish"), (COMPARED, "Revise")])
def test_that_only_a_finished_transcription_is_compared(life: SheetLife, advice: str) -> None:
    [said] = compare_troubles(life, THIRD, ALL, (), "", is_alone=False)
    assert advice in said


def test_that_what_differs_sends_the_sheet_back_and_stays_with_it() -> None:
    assert compare_troubles(FINISHED, SECOND, (), DIFFERS, "", is_alone=False) == ()
    back = sent_back(FINISHED, SECOND, DIFFERS)
    assert (back.state, back.sheet, back.written_by) == (SheetState.DRAFT, FULL_ENGINE, ("AB",))
    assert back.returned_for == ("limits.left_btdc: the document says 22",)
    mended = finished(back, FIRST)
    assert mended.returned_for == ()
    assert compare_troubles(mended, SECOND, ALL, (), "", is_alone=False) == ()
    assert [one.move for one in mended.passages][-2:] == [SheetMove.SENT_BACK, SheetMove.FINISHED]


def test_that_a_difference_names_a_field_and_what_the_document_says() -> None:
    for one, words in (
        (Difference("limits.nothing", "22"), "is no field"),
        (Difference("limits.left_btdc", " "), "not said"),
    ):
        [said] = compare_troubles(FINISHED, SECOND, ALL, (one,), "", is_alone=False)
        assert words in said
    assert compare_troubles(FINISHED, SECOND, ALL, (Difference("eligible", "three"),), "", is_alone=False) == ()


def test_that_a_correction_is_the_next_revision_and_the_old_one_stays() -> None:
    life = revised(COMPARED, SECOND)
    assert (life.sheet, life.written_by, life.state) == (
        replace(FULL_ENGINE, revision=2), ("CD",), SheetState.DRAFT,
    )  # fmt: skip
    assert life.returned_for == ()
    after = compared(finished(life, SECOND), FIRST, "")
    assert (after.sheet.revision, after.sheet.transcribed_by, after.sheet.compared_by) == (2, SECOND, FIRST)
    for other in (DRAFT, FINISHED):
        with pytest.raises(ValueError, match="compared"):
            revised(other, FIRST)


def test_that_a_document_is_confirmed_current_with_day_and_person_once_the_sheet_is_compared() -> None:
    day = date(2031, 3, 4)
    said = confirm_current(COMPARED.sheet, day, THIRD)
    assert (said.sheet, said.revision, said.day, said.by) == ("marrow-six-g", 1, day, THIRD)
    assert said.document == "Marrow Six G maintenance handbook MM-6G, revision 4, 2025-09-15"
    for life in (DRAFT, FINISHED):
        with pytest.raises(ValueError, match="compared before"):
            confirm_current(life.sheet, day, THIRD)


def test_that_a_revision_is_superseded_by_a_newer_one_of_the_same_sheet_only() -> None:
    pin = SheetPin("marrow-six", 1, "")
    assert is_superseded(pin, (pin, replace(pin, revision=2)))
    assert not is_superseded(pin, (pin, SheetPin("other", 2, "")))
    assert not is_superseded(replace(pin, revision=2), (pin,))


@pytest.mark.parametrize(
    "values",
    [
        {"revision": 0},
        {"compared_by": SECOND},
        {"recheck_reason": REASON},
        {"transcribed_by": FIRST, "recheck_reason": REASON},
        {"transcribed_by": FIRST, "compared_by": FIRST},
    ],
)
def test_that_a_sheet_whose_signatures_contradict_cannot_be_built(values: dict[str, object]) -> None:
    for form in (EngineSheet, MagnetoSheet):
        with pytest.raises(ValueError, match=r"\w+ \w+"):
            form("x", **values)  # type: ignore[arg-type]  # that is the point


@pytest.mark.parametrize(
    "values",
    [
        {"version": 0},
        {"engine": None},
        {"magneto": FULL_MAGNETO},
        {"state": SheetState.COMPARED},
        {"state": SheetState.FOR_COMPARISON},
        {"engine": FINISHED.engine},
        {"engine": COMPARED.engine, "state": SheetState.FOR_COMPARISON},
    ],
)
def test_that_a_sheet_in_a_state_that_it_is_not_in_cannot_be_built(values: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"\w+ \w+"):
        replace(DRAFT, **values)  # type: ignore[arg-type]  # that is the point
