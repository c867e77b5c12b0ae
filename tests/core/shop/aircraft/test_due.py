"""What is coming due, held against dates and hours counted by hand."""

from datetime import date
from fractions import Fraction

import pytest

from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.due import (
    DONE_BY,
    CardDone,
    Coming,
    Due,
    Interval,
    add_months,
    coming_due,
    day_done,
    due_of_directives,
    next_due,
    since_overhaul_due,
)
from desktop.files.cards import builtin_cards
from desktop.files.sheets import demo_sheets

TODAY = date(2031, 3, 4)


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        (date(2031, 1, 31), 1, date(2031, 2, 28)),
        (date(2032, 1, 31), 1, date(2032, 2, 29)),
        (date(2031, 12, 15), 1, date(2032, 1, 15)),
        (date(2031, 3, 4), 12, date(2032, 3, 4)),
        (date(2032, 2, 29), 48, date(2036, 2, 29)),
        (date(2031, 3, 31), 0, date(2031, 3, 31)),
        (date(2031, 11, 30), 1, date(2031, 12, 30)),
    ],
)
def test_that_months_are_counted_to_the_same_day_or_the_last_of_the_month(day: date, months: int, later: date) -> None:
    assert add_months(day, months) == later


@pytest.mark.parametrize(("hours", "months"), [(None, None), (Fraction(0), None), (None, -1), (Fraction(500), 0)])
def test_that_an_interval_of_nothing_cannot_be_built(hours: Fraction | None, months: int | None) -> None:
    with pytest.raises(ValueError, match="above 0"):
        Interval(hours, months)


def test_that_something_is_due_by_hours_by_months_or_by_both() -> None:
    def due(hours: int | None, months: int | None, at: int | None = 1200) -> tuple[Fraction | None, date | None]:
        every = Interval(None if hours is None else Fraction(hours), months)
        found = next_due("bench check", Subject.MAGNETO, "S-11", TODAY, None if at is None else Fraction(at), every)
        assert (found.what, found.subject, found.serial) == ("bench check", Subject.MAGNETO, "S-11")
        return found.at_hours, found.on

    assert due(500, None) == (Fraction(1700), None)
    assert due(None, 48) == (None, date(2035, 3, 4))
    assert due(500, 48) == (Fraction(1700), date(2035, 3, 4))
    assert due(500, 48, at=None) == (None, date(2035, 3, 4))


def test_that_the_nearer_of_hours_and_days_decides_the_place_in_the_list() -> None:
    dues = [
        Due("unknown", Subject.ENGINE, "E-1", Fraction(2000)),
        Due("far", Subject.MAGNETO, "S-11", Fraction(1500), date(2033, 3, 4)),
        Due("soon by day", Subject.MAGNETO, "S-11", Fraction(1700), date(2031, 3, 14)),
        Due("soon by hours", Subject.MAGNETO, "S-11", Fraction(1205), date(2035, 3, 4)),
        Due("overdue by day", Subject.MAGNETO, "S-12", None, date(2031, 3, 3)),
        Due("overdue by hours", Subject.MAGNETO, "S-11", Fraction(1190)),
        Due("on its day", Subject.MAGNETO, "S-11", Fraction(1200), TODAY),
    ]
    coming = coming_due(dues, TODAY, {"S-11": Fraction(1200)})
    assert [one.due.what for one in coming] == [
        "overdue by hours",
        "overdue by day",
        "on its day",
        "soon by hours",
        "soon by day",
        "far",
        "unknown",
    ]
    assert [one.is_overdue for one in coming] == [True, True, False, False, False, False, False]
    assert coming[3] == Coming(dues[3], Fraction(5), 1461)
    assert (coming[-1].hours_left, coming[-1].days_left) == (None, None)


def test_that_a_later_compliance_on_the_same_serial_moves_the_next_time() -> None:
    first = Directive("D-1", TODAY, "inspected", serial="S-11", recurring=True, next_due_hours="1700")
    again = Directive(
        "D-1", TODAY, "inspected", serial="S-11", recurring=True, next_due_hours="2200,5", next_due_on=date(2035, 1, 1)
    )
    other = Directive("D-1", TODAY, "inspected", serial="S-12", recurring=True, next_due_on=date(2032, 1, 1))
    once = Directive("D-2", TODAY, "replaced", serial="S-11")
    assert due_of_directives([first, once, other, again]) == (
        Due("D-1", Subject.MAGNETO, "S-11", Fraction(4401, 2), date(2035, 1, 1)),
        Due("D-1", Subject.MAGNETO, "S-12", None, date(2032, 1, 1)),
    )


@pytest.mark.parametrize(
    ("hours", "months", "words"),
    [
        (Fraction(50), None, "every 50 h"),
        (None, 1, "every 1 month"),
        (Fraction(201, 2), 12, "every 100.5 h or 12 months"),
    ],
)
def test_that_an_interval_says_how_often(hours: Fraction | None, months: int | None, words: str) -> None:
    assert Interval(hours, months).words == words


def test_that_what_a_sheet_asks_for_is_done_by_its_cards_or_by_the_card_of_that_title() -> None:
    first, second = CardDone("B1", "Bench", date(2031, 1, 2)), CardDone("B2", "Coupling", date(2031, 1, 5))
    again = CardDone("B1", "Bench", date(2030, 1, 2))
    assert day_done("Inspection off  the engine", [first, second, again]) == date(2031, 1, 5)
    assert day_done("inspection off the engine", [first]) is None
    assert day_done(" bench", [again, first]) == date(2031, 1, 2)
    assert day_done("bench check", [first]) is None
    own = CardDone("Q7", "Inspection off the engine", date(2032, 1, 5))
    assert day_done("inspection off the engine", [first, own]) == day_done("inspection off the engine", [own]) == own.on


def test_that_every_interval_of_the_demos_sheets_is_done_by_cards_that_there_are() -> None:
    asked = {one.what for sheet in demo_sheets() for one in sheet.interval or ()}
    assert asked == set(DONE_BY)
    assert {card for cards in DONE_BY.values() for card in cards} <= {card.id for card in builtin_cards()}


def test_that_hours_count_from_the_overhaul_where_all_of_them_are_known() -> None:
    every, months = Interval(Fraction(500), 48), Interval(months=48)
    due = Due("bench check", Subject.MAGNETO, "S-11", Fraction(1690))
    assert since_overhaul_due("bench check", "S-11", Fraction(1694), Fraction(504), every) == due
    assert since_overhaul_due("bench check", "S-11", None, Fraction(504), every) is None
    assert since_overhaul_due("bench check", "S-11", Fraction(1694), None, every) is None
    assert since_overhaul_due("bench check", "S-11", Fraction(1694), Fraction(504), months) is None
