from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
import zxingcpp

from reports.document import SignatureBox, Signatures, Space, plain
from reports.document_signing import CheckCode
from tests.reports.reading_back import page_of, page_texts, paper, pictures, squeezed, squeezed_pages, stretches
from tests.reports.sample_papers import INSPECTOR, MECHANIC, QR, RETURN, maintenance_entry
from tests.reports.test_boxes_for_the_pencil import frames

if TYPE_CHECKING:
    from reports.document import PaperSize


def test_that_an_electronic_signature_says_in_words_who_by_what_right_when_and_under_which_seal() -> None:
    (text,) = squeezed_pages(paper(Signatures((INSPECTOR,))))
    for words in (
        "Inspector",
        "I inspected the work above and accept it.",
        "signed electronically",
        INSPECTOR.name,
        "certificate 2880415, repairman",
        INSPECTOR.when,
        f"key {INSPECTOR.key}",
        f"record seal {INSPECTOR.seal}",
        INSPECTOR.note,
    ):
        assert squeezed(words) in text


def test_that_a_helper_without_a_certificate_has_none_on_paper() -> None:
    (text,) = page_texts(paper(Signatures((replace(MECHANIC, certificate="", kind="", note=""),))))
    assert "certificate" not in text
    assert MECHANIC.name in text


def test_that_ink_and_electronic_signatures_stand_in_boxes_of_one_size() -> None:
    boxes = frames(Signatures((MECHANIC, INSPECTOR, RETURN)))
    assert len(boxes) == 3
    assert {round(box[2], 1) for box in boxes} == {round(boxes[0][2], 1)}
    assert {round(box[3], 1) for box in boxes} == {round(boxes[0][3], 1)}


def test_that_a_box_for_ink_has_room_for_a_hand() -> None:
    (page,) = stretches(paper(Signatures((SignatureBox("Mechanic", "Work performed."),))))
    bottoms = {part.text.strip(): part.bottom for part in page}
    labels = ("signature", "printed name", "certificate no. and kind", "date")
    heights = [bottoms[label] for label in labels]
    assert heights == sorted(heights, reverse=True)
    assert bottoms["Work performed."] - bottoms["signature"] >= 36.0
    assert all(upper - lower >= 30.0 for upper, lower in pairwise(heights))


@pytest.mark.parametrize("height", range(0, 196, 15))
def test_that_an_electronic_signature_is_never_parted(height: int) -> None:
    pages = squeezed_pages(paper(plain("x"), Space(height), Signatures((MECHANIC, INSPECTOR))))
    assert page_of("I did the work", pages) == page_of(MECHANIC.key, pages) == page_of(INSPECTOR.note, pages)


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("dots_per_inch", [108, 150, 200])
def test_that_the_code_of_a_record_reads_back_from_the_rendered_page(dots_per_inch: int, size: PaperSize) -> None:
    picture = pictures(maintenance_entry(), size, dots_per_inch / 72)[-1]
    assert [
        code.text
        for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ] == [QR]


def test_that_the_check_code_is_large_and_stands_beside_its_code() -> None:
    (page,) = stretches(paper(CheckCode("7KQ4-M2ZD", QR, (plain("record 412"),))))
    found = {part.text.strip(): part for part in page}
    assert found["7KQ4-M2ZD"].top - found["7KQ4-M2ZD"].bottom > 1.6 * (
        found["record 412"].top - found["record 412"].bottom
    )
    assert found["check code of this print"].bottom > found["7KQ4-M2ZD"].bottom > found["record 412"].bottom
    assert found["7KQ4-M2ZD"].left > 22.0 / 25.4 * 72.0 + 80.0


def test_that_a_check_code_alone_stands_at_the_left_edge() -> None:
    document = paper(CheckCode("7KQ4-M2ZD"))
    (page,) = stretches(document)
    found = {part.text.strip(): part.left for part in page}
    assert found["7KQ4-M2ZD"] == pytest.approx(22.0 / 25.4 * 72.0, abs=2.0)
    assert zxingcpp.read_barcodes(pictures(document, "letter", 2.0)[0]) == []


@pytest.mark.parametrize("code", [{"content": "x" * 601}, {"size_mm": 9.0}, {"size_mm": 61.0, "content": "x"}])
def test_that_a_code_which_paper_cannot_carry_is_refused(code: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="1 to 600 characters"):
        CheckCode("7KQ4-M2ZD", **code)  # type: ignore[arg-type]
