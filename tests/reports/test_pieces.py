"""Laws of cutting pages, tried on random piles of pieces."""

from __future__ import annotations

from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.drawn.pieces import Break, Drawn, Gap, Led, Lines, Piece, Rows, Stack
from reports.drawn.rows import Cell, Row
from reports.drawn.symbols import ring
from reports.layout import paginate
from reports.text import BODY, Segment, TextLine

PAGE, FIRST, LINE = 240.0, 270.0, 12.0


def lines(count_of_lines: int, mark: str = "") -> Lines:
    return Lines(tuple(TextLine((Segment(0.0, mark, "text", "ink"),), 9.0) for _ in range(count_of_lines)), BODY)


def named(piece: Piece, numbers: count[int]) -> Piece:
    """Give each line of a pile its own number, but for the lines that may be repeated."""
    match piece:
        case Lines():
            parts = tuple(
                line if line.segments[0].text else TextLine((Segment(0.0, str(next(numbers)), "text", "ink"),), 9.0)
                for line in piece.lines
            )
            return Lines(parts, piece.size)
        case Stack():
            return Stack(tuple(named(part, numbers) for part in piece.pieces), piece.gap, piece.whole)
        case Led():
            return Led(named(piece.lead, numbers), named(piece.body, numbers), piece.gap, piece.whole, piece.again)
        case Rows():
            return Rows(piece.head, tuple(named(row, numbers) for row in piece.rows))
        case Row():
            cells = tuple(Cell(cell.x, named(cell.piece, numbers), cell.align) for cell in piece.cells)
            return Row(cells, (), piece.above, piece.below, piece.least)
        case _:
            return piece


def numbers_in(piece: Piece) -> list[int]:
    """Give the numbers of a pile's lines in the order of reading; repeated lines have none."""
    match piece:
        case Lines():
            return [int(line.segments[0].text) for line in piece.lines if line.segments[0].text.isdigit()]
        case Stack():
            return [number for part in piece.pieces for number in numbers_in(part)]
        case Led():
            return numbers_in(piece.lead) + numbers_in(piece.body)
        case Rows():
            return [number for row in piece.rows for number in numbers_in(row)]
        case Row():
            return [number for cell in piece.cells for number in numbers_in(cell.piece)]
        case _:
            return []


def of_parts(inner: st.SearchStrategy[Piece]) -> st.SearchStrategy[Piece]:
    some = st.lists(inner, min_size=1, max_size=4).map(tuple)
    gaps = st.sampled_from([0.0, 5.0])
    stacks = st.builds(Stack, some, gaps, st.booleans())
    led = st.builds(Led, inner, inner, gaps, st.booleans(), st.sampled_from([None, lines(1, "again")]))
    cells = st.lists(inner, min_size=1, max_size=3).map(
        lambda parts: tuple(Cell(100.0 * at, part, "top") for at, part in enumerate(parts))
    )
    row = st.builds(Row, cells, st.just(()), gaps, gaps, st.sampled_from([0.0, 27.0]))
    rows = st.builds(Rows, st.sampled_from([None, lines(1, "head")]), st.lists(row, min_size=1, max_size=30).map(tuple))
    return stacks | led | row | rows


PILES: st.SearchStrategy[Piece] = st.recursive(
    st.integers(1, 60).map(lines) | st.floats(0.0, 30.0).map(Gap), of_parts, max_leaves=12
)


@given(st.lists(PILES | st.just(Break()), max_size=6))
def test_that_cutting_loses_no_line_repeats_none_and_overfills_no_page(piles: list[Piece]) -> None:
    numbers = count()
    pieces = tuple(named(pile, numbers) for pile in piles)
    before = sorted(number for piece in pieces for number in numbers_in(piece))
    pages = paginate(pieces, FIRST, PAGE, 8.0)
    after = [number for page in pages for placed in page for number in numbers_in(placed.piece)]
    assert sorted(after) == before
    for at, page in enumerate(pages):
        bottom = max((placed.top + placed.piece.height for placed in page), default=0.0)
        assert bottom <= (PAGE if at else FIRST) + 1e-3


@given(st.lists(st.integers(1, 60), min_size=1, max_size=8))
def test_that_paragraphs_keep_their_order_and_leave_no_single_line_behind(counts: list[int]) -> None:
    numbers = count()
    pages = paginate(tuple(named(lines(many), numbers) for many in counts), FIRST, PAGE, 8.0)
    after = [number for page in pages for placed in page for number in numbers_in(placed.piece)]
    assert after == list(range(sum(counts)))
    for page in pages[:-1]:
        last = page[-1].piece
        assert isinstance(last, Lines)
        assert len(last.lines) >= 2 or last.lines[0].segments[0].text in {
            str(sum(counts[:at])) for at in range(len(counts))
        }


@given(st.integers(2, 60), st.integers(0, 19))
def test_that_a_table_never_leaves_its_head_with_one_row_only(rows: int, above: int) -> None:
    numbers = count()
    table = named(Rows(lines(1, "head"), tuple(Row((Cell(0.0, lines(1)),), least=20.0) for _ in range(rows))), numbers)
    pages = paginate((lines(max(above, 1), "above"), table), FIRST, PAGE, 8.0)
    counts = [len(numbers_in(placed.piece)) for page in pages for placed in page if isinstance(placed.piece, Rows)]
    assert counts[0] >= 2
    assert sum(counts) == rows


def test_that_what_can_neither_be_cut_nor_fits_is_printed_rather_than_lost() -> None:
    tall = Gap(PAGE * 2.0)
    row = Row((Cell(0.0, tall),))
    pages = paginate((lines(1), row, lines(1)), FIRST, PAGE, 8.0)
    assert [placed.piece for page in pages for placed in page][1] == row
    assert len(pages) == 3


def test_that_a_lead_which_leaves_no_room_for_an_uncuttable_body_stands_alone() -> None:
    lead, body = lines(10), Drawn(ring("closed"), PAGE - 20.0)
    led = Led(lead, body, whole=True, again=lines(1, "again"))
    pages = paginate((lines(2), led), FIRST, PAGE, 8.0)
    assert [[placed.piece for placed in page] for page in pages] == [[lines(2)], [lead], [body]]


@pytest.mark.parametrize("room", [0.5, 11.9])
def test_that_no_line_is_cut_through(room: float) -> None:
    assert lines(4).split(room, room) == (None, lines(4))


def test_that_a_piece_which_fits_is_not_cut() -> None:
    stack = Stack((lines(2), lines(3)))
    assert stack.split(100.0, PAGE) == (stack, None)


def test_that_cells_share_their_first_baseline_whatever_stands_in_them() -> None:
    led = Led(lines(1), lines(2))
    row = Row((Cell(0.0, Drawn(ring("closed"), 20.0)), Cell(30.0, led), Cell(60.0, Stack(()))))
    assert led.baseline == lines(1).baseline == row.baseline
    assert Row((Cell(0.0, Gap(3.0)),)).baseline is None
    assert Break().height == 0.0
