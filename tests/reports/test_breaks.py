from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.blocks import Setting, pieces_of
from reports.document import (
    Beside,
    Caution,
    Checklist,
    Column,
    Heading,
    Initials,
    KeepTogether,
    PageBreak,
    PaperWords,
    Picture,
    ReadingRow,
    ReadingTable,
    Rule,
    SignatureBox,
    Signatures,
    Space,
    Step,
    Table,
    Tick,
    plain,
)
from reports.drawing import Circle, Drawing
from tests.reports.reading_back import page_of, page_texts, paper, squeezed, squeezed_pages

if TYPE_CHECKING:
    from reports.document import Block, PaperSize

HEIGHTS = range(0, 196, 5)
HAZARD = Caution("warning", "A hazard that belongs to the next instruction. It kills.")
DAMAGE = Caution("caution", "A damage that belongs to the next instruction.")
SHEET = Drawing(100.0, 100.0, (Circle(50.0, 50.0, 40.0),))


def rows(count: int, start: int = 0) -> ReadingTable:
    return ReadingTable(tuple(ReadingRow(f"r{n}.", f"capture{n}.", reading="1") for n in range(start, start + count)))


def after_space(height: float, *blocks: Block) -> tuple[Block, ...]:
    return (plain("above"), Space(height), *blocks)


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("height", HEIGHTS)
def test_that_no_page_break_parts_a_step_from_its_boxes_or_its_readings(height: int, size: PaperSize) -> None:
    steps = tuple(
        Step(
            f"{n}",
            f"Do the thing number{n}.",
            (Caution("warning", f"Hazard{n} kills."), DAMAGE),
            (rows(3, 10 * n),),
            (Initials("mechanic"),),
            f"remark{n}.",
        )
        for n in range(1, 4)
    )
    pages = squeezed_pages(paper(*after_space(height, *steps)), size)
    for n in range(1, 4):
        parts = (f"Hazard{n} kills.", f"number{n}.", f"remark{n}.", f"capture{10 * n}.", f"capture{10 * n + 2}.")
        assert len({page_of(words, pages) for words in parts}) == 1


@pytest.mark.parametrize("height", HEIGHTS)
def test_that_a_step_taller_than_a_page_keeps_boxes_and_instruction_with_its_first_rows(height: int) -> None:
    step = Step("7", "Read them all.", (HAZARD, DAMAGE), (rows(90),))
    pages = squeezed_pages(paper(*after_space(height, step)))
    begin = page_of("A hazard that belongs", pages)
    assert {page_of(words, pages) for words in ("A damage", "Read them all.", "capture0.", "capture1.")} == {begin}
    last = page_of("capture89.", pages)
    for text in pages[begin + 1 : last + 1]:
        assert "7continued" in text
        assert "workedout" in text
    printed = "".join(pages)
    places = [printed.index(f"capture{n}.") for n in range(90)]
    assert places == sorted(places)


@pytest.mark.parametrize("height", HEIGHTS)
def test_that_a_heading_is_never_parted_from_what_it_heads(height: int) -> None:
    blocks = (
        Heading("The heading"),
        Heading("Below it", 2),
        HAZARD,
        Table((Column("part"),), (("first",), ("second",))),
    )
    pages = squeezed_pages(paper(*after_space(height, *blocks)))
    assert len({page_of(words, pages) for words in ("The heading", "Below it", "It kills.", "first", "second")}) == 1


@pytest.mark.parametrize("height", HEIGHTS)
def test_that_signature_boxes_are_never_parted(height: int) -> None:
    boxes = Signatures(tuple(SignatureBox(f"Role{n}", f"meaning{n}", code=f"CODE{n}") for n in range(3)))
    pages = squeezed_pages(paper(*after_space(height, boxes)))
    words = [f"{word}{n}" for n in range(3) for word in ("Role", "meaning", "CODE")]
    assert len({page_of(word, pages) for word in words}) == 1


@pytest.mark.parametrize("height", HEIGHTS)
def test_that_blocks_kept_together_and_a_picture_with_its_words_stay_on_one_page(height: int) -> None:
    kept = KeepTogether((plain("kept one"), rows(4), Rule(), plain("kept two")))
    beside = Beside(Picture(SHEET, 60.0, 60.0, "the caption"), (plain("right one"), plain("right two")))
    pages = squeezed_pages(paper(*after_space(height, kept, beside)))
    assert page_of("kept one", pages) == page_of("kept two", pages) == page_of("capture2.", pages)
    assert page_of("the caption", pages) == page_of("right one", pages) == page_of("right two", pages)


