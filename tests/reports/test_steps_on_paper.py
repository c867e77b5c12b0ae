"""Steps on paper: where the work waits, what stands on which indent, answers that keep their boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.document import (
    Caution,
    Initials,
    PaperWords,
    ReadingRow,
    ReadingTable,
    SignatureBox,
    Signatures,
    Space,
    Step,
    plain,
)
from reports.document_text import Paragraph, Run
from reports.drawn.pieces import Stack
from reports.drawn.rows import Bar, Frame, Row
from reports.drawn.steps import step_piece
from tests.reports.reading_back import page_of, page_texts, paper, squeezed_pages, stretches

if TYPE_CHECKING:
    from reports.document import PaperSize

SIZES: tuple[PaperSize, ...] = ("letter", "a4")
HOLD = Paragraph((Run("HOLD: wait for the inspector.", bold=True), Run(" Accepted: IS, record 90.")))
LIVE = Caution("warning", "Every propeller is live. It kills.")
LONG = ("all pass", "one or more fail", "replaced, and all pass", "on the contact against rotation")


def place(text: str, size: PaperSize = "letter", *blocks: Step) -> tuple[float, float]:
    """Return left edge and foot of the first stretch that begins so, on the first page."""
    found = next(one for one in stretches(paper(*blocks), size)[0] if one.text.strip().startswith(text))
    return found.left, found.bottom


@pytest.mark.parametrize("size", SIZES)
def test_that_where_the_work_waits_stands_on_a_line_of_its_own_before_the_boxes(size: PaperSize) -> None:
    step = Step("7", "Read the magneto.", (LIVE,), initials=(Initials("inspector"),), remark="quietly", hold=HOLD)
    lows = [place(words, size, step)[1] for words in ("HOLD: wait", "WARNING", "Read the magneto.", "quietly")]
    assert lows == sorted(lows, reverse=True)
    assert len(set(lows)) == 4


def test_that_its_frame_is_that_of_no_safety_box() -> None:
    piece = step_piece(Step("7", "Read.", hold=HOLD), (), 400.0, PaperWords())
    (row,) = [one for one in _rows(piece) if any(isinstance(mark, Bar) for mark in one.marks)]
    assert row.marks == (Frame(400.0, "thin"), Bar(5.0), Bar(5.0, 395.0))
    assert not any(
        isinstance(mark, Bar)
        for one in _rows(step_piece(Step("7", "Read."), (), 400.0, PaperWords()))
        for mark in one.marks
    )


def _rows(piece: object) -> list[Row]:
    if isinstance(piece, Row):
        return [piece]
    if isinstance(piece, Stack):
        return [row for inner in piece.pieces for row in _rows(inner)]
    lead = getattr(piece, "lead", None)
    return _rows(lead) if lead is not None else []


def test_that_a_page_break_never_parts_where_the_work_waits_from_its_step() -> None:
    for height in range(0, 196, 5):
        step = Step("7", "Read the magneto.", (LIVE,), hold=HOLD)
        pages = squeezed_pages(paper(plain("above"), Space(height), step))
        assert page_of("HOLD: wait", pages) == page_of("Read the magneto.", pages) == page_of("It kills.", pages)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("height", range(0, 196, 5))
def test_that_a_long_table_runs_on_and_leaves_no_row_alone(height: int, size: PaperSize) -> None:
    rows = tuple(ReadingRow(f"r{n}.", f"capture{n}.", reading="1") for n in range(8))
    step = Step("7", "Read them all.", (LIVE,), (ReadingTable(rows),))
    pages = squeezed_pages(paper(plain("above"), Space(height), step), size)
    at = [page_of(f"capture{n}.", pages) for n in range(8)]
    assert page_of("Read them all.", pages) == page_of("It kills.", pages) == at[0] == at[1]
    assert at[6] == at[7]
    assert at == sorted(at)


def test_that_a_long_table_begins_where_a_whole_step_would_leave_a_hole() -> None:
    rows = tuple(ReadingRow(f"r{n}.", f"capture{n}.", reading="1") for n in range(12))
    step = Step("7", "Read them all.", (LIVE,), (ReadingTable(rows),))
    pages = squeezed_pages(paper(plain("above"), Space(110), step))
    assert (page_of("capture0.", pages), page_of("capture11.", pages)) == (0, 1)


@pytest.mark.parametrize("size", SIZES)
def test_that_words_below_a_step_stand_on_its_indent(size: PaperSize) -> None:
    step = Step("7", "Confirm the tools.", body=(plain("Tools: L-1, timing light"),))
    assert place("Tools:", size, step)[0] == pytest.approx(place("Confirm", size, step)[0], abs=1.0)
    assert place("Tools:", size, step)[0] > place("7", size, step)[0] + 15.0


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("number", ["5.1", "20.6"])
def test_that_an_answer_is_never_parted_from_its_box_or_inside(size: PaperSize, number: str) -> None:
    (text,) = page_texts(paper(ReadingTable((ReadingRow(number, "Answer", choices=LONG),))), size)
    for choice in LONG:
        assert choice in text.replace("\u00a0", " ")


def test_that_an_answer_wider_than_its_line_is_broken_and_whole() -> None:
    wide = " ".join(f"word{n}" for n in range(60))
    (text,) = squeezed_pages(paper(ReadingTable((ReadingRow("1", "Answer", choices=("yes", wide)),))))
    assert wide.replace(" ", "") in text


@pytest.mark.parametrize("size", SIZES)
def test_that_the_label_of_the_check_code_stands_on_one_line_in_a_box_for_ink(size: PaperSize) -> None:
    boxes = Signatures((SignatureBox("Mechanic", "I did it.", code="ABCD-EFGH"),))
    assert any("check code of this print" in one.text for one in stretches(paper(boxes), size)[0])
