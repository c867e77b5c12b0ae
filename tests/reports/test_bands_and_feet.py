from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.document import Band, Foot, Head, PageBreak, Paragraph, Run, plain
from tests.reports.reading_back import page_texts, paper, pictures, stretches
from tests.reports.sample_papers import parts_list
from tests.reports.test_boxes_for_the_pencil import frames

if TYPE_CHECKING:
    from reports.document import PaperSize

SAID = ("Reprint", "Superseded by record 420", "Corrected by record 14", "Blank", "Invented data", "Not approved")


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_all_bands_that_are_true_stand_on_every_page(size: PaperSize) -> None:
    bands = tuple(Band(words, loud=number % 2 == 1) for number, words in enumerate(SAID))
    pages = page_texts(paper(plain("one"), PageBreak(), plain("two"), head=Head("A", bands=bands)), size)
    assert len(pages) == 2
    assert all(words in page for words in SAID for page in pages)


def test_that_loud_bands_have_a_frame_and_quiet_ones_have_none() -> None:
    for loud, count in ((False, 0), (True, 1)):
        document = paper(head=Head("A", bands=(Band("Not approved", loud=loud),)))
        picture = pictures(document, "letter", 1.0)[0].crop((60, 30, 580, 60))
        dark_rows = sum(
            1
            for y in range(picture.height)
            if picture.crop((0, y, 520, y + 1)).histogram()[0:100] != [0] * 100
            and sum(picture.crop((0, y, 520, y + 1)).histogram()[0:100]) > 480
        )
        assert bool(dark_rows) == bool(count)
    assert frames(plain("no band")) == []


def test_that_bands_push_the_page_down_and_lie_over_nothing() -> None:
    without, with_bands = (
        next(part.bottom for part in stretches(paper(plain("the words"), head=head))[0] if "the words" in part.text)
        for head in (Head("A"), Head("A", bands=(Band("Reprint"), Band("Superseded", loud=True))))
    )
    assert with_bands < without - 30.0


def test_that_bands_and_heads_that_would_leave_no_page_are_refused() -> None:
    for text in ("", "x" * 81):
        with pytest.raises(ValueError, match="1 to 80"):
            Band(text)
    with pytest.raises(ValueError, match="at most 6 bands"):
        Head("A", bands=(Band("x"),) * 7)
    with pytest.raises(ValueError, match="at most 200"):
        Foot(order="x" * 201)
    with pytest.raises(ValueError, match="at most 200"):
        Foot(revision="x" * 201)


def test_that_order_card_revision_shop_time_and_page_stand_on_every_page() -> None:
    for size in ("letter", "a4"):
        pages = page_texts(parts_list(), size)
        for number, text in enumerate(pages, 1):
            for words in (
                "order W-0417",
                "card T4",
                "rev 2",
                "Pinyon Flat Aero Works",
                "printed 14 Oct 2026 15:02 MDT",
            ):
                assert words in text
            assert f"page {number} of {len(pages)}" in text


def test_that_line_feeds_in_what_repeats_take_no_room_from_the_page() -> None:
    feeds = "a" + "\n" * 150 + "b"
    head = Head(feeds, feeds, (Paragraph((Run(feeds),)),), banner=feeds, bands=(Band("x\ny"), Band("v\nw", loud=True)))
    foot = Foot(feeds, feeds, feeds, (("l\nm", "c\nd"),), feeds, feeds)
    pages = page_texts(paper(*(plain(f"line{n}.") for n in range(90)), head=head, foot=foot))
    assert all(f"line{n}." in "".join(pages) for n in range(90))
    assert len(pages) < 12
