from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

import pytest
import zxingcpp
from pypdf import PdfReader

from reports.document import (
    READING_COLUMNS,
    Checklist,
    Column,
    Fact,
    Facts,
    Initials,
    ReadingColumn,
    ReadingRow,
    ReadingTable,
    Seal,
    Step,
    Table,
    Tick,
    plain,
)
from reports.page import LEFT, RIGHT, SIZES
from reports.render import render
from tests.reports.reading_back import page_texts, paper, pictures
from tests.reports.sample import timing_card

if TYPE_CHECKING:
    from reports.document import Block, PaperSize

NINE_MM = 9.0 * 72.0 / 25.4


def frames(*blocks: Block) -> list[tuple[float, float, float, float]]:
    """Give left, bottom, width and height of the frames that are drawn on the first page."""
    content = PdfReader(BytesIO(render(paper(*blocks), "letter"))).pages[0].get_contents()
    assert content is not None
    found = [
        tuple(float(number) for number in operands) for operands, operator in content.operations if operator == b"re"
    ]
    return [frame for frame in found if len(frame) == 4]


@pytest.mark.parametrize("columns", [READING_COLUMNS, (ReadingColumn("what"), ReadingColumn("reading"))])
def test_that_an_empty_reading_is_a_box_for_the_pencil(columns: tuple[ReadingColumn, ...]) -> None:
    (frame,) = frames(ReadingTable((ReadingRow("1", "what", unit="mm", initials=None),), columns))
    assert frame[2] >= 80.0
    assert frame[3] >= NINE_MM


def test_that_a_reading_that_is_known_has_no_box_and_initials_have_one() -> None:
    assert frames(ReadingTable((ReadingRow("1", "what", reading="5", initials=None),))) == []
    assert len(frames(ReadingTable((ReadingRow("1", "what", reading="5"),)))) == 1


def test_that_an_empty_reading_which_follows_others_keeps_room_for_the_pencil_above_them() -> None:
    plain_box, with_earlier = (
        frames(ReadingTable((ReadingRow("1", "what", initials=None, earlier=earlier),)))[0]
        for earlier in ((), ("335.0 setting", "334.0 as found"))
    )
    assert with_earlier[3] >= plain_box[3] + 20.0


def test_that_choices_stand_for_the_box_until_there_is_a_reading() -> None:
    blank = ReadingRow("1", "snap", initials=None, choices=("yes", "no"))
    assert frames(ReadingTable((blank,))) == []
    (text,) = page_texts(paper(ReadingTable((blank,))))
    assert text.count("\u2610") == 2
    (text,) = page_texts(paper(ReadingTable((ReadingRow("1", "snap", reading="no", choices=("yes", "no")),))))
    assert "\u2610" not in text


def test_that_choices_never_lie_over_what_was_worked_out_or_another_column() -> None:
    order = tuple(ReadingColumn(field) for field in ("what", "reading", "initials", "worked_out"))
    rows = (ReadingRow("1", "snap", choices=("yes", "no", "no coupling")),)
    for table in (
        ReadingTable(rows, order),
        ReadingTable(rows, order[:2]),
        ReadingTable((ReadingRow("1", "snap", choices=("yes", "no"), worked_out="as before"),)),
    ):
        (text,) = page_texts(paper(table))
        assert "no" in text


def test_that_empty_ticks_tables_facts_and_initials_leave_room() -> None:
    for block in (
        Checklist((Tick("done", initials=""),)),
        Table((Column("a"), Column("b")), (("x", None),)),
        Step("1", "Do it.", initials=(Initials("mechanic"),)),
    ):
        assert frames(block)[-1][3] >= NINE_MM - 0.01, block
    (empty,) = page_texts(paper(Facts((Fact("label", None), Fact("wide", "v", span=4), Fact("next", "w", span=2)))))
    assert "label" in empty


def test_that_facts_without_items_and_a_step_with_many_initials_print() -> None:
    many = Step("1", "Do it.", initials=tuple(Initials(f"person number {n}") for n in range(5)))
    (text,) = page_texts(paper(Facts(()), many, plain("end")))
    assert all(f"person number {n}" in text for n in range(5))
    assert len(frames(many)) == 5


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_nothing_is_drawn_where_a_binder_punches_its_holes(size: PaperSize) -> None:
    for picture in pictures(timing_card(filled=True), size, 2.0):
        assert picture.crop((0, 0, round(20.0 * 72.0 / 25.4 * 2), picture.height)).getextrema() == (255, 255)
        right = round((SIZES[size][0] - RIGHT + 1.5) * 2)
        assert picture.crop((right, 0, picture.width, picture.height)).getextrema() == (255, 255)
        assert picture.crop((round(LEFT * 2) - 2, 0, right, picture.height)).getextrema()[0] < 100  # type: ignore[operator]


def test_that_a_seal_reads_back_from_the_rendered_page() -> None:
    content = "sparkwright:3f9c:412:9a41c07be2d85516:7KQ4M2ZD"
    (picture,) = pictures(paper(Seal(content, (plain("beside it"),)), plain("after")), "letter", 150 / 72)
    assert [
        code.text
        for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ] == [content]


def test_that_the_longest_seal_fits_its_code() -> None:
    (text,) = page_texts(paper(Seal("\u20ac" * 600, size_mm=60.0), plain("after")))
    assert "after" in text
