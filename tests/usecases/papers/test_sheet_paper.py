"""A limits sheet on paper: lines that a person reads, nothing left out, and who signed it in the program."""

from dataclasses import replace
from datetime import timedelta

import pytest
import zxingcpp

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_paths import sheet_groups, typed_rows
from desktop.core.shop.sheets.sheets import MagnetoSheet, Sheet, SheetGap, SheetInterval, SheetTorque
from desktop.files.sheets import demo_sheets
from desktop.usecases.papers import kinds
from desktop.usecases.papers.frame import About, Printing
from desktop.usecases.papers.records.record_parts import qr_content
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.papers.shop.sheet_paper import COMPARED, TRANSCRIBED, sheet_print, sheet_signatures
from desktop.usecases.papers.shop.sheet_rows import Line, sheet_lines
from desktop.usecases.records.sections.names import Names
from desktop.usecases.records.signing.sign_lists import sign_comparison, sign_transcription
from desktop.usecases.shop.lists.sheets import import_sheet, see_sheet
from reports.document import Document, SignatureBox
from reports.document_signing import ElectronicSignature
from tests.core.shop.sheets.sheet_cases import FULL_MAGNETO
from tests.reports.reading_back import pictures
from tests.usecases.papers.pages import inside, pages, reader
from tests.usecases.papers.paper_floor import PRINTED, PaperFloor
from tests.usecases.records.acting_floor import PHRASES

OWN = replace(demo_sheets()[0], id="own-six", revision=1)
ABOUT, PRINTING = About("Mill Shop"), Printing(PRINTED)


def lines(sheet: Sheet) -> dict[str, tuple[Line, ...]]:
    return {name: tuple(sheet_lines(name, rows)) for name, rows in sheet_groups(sheet)}


def signed(floor: PaperFloor, *, is_compared: bool = True) -> None:
    """Take a sheet in; its transcription is signed, and its comparison too."""
    import_sheet(floor.shop, floor.by("KEEP", 0), OWN)
    sign_transcription(floor.desk, floor.by("KEEP", 1), OWN.id, PHRASES["KEEP"])
    if is_compared:
        groups = [name for name, _ in sheet_groups(OWN)]
        sign_comparison(floor.desk, floor.by("ROLF", 2), OWN.id, groups, PHRASES["ROLF"])


def printed(floor: PaperFloor) -> tuple[Document, tuple[VerifiedRecord, ...]]:
    desk = floor.paper_desk()
    records = desk.verified()
    life = see_sheet(desk.shop.store, OWN.id)
    return sheet_print(life, Names(desk.shop.store.people()), ABOUT, records, PRINTING), records


@pytest.mark.parametrize("sheet", [*demo_sheets(), FULL_MAGNETO], ids=lambda sheet: sheet.id)
def test_that_every_typed_value_of_a_sheet_stands_in_its_lines_and_no_key_does(sheet: Sheet) -> None:
    found = lines(sheet)
    said = " ".join(part for one in found.values() for line in one for part in line).casefold()
    for path, text in typed_rows(sheet):
        assert text.casefold() in said or text.startswith("-"), path
    for line in (line for one in found.values() for line in one):
        assert all(line[:2])
        assert not any(
            word in line[0] for word in ("_", "Types", "Plug 1", "Torque", "btdc", "Apart most", "Unit", "Eligible")
        ), line


def test_that_lists_gaps_and_lags_are_read_as_a_sentence_with_their_unit() -> None:
    radial = lines(next(one for one in demo_sheets() if one.id == "bracken-seven"))
    assert radial["plug_gap"] == (("Gap", "0.3 to 0.4", "mm"),)
    assert radial["torque"][1] == ("Nut", "140, window 130 to 150", "in-lb")
    assert radial["eligible"] == (("R7", "on either side", ""),)
    assert radial["plug"][0] == ("Cylinder 1", "left magneto the rear one, right magneto the front one", "")
    assert radial["interval"][1] == ("Plugs: clean, gap, test", "every 50 h or 6 months", "")
    assert radial["limits"][4] == ("Magnetos apart, at most", "1.5", "crankshaft degrees")
    magneto = lines(next(one for one in demo_sheets() if one.id == "ostrin-t2-l"))
    assert ("Lag of the impulse coupling", "30", "magneto degrees") in magneto["magneto"]


def test_that_what_is_given_in_part_is_said_in_part() -> None:
    sheet = MagnetoSheet(
        "t",
        contact_gap=SheetGap(least="0.016", unit="in"),
        torque=(SheetTorque("nut", most="20"), SheetTorque("clamp", "18")),
        interval=(SheetInterval("oil"), SheetInterval("clean", "50")),
    )
    assert lines(sheet) == {
        "sheet": (("Invented data", "no", ""),),
        "contact_gap": (("Gap", "at least 0.016", "in"),),
        "torque": (("Nut", "window at most 20", ""), ("Clamp", "18", "")),
        "interval": (("Oil", "", ""), ("Clean", "every 50 h", "")),
    }


def test_that_who_transcribed_and_compared_stand_signed_with_key_seal_code_and_files(own_floor: PaperFloor) -> None:
    signed(own_floor)
    paper, records = printed(own_floor)
    boxes = {box.title: box for box in inside(paper, ElectronicSignature)}
    assert {title: box.name for title, box in boxes.items()} == {TRANSCRIBED: "Kit Eeper", COMPARED: "Rolf Aar"}
    first, last = records[-2:]
    key = last.taken.envelope.signatures[0].public_key.hex()[:16]
    assert boxes[COMPARED].key.replace(" ", "") == key
    assert boxes[TRANSCRIBED].note == f"record {first.number}"
    assert not list(inside(paper, SignatureBox))
    assert set(reader(paper).attachments) == {f"record-{first.number}.json", f"record-{last.number}.json"}
    for size in ("letter", "a4"):
        read = [
            code.text
            for page in pictures(paper, size, 108 / 72)
            for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
        ]
        assert read == [qr_content(own_floor.file.shop_id, last)]
        text = " ".join(pages(paper, size))
        assert text.count("signed electronically") == 2
        assert f"Record {last.number} of {last.count}" in text


def test_that_ink_is_asked_for_where_nothing_was_signed(own_floor: PaperFloor) -> None:
    signed(own_floor, is_compared=False)
    paper, records = printed(own_floor)
    assert [box.title for box in inside(paper, ElectronicSignature)] == [TRANSCRIBED]
    assert [box.title for box in inside(paper, SignatureBox)] == [COMPARED]
    desk = own_floor.paper_desk()
    unsigned = sheet_print(see_sheet(desk.shop.store, "marrow-six"), Names(), ABOUT, records, PRINTING)
    assert [box.title for box in inside(unsigned, SignatureBox)] == [TRANSCRIBED, COMPARED]
    assert kinds.SHEET.name == "sheet"


def test_that_a_signature_of_another_time_or_of_other_values_is_not_shown_for_a_sheet(own_floor: PaperFloor) -> None:
    signed(own_floor)
    records = own_floor.paper_desk().verified()
    sheet = see_sheet(own_floor.shop.store, OWN.id).sheet
    assert set(sheet_signatures(records, sheet)) == {TRANSCRIBED, COMPARED}
    assert sheet.transcribed_by is not None
    later = replace(sheet.transcribed_by, at=sheet.transcribed_by.at + timedelta(seconds=1))
    assert set(sheet_signatures(records, replace(sheet, transcribed_by=later))) == {COMPARED}
    with pytest.raises(Refusal, match=r"own-six, revision 1, is not as it was signed in record [0-9]+\. Run"):
        sheet_signatures(records, replace(sheet, ignition="other"))
