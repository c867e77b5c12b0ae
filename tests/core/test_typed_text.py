"""What people type becomes exact values, and the same values are written one way."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core import typed_text


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        (".5", "0.5"),
        (",5", "0,5".replace(",", ".")),
        ("1/2", "0.5"),
        ("½", "0.5"),
        ("22 1/2", "22.5"),
        ("22½", "22.5"),
        ("22 ¼", "22.25"),
        ("22¾°", "22.75"),
        ("-1/2", "-0.5"),
        ("11/2", "5.5"),
        ("338°", "338"),
        ("338º", "338"),
        ("338 deg", "338"),
        ("338 degrees", "338"),
        (" 338 ", "338"),
        ("337,50", "337.50"),
        ("22b", "22 before"),
        ("22 BTDC", "22 before"),
        ("5a", "5 after"),
        ("22.5° before", "22.5 before"),
        ("1/3", "1/3"),
        ("77/120", "77/120"),
        ("1/0", "1/0"),
        ("compression", "compression"),
        ("", ""),
        ("b", "b"),
        ("22 x", "22 x"),
        ("1 2", "1 2"),
    ],
)
def test_that_numbers_are_taken_as_people_type_them(typed: str, written: str) -> None:
    assert typed_text.tidied(typed) == written


@given(st.text(max_size=12))
def test_that_no_typed_text_raises_and_tidying_twice_is_tidying_once(typed: str) -> None:
    once = typed_text.tidied(typed)
    assert typed_text.tidied(once) == once


@given(st.decimals(min_value=0, max_value=999999, places=4, allow_nan=False))
def test_that_a_written_value_reads_back_as_itself(value: object) -> None:
    exact = Fraction(str(value))
    assert typed_text.number(typed_text.plain(exact)) == exact


@given(st.fractions(min_value=-180, max_value=180, max_denominator=10000).filter(lambda one: one > -180))
def test_that_a_split_reading_reads_back_as_itself_to_four_decimals(value: Fraction) -> None:
    back = typed_text.split_reading(typed_text.split_text(value))
    assert back is not None
    assert abs(back - value) <= Fraction(1, 20000) or abs(back) == 180


@pytest.mark.parametrize(("typed", "count"), [("338", 0), ("338.5", 1), ("338,50", 2), ("22.125 before", 3)])
def test_that_decimals_are_counted_as_typed(typed: str, count: int) -> None:
    assert typed_text.decimals(typed) == count


def test_that_a_whole_number_keeps_its_zeros() -> None:
    plain = typed_text.plain
    assert (plain(Fraction(300), 0), plain(Fraction(300)), plain(Fraction(-1, 5), 0)) == ("300", "300", "0")
