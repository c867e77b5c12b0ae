from __future__ import annotations

import pytest

from reports.document import Column, ReadingRow, ReadingTable, Table
from reports.drawn.numbers import parts_of, spaced
from tests.reports.reading_back import Letters, paper, stretches


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("305", ("305", "")),
        ("336.5", ("336", ".5")),
        ("-0.25", ("-0", ".25")),
        ("\u22121,5", ("\u22121", ",5")),
        ("23.5\u00b0", ("23", ".5\u00b0")),
        ("0.75 m", ("0", ".75 m")),
        ("\u00b1 0.46", ("\u00b1 0", ".46")),
        ("yes", None),
        ("", None),
        ("17 to 23", None),
        ("N-XX04", None),
        ("1.2.3", None),
    ],
)
def test_that_a_number_is_cut_before_its_point(text: str, parts: tuple[str, str] | None) -> None:
    assert parts_of(text) == parts


def test_that_a_unit_of_letters_stands_apart_and_a_degree_sign_does_not() -> None:
    assert (spaced("mm"), spaced("\u00b0"), spaced("")) == ("\u2009mm", "\u00b0", "")


def places(page: list[Letters], *words: str) -> list[Letters]:
    return [next(part for part in page if part.text.strip().startswith(word)) for word in words]


def test_that_readings_stand_with_their_points_below_each_other() -> None:
    rows = tuple(
        ReadingRow(f"{n}", "what", reading=text, initials=None)
        for n, text in enumerate(("4111.5", "7.25", "16.125", "88"))
    )
    (page,) = stretches(paper(ReadingTable(rows)))
    one, two, three, four = places(page, "4111.5", "7.25", "16.125", "88")
    digit = (one.right - one.left) / 5.0
    # The points' own places: what stands right of the point differs, what ends at the point does not.
    assert four.right < two.right < three.right
    assert one.right < two.right
    assert one.left < four.left < two.left
    assert abs((one.right - digit) - four.right) < digit


def test_that_words_among_readings_end_at_the_right_edge_of_the_numbers() -> None:
    rows = tuple(ReadingRow(f"{n}", "what", reading=text, initials=None) for n, text in enumerate(("336.5", "yes")))
    (page,) = stretches(paper(ReadingTable(rows)))
    number, word = places(page, "336.5", "yes")
    assert number.right == pytest.approx(word.right, abs=1.5)


def test_that_one_number_too_long_for_its_column_wraps_and_leaves_the_others_aligned() -> None:
    long = "3" * 60
    table = Table(
        (Column("a", 5.0), Column("n", 1.0, numbers=True)), (("one", "12.5"), ("two", long), ("three", "7.5"))
    )
    (page,) = stretches(paper(table))
    first, third = places(page, "12.5", "7.5")
    assert first.right == pytest.approx(third.right, abs=0.5)
    assert "".join(part.text.strip() for part in page if set(part.text.strip()) == {"3"}) == long