@pytest.mark.parametrize("count", [1, 30, 200])
def test_that_every_step_of_a_card_prints_once_and_in_order(count: int) -> None:
    steps = tuple(
        Step(
            f"{n}", f"Instruction{n}.", (HAZARD,) if n % 3 == 0 else (), (Checklist((Tick(f"tick{n}.", initials=""),)),)
        )
        for n in range(1, count + 1)
    )
    printed = "".join(squeezed_pages(paper(*steps), "a4"))
    places = [printed.index(f"Instruction{n}.") for n in range(1, count + 1)]
    assert places == sorted(places)
    assert all(printed.count(f"tick{n}.") == 1 for n in range(1, count + 1))


def test_that_a_tall_plain_table_repeats_its_head_on_every_page() -> None:
    table = Table(
        (Column("part name"), Column("quantity", numbers=True)), tuple((f"part{n}.", f"{n}") for n in range(150))
    )
    pages = squeezed_pages(paper(table))
    assert len(pages) >= 4
    assert all("partname" in text for text in pages)
    assert all(f"part{n}." in "".join(pages) for n in range(150))


def test_that_a_safety_box_higher_than_a_page_says_that_it_is_continued() -> None:
    text = " ".join(f"hazard{n}" for n in range(1200))
    pages = squeezed_pages(paper(Step("1", "Then do it.", (Caution("warning", text), Caution("note", text)))))
    assert all("WARNINGcontinued" in page or "NOTEcontinued" in page for page in pages[1:-1])
    assert "Thendoit." in pages[-1]


def test_that_a_page_shows_a_warning_once_in_full_and_then_in_short() -> None:
    long = Caution("warning", "Every propeller is live. " + "Take off all plug leads and one plug a cylinder. " * 3)
    steps = tuple(Step(f"{n}", f"Do{n}.", (long,), (Space(30.0),)) for n in range(12))
    pages = squeezed_pages(paper(*steps))
    assert len(pages) >= 3
    for text in pages[:3]:
        assert text.count("Takeoffallplugleads") == 3
        assert text.count("asabove") == text.count("Everypropellerislive.") - 1 > 0
        assert text.index("Takeoffallplugleads") < text.index("asabove")


def test_that_a_box_whose_short_form_is_no_shorter_prints_in_full() -> None:
    note = Caution("note", "Mind.")
    (text,) = page_texts(paper(*(Step(f"{n}", "Do.", (Caution("note", "Mind " * 90), note)) for n in range(2))))
    assert text.count("Mind.") == 2


def test_that_boxes_print_in_the_order_of_their_danger() -> None:
    boxes = (Caution("note", "third"), Caution("caution", "second"), Caution("warning", "first"))
    (text,) = squeezed_pages(paper(Step("1", "fourth", boxes)))
    assert text.index("first") < text.index("second") < text.index("third") < text.index("fourth")


def test_that_a_space_at_the_top_of_a_page_takes_no_room() -> None:
    pages = page_texts(paper(PageBreak(), Space(200.0), Space(200.0), plain("at the top")))
    assert len(pages) == 2


def test_that_a_picture_higher_than_the_paper_is_shrunk_onto_one_page() -> None:
    tall = Drawing(100.0, 300.0, (Circle(50.0, 50.0, 40.0),))
    for page in (300.0, 600.0):
        (piece,) = pieces_of((Picture(tall, 300.0, 900.0, "the caption"),), Setting(500.0, page, PaperWords()))
        assert page / 2.0 < piece.height <= page
    pages = page_texts(paper(plain("before"), Picture(tall, 300.0, 900.0, "the caption"), plain("after")))
    assert sum("the caption" in text for text in pages) == 1
    assert "after" in pages[-1]


def test_that_a_picture_too_wide_for_words_beside_it_stands_above_them() -> None:
    wide = Beside(Picture(SHEET, 170.0, 60.0, "the caption"), (plain("the words"),))
    (text,) = page_texts(paper(wide, plain("after")))
    assert text.index("the caption") < text.index("the words") < text.index("after")


def test_that_a_step_whose_body_cannot_be_cut_still_prints() -> None:
    picture = Picture(SHEET, 180.0, 600.0, "the caption")
    pages = squeezed_pages(paper(Step("1", "Look at it.", (HAZARD,) * 9, (picture, plain("after the picture")))))
    assert "afterthepicture" in squeezed("".join(pages))
    assert page_of("Look at it.", pages) < len(pages)
