"""When a change must stand on the shop's roster: within 5 business days (14 CFR 145.161(b))."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from desktop.core.shop.people.people import Person

ROSTER_DAYS = 5
"""Business days after a change by which a roster is brought up to date: 14 CFR 145.161(b)."""
_SATURDAY = 5


@dataclass(frozen=True, slots=True)
class RosterNotice:
    """A roster from before ``changed`` may hang until ``by``; after that day, ``is_past``, it is out of date."""

    changed: date
    by: date
    is_past: bool


def business_days_after(day: date, count: int) -> date:
    """Return the day that is so many business days after another. Weekends are left out; holidays are counted."""
    while count > 0:
        day += timedelta(days=1)
        count -= day.weekday() < _SATURDAY
    return day


def changed_last(person: Person, today: date) -> date | None:
    """Return the last day, up to today, on which the roster changed about a person; None while nothing has.

    That is a day on which something was written, the first day with the shop, or the day after the last.
    """
    after_last = person.until + timedelta(days=1) if person.until else None
    days = [day for day in (person.changed, person.since, after_last) if day is not None and day <= today]
    return max(days, default=None)


def notice_of(person: Person, today: date) -> RosterNotice | None:
    """Return what holds for a printed roster after the last change about a person."""
    changed = changed_last(person, today)
    if changed is None:
        return None
    by = business_days_after(changed, ROSTER_DAYS)
    return RosterNotice(changed, by, today > by)


def newest_notice(people: Iterable[Person], today: date) -> RosterNotice | None:
    """Return what holds for a printed roster after the last change about anybody; None for an empty roster."""
    notices = [notice for notice in (notice_of(person, today) for person in people) if notice is not None]
    return max(notices, key=lambda notice: notice.changed, default=None)
