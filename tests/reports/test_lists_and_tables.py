from __future__ import annotations

import pytest

from reports.document import Column, Heading, Space, Table, plain
from reports.document_text import EmptyState, Entries, Entry, NumberedList
from reports.page import LEFT, RIGHT, SIZES
from tests.reports.reading_back import page_of, page_texts, paper, squeezed_pages, stretches
from tests.reports.test_boxes_for_the_pencil import frames


def places(*blocks: object) -> dict[str, tuple[float, float, float]]:
    """Give left, right and bottom of each stretch of text on the only page."""
    (page,) = stretches(paper(*blocks))  # type: ignore[arg-type]
    return {part.text.strip(): (part.left, part.right, part.bottom) for part in page}


def test_that_values_stand_beside_their_labels_on_one_left_edge() -> None:
    found = places(Entries((Entry("engine", "Harl"), Entry("time since overhaul", "412 h"))))
    assert found["Harl"][0] == pytest.approx(found["412 h"][0], abs=1.0)
    assert found["Harl"][2] == pytest.approx(found["engine"][2], abs=2.5)
    assert found["engine"][0] == pytest.approx(LEFT, abs=1.0)
    assert found["Harl"][0] > found["time since overhaul"][1] + 5.0


def test_that_entries_in_two_columns_are_filled_row_by_row() -> None:
    found = places(Entries(tuple(Entry(f"label{n}", f"value{n}") for n in range(3)), 2))
    assert found["value0"][2] == pytest.approx(found["value1"][2], abs=1.0)
    assert found["label1"][0] == pytest.approx(LEFT + (612.0 - LEFT - RIGHT + 20.0) / 2.0, abs=1.0)
    assert found["label2"][0] == pytest.approx(found["label0"][0], abs=1.0)
    assert found["label2"][2] < found["label0"][2] - 10.0


@pytest.mark.parametrize("value", [None, ""])
def test_that_an_unknown_value_leaves_a_line_with_room_for_the_pencil(value: str | None) -> None:
    known, unknown = (places(Entries((Entry("a", text),)), plain("after")) for text in ("x", value))
    assert unknown["after"][2] < known["after"][2] - 7.0
    assert places(Entries(()), plain("after"))["after"][2] > known["after"][2]


def test_that_a_list_is_counted_from_its_start_and_its_numbers_end_below_each_other() -> None:
    found = places(NumberedList(tuple(plain(f"item {n}") for n in range(3)), 9))
    assert found["9."][1] == pytest.approx(found["10."][1], abs=1.0)
    assert found["item 0"][0] == pytest.approx(found["item 2"][0], abs=1.0)
    with pytest.raises(ValueError, match="counted from 0"):
        NumberedList((), -1)
    assert "after" in page_texts(paper(NumberedList(()), plain("after")))[0]


def test_that_a_long_item_of_a_list_fills_the_page_before_it_goes_on() -> None:
    words = " ".join(f"w{number}" for number in range(900))
    pages = page_texts(paper(Space(150.0), NumberedList((plain("first"), plain(words)))))
    assert len(pages) == 2
    assert "w0 " in pages[0]
    assert "w899" in pages[1]
    assert " ".join(pages).count("2.") == 1


def test_that_the_quiet_line_stands_where_a_list_would() -> None:
    (text,) = page_texts(paper(Heading("Discrepancies", 3), EmptyState("No discrepancies were found.")))
    assert text.index("Discrepancies") < text.index("No discrepancies were found.")


def test_that_headings_of_three_levels_are_smaller_one_below_the_other() -> None:
    (page,) = stretches(paper(*(Heading(f"Heading{level}", level) for level in (1, 2, 3))))
    heights = [part.top - part.bottom for part in page if part.text.startswith("Heading")]
    assert heights == sorted(heights, reverse=True)
    assert heights[0] > heights[2] + 2.0


def test_that_a_heading_goes_over_a_space_with_what_follows_it() -> None:
    for height in range(150, 200, 4):
        pages = squeezed_pages(paper(Space(height), Heading("The heading"), Space(4.0), plain("below it " * 30)))
        assert page_of("The heading", pages) == page_of("below it " * 12, pages)


def test_that_a_table_says_on_each_further_page_that_it_is_continued() -> None:
    rows = tuple((f"part{n}.", str(n)) for n in range(120))
    for title in ("Parts put on", ""):
        pages = page_texts(paper(Table((Column("part"), Column("n", numbers=True)), rows, title)))
        assert "continued" not in pages[0]
        assert all("continued" in page and title in page for page in pages[1:])
        assert all("part" in page for page in pages)


def test_that_numbers_of_a_table_have_their_points_below_each_other() -> None:
    column = (Column("text"), Column("quantity", numbers=True))
    (page,) = stretches(paper(Table(column, (("a", "1.25"), ("b", "112.5"), ("c", "7")))))
    rights = {part.text.strip(): part.right for part in page}
    lefts = {part.text.strip(): part.left for part in page}
    assert rights["1.25"] - rights["112.5"] == pytest.approx(5.4, abs=1.5)
    assert lefts["7"] < rights["1.25"] - 10.0
    assert lefts["a"] == pytest.approx(LEFT + 6.0, abs=1.0)


def test_that_columns_share_the_width_as_asked() -> None:
    (page,) = stretches(paper(Table((Column("one", 3.0), Column("two", 1.0)), (("x", "y"),))))
    lefts = {part.text.strip(): part.left for part in page}
    assert lefts["two"] - lefts["one"] == pytest.approx((SIZES["letter"][0] - LEFT - RIGHT) * 0.75, abs=1.0)


def test_that_a_row_which_fits_on_a_page_is_never_cut() -> None:
    tall = " ".join(f"w{number}" for number in range(520))
    for height in range(0, 190, 10):
        pages = page_texts(paper(Space(height), plain("x"), Table((Column("a"),), ((tall,), ("last",)))))
        assert len([page for page in pages if "w0 " in page or "w519" in page]) == 1


def test_that_a_table_without_rows_says_so_below_its_head() -> None:
    (text,) = page_texts(paper(Table((Column("part"),), (), "Parts taken off", "No parts were taken off.")))
    assert text.index("Parts taken off") < text.index("part\n") < text.index("No parts were taken off.")
    (bare,) = page_texts(paper(Table((Column("head only"),), ())))
    assert "head only" in bare
    assert frames(Table((Column("part"),), (), empty="none")) == []
