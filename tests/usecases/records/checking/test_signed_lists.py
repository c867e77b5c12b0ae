"""Limits sheets and tools are signed in the step that keeps them, or neither happens."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from desktop import shop_assembly
from desktop.core.errors import NotReady, Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.people.people import Right
from desktop.core.shop.sheets.sheet_life import Difference, SheetState
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.tools import Care, Lamp, Tool
from desktop.files.sheets import demo_sheets
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.signing.sign_lists import sheet_sections, sign_comparison, sign_tool, sign_transcription
from desktop.usecases.shop.lists.sheets import compare_sheet, import_sheet, see_sheet
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import PEOPLE, PHRASES, ActingFloor

SHEET = next(sheet for sheet in demo_sheets() if sheet.id == "ostrin-t2")
GROUPS = tuple(name for name, _ in sheet_groups(SHEET))
TOOL = Tool("L-7", "timing light", Care.CALIBRATED, date(2032, 1, 31), "S-1", Lamp.ON)


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[ActingFloor]:
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        yield ActingFloor(file, tmp_path / "state").staffed()


def test_that_a_sheet_is_signed_by_who_transcribes_and_by_who_compares(floor: ActingFloor) -> None:
    import_sheet(floor.shop, floor.by("KEEP"), SHEET)
    sign_transcription(floor.desk, floor.by("KEEP", 1), SHEET.id, PHRASES["KEEP"])
    sign_comparison(floor.desk, floor.by("MECH", 2), SHEET.id, GROUPS, PHRASES["MECH"])
    assert see_sheet(floor.file, SHEET.id).state is SheetState.COMPARED
    records = [read_record(one.content) for one in floor.file.envelopes() if one.kind == RecordKind.LIMITS_SHEET.value]
    assert [record.signer.person for record in records] == ["KEEP", "MECH"]
    assert records[0].signer.meaning != records[1].signer.meaning
    values = {row.label: row.text for section in records[1].sections for row in section.rows}
    assert values["magneto.poles"] == "2"
    assert values["Compared by"] == "MECH"
    assert "Transcribed by" in values
    assert shop_assembly.check_shop(floor.file.place).problems == ()


def test_that_a_sheet_that_is_not_wholly_compared_is_not_signed(floor: ActingFloor) -> None:
    import_sheet(floor.shop, floor.by("KEEP"), SHEET)
    sign_transcription(floor.desk, floor.by("KEEP", 1), SHEET.id, PHRASES["KEEP"])
    before = floor.file.last_envelope()
    with pytest.raises(NotReady, match="Not compared yet"):
        sign_comparison(floor.desk, floor.by("MECH", 2), SHEET.id, GROUPS[:1], PHRASES["MECH"])
    with pytest.raises(Refusal, match="secret"):
        sign_comparison(floor.desk, floor.by("MECH", 2), SHEET.id, GROUPS, "not the secret at all")
    assert floor.file.last_envelope() == before
    assert see_sheet(floor.file, SHEET.id).state is SheetState.FOR_COMPARISON


def test_that_one_person_who_does_both_signs_the_reason(tmp_path: Path) -> None:
    with new_shop(tmp_path / "alone.shop", "Alone", TEXT, QUIET) as file:
        floor = ActingFloor(file, tmp_path / "state").alone(replace(PEOPLE[1], id="KEEP", rights=tuple(Right)[:5]))
        import_sheet(floor.shop, floor.by("KEEP"), SHEET)
        sign_transcription(floor.desk, floor.by("KEEP", 1), SHEET.id, PHRASES["KEEP"])
        reason = "Nobody else is with the shop."
        sign_comparison(floor.desk, floor.by("KEEP", 2), SHEET.id, GROUPS, PHRASES["KEEP"], reason)
        last = floor.file.last_envelope()
        assert last is not None
        record = read_record(last.content)
        assert any(row.text == reason for section in record.sections for row in section.rows)
        assert "rechecked" in record.signer.meaning


def test_that_a_tool_is_signed_when_it_is_kept(floor: ActingFloor) -> None:
    sign_tool(floor.desk, floor.by("KEEP"), TOOL, PHRASES["KEEP"])
    sign_tool(floor.desk, floor.by("KEEP"), Tool("D-1", "timing disc", Care.CHECKED), PHRASES["KEEP"])
    kinds = [one.kind for one in floor.file.envelopes()]
    assert kinds[-2:] == [RecordKind.TOOL_RECORD.value] * 2
    last = floor.file.last_envelope()
    assert last is not None
    labels = [row.label for section in read_record(last.content).sections for row in section.rows]
    assert labels == ["Number", "Name", "Care"]
    with pytest.raises(Refusal, match="not as you saw it"):
        sign_tool(floor.desk, floor.by("KEEP"), TOOL, PHRASES["KEEP"])


def test_that_the_check_follows_a_sheet_from_its_transcription_to_the_draft_it_goes_back_to(floor: ActingFloor) -> None:
    place = floor.file.place
    import_sheet(floor.shop, floor.by("KEEP"), SHEET)
    assert [row.label for row in sheet_sections(SHEET)[0].rows] == ["Sheet"]
    sign_transcription(floor.desk, floor.by("KEEP", 1), SHEET.id, PHRASES["KEEP"])
    assert shop_assembly.check_shop(place).problems == ()
    compare_sheet(floor.shop, floor.by("MECH", 2), SHEET.id, (), (Difference("magneto.poles", "4"),))
    assert see_sheet(floor.file, SHEET.id).state is SheetState.DRAFT
    assert shop_assembly.check_shop(place).problems == ()


def test_that_the_check_holds_a_sheet_that_was_compared_without_a_signature_against_its_transcription(
    floor: ActingFloor,
) -> None:
    import_sheet(floor.shop, floor.by("KEEP"), SHEET)
    sign_transcription(floor.desk, floor.by("KEEP", 1), SHEET.id, PHRASES["KEEP"])
    compare_sheet(floor.shop, floor.by("MECH", 2), SHEET.id, GROUPS)
    assert see_sheet(floor.file, SHEET.id).state is SheetState.COMPARED
    assert shop_assembly.check_shop(floor.file.place).problems == ()
