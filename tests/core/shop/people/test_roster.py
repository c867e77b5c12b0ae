"""Business days after a change, held against a calendar, and what is said of a printed roster."""

from dataclasses import replace
from datetime import date

import pytest

from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.people.roster import RosterNotice, business_days_after, changed_last, newest_notice, notice_of

# 14 CFR 145.161(b): changes within 5 business days. 4 March 2031 is a Tuesday, by the calendar of that year.
TUESDAY = date(2031, 3, 4)
PERSON = Person("AB", "Ada Brook", (Right.MECHANIC,), date(2030, 1, 7))


@pytest.mark.parametrize(
    ("day", "by"),
    [
        (TUESDAY, date(2031, 3, 11)),
        (date(2031, 3, 3), date(2031, 3, 10)),
        (date(2031, 3, 7), date(2031, 3, 14)),
        (date(2031, 3, 8), date(2031, 3, 14)),
        (date(2031, 3, 9), date(2031, 3, 14)),
        (date(2031, 12, 30), date(2032, 1, 6)),
    ],
)
def test_that_five_business_days_leave_out_the_weekend(day: date, by: date) -> None:
    assert business_days_after(day, 5) == by
    assert business_days_after(day, 0) == day


@pytest.mark.parametrize(
    ("person", "changed"),
    [
        (PERSON, date(2030, 1, 7)),
        (replace(PERSON, changed=date(2031, 2, 3)), date(2031, 2, 3)),
        (replace(PERSON, changed=date(2031, 2, 3), until=date(2031, 3, 3)), TUESDAY),
        (replace(PERSON, changed=date(2031, 2, 3), until=TUESDAY), date(2031, 2, 3)),
        (replace(PERSON, since=date(2031, 4, 1)), None),
    ],
)
def test_that_coming_leaving_and_writing_are_changes_once_their_day_has_come(
    person: Person, changed: date | None
) -> None:
    assert changed_last(person, TUESDAY) == changed


def test_that_a_change_is_older_than_five_business_days_on_the_day_after_the_fifth() -> None:
    person = replace(PERSON, changed=TUESDAY)
    assert notice_of(person, date(2031, 3, 11)) == RosterNotice(TUESDAY, date(2031, 3, 11), is_past=False)
    assert notice_of(person, date(2031, 3, 12)) == RosterNotice(TUESDAY, date(2031, 3, 11), is_past=True)
    assert notice_of(replace(PERSON, since=date(2032, 1, 1)), TUESDAY) is None


def test_that_the_newest_change_of_anybody_decides_for_the_roster() -> None:
    people = (PERSON, replace(PERSON, id="CD", changed=TUESDAY), replace(PERSON, since=date(2032, 1, 1)))
    assert newest_notice(people, TUESDAY) == notice_of(people[1], TUESDAY)
    assert newest_notice((), TUESDAY) is None
