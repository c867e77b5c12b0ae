from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.document import plain
from reports.document_tags import BigWords, Tag, Tags
from reports.page import LEFT
from tests.reports.reading_back import page_of, page_texts, paper, squeezed_pages, stretches
from tests.reports.sample_papers import tags
from tests.reports.test_boxes_for_the_pencil import frames

if TYPE_CHECKING:
    from reports.document import PaperSize

POINTS_A_MM = 72.0 / 25.4


def height_of(words: str) -> float:
    """Give the height of the first letters of big words, in points."""
    (page,) = stretches(paper(BigWords(words)))
    part = next(part for part in page if part.text.strip() and part.text.strip() in words and part.bottom > 60.0)
    return part.top - part.bottom


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_two_tags_stand_on_a_page_with_lines_to_cut_along(size: PaperSize) -> None:
    (page,) = page_texts(tags(), size)
    assert page.count("cut along the line") == 3
    for words in ("Removed part", "DO NOT INSTALL", "7741", "Safe-state tag", "WARNING", "hung up by"):
        assert words in page
    assert page.count("Invented data") == 2


def test_that_a_tag_says_inside_its_frame_who_printed_it() -> None:
    tag = Tag("Removed part", blocks=(plain("by whom"),), printed="Mill Shop, printed now.")
    (frame,) = frames(Tags((tag,)))
    (page,) = stretches(paper(Tags((tag,))))
    part = next(part for part in page if "Mill Shop, printed now." in part.text)
    above = next(part for part in page if "by whom" in part.text)
    assert part.top < above.bottom
    assert part.left > frame[0]
    assert "Mill Shop" not in "".join(page_texts(paper(Tags((Tag("Removed part"),))), "letter"))


def test_that_a_tag_is_as_high_as_asked_and_leaves_its_left_for_the_hole() -> None:
    tag = Tag("Removed part", "DO NOT INSTALL", (plain("by whom"),), height_mm=100.0)
    (frame,) = frames(Tags((tag,)))
    assert frame[3] == pytest.approx(100.0 * POINTS_A_MM, abs=3.0)
    (page,) = stretches(paper(Tags((tag,))))
    assert all(
        part.left >= LEFT + 60.0 for part in page if part.text.strip() in {"Removed part", "DO NOT INSTALL", "by whom"}
    )


def test_that_a_tag_is_not_parted_from_its_words() -> None:
    three = tuple(Tag(f"Tag{number}", "HOLD", (plain(f"words{number}."),)) for number in range(3))
    pages = squeezed_pages(paper(Tags(three)))
    assert [page_of(f"words{number}.", pages) for number in range(3)] == [0, 0, 1]
    assert [page_of(f"Tag{number}", pages) for number in range(3)] == [0, 0, 1]
    (empty,) = page_texts(paper(Tags(()), plain("after")))
    assert "cut" not in empty
    (bare,) = page_texts(paper(Tags((Tag("Bare"),))))
    assert "Bare" in bare


def test_that_big_words_are_as_large_as_whole_words_and_three_lines_allow() -> None:
    short, long, longest = (height_of(words) for words in ("SWITCH OFF", "ALL LEADS OFF " * 5, "W" * 60))
    assert short > 1.4 * long > 1.8 * longest > 10.0


def test_that_long_titles_and_odd_heights_are_refused() -> None:
    for make in (lambda: BigWords("x" * 121), lambda: Tag("x" * 121), lambda: Tag("t", bands=("x" * 121,))):
        with pytest.raises(ValueError, match="at most 120"):
            make()
    for height in (39.0, 111.0):
        with pytest.raises(ValueError, match="40 to 110 mm"):
            Tag("t", height_mm=height)
    (text,) = page_texts(paper(BigWords("")))
    assert "page 1 of 1" in text
