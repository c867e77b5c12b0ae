"""What is coming due, by hours, by months, or by both, whichever comes first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.shop.aircraft.directives import Directive, Subject

DAYS_A_YEAR = 365
MONTHS_A_YEAR = 12
HOURS_LIKE_A_YEAR = 500
"""Hours that count like a year when what comes due by hours is put in one list with what comes due by date."""
DONE_BY: Mapping[str, tuple[str, ...]] = {
    "magneto timing to the engine": ("T4",),
    "plugs: clean, gap, test": ("P1",),
    "inspection off the engine": ("B1", "B2"),
}
"""The task cards that together do what a limits sheet asks for, by its words. Another card does what it is titled."""


@dataclass(frozen=True, slots=True)
class Interval:
    """How often something is done: every so many hours, months, or both. ValueError when neither is given."""

    hours: Fraction | None = None
    months: int | None = None

    def __post_init__(self) -> None:
        given = [value for value in (self.hours, self.months) if value is not None]
        if not given or min(given) <= 0:
            raise ValueError("an interval has hours or months above 0")

    @property
    def words(self) -> str:
        """Say how often: ``every 100 h or 12 months``."""
        hours = f"{typed_text.plain(self.hours, 1)} h" if self.hours is not None else ""
        months = "" if self.months is None else "1 month" if self.months == 1 else f"{self.months} months"
        return f"every {' or '.join(part for part in (hours, months) if part)}"


@dataclass(frozen=True, slots=True)
class CardDone:
    """A task card that was accepted, and the day of it."""

    card: str
    title: str
    on: date


def day_done(what: str, done: Iterable[CardDone]) -> date | None:
    """Return the day on which cards did what comes due; None where they did not, or only a part of it."""
    cards = list(done)
    wanted = DONE_BY.get(_same(what), ())
    days = [max((card.on for card in cards if card.card == one), default=None) for one in wanted]
    known = [day for day in days if day is not None]
    whole = [max(known)] if known and len(known) == len(days) else []
    return max((*whole, *(card.on for card in cards if _same(card.title) == _same(what))), default=None)


@dataclass(frozen=True, slots=True)
class Due:
    """Something due on an engine or a magneto, by the serial: at hours, on a day, or both."""

    what: str
    subject: Subject
    serial: str
    at_hours: Fraction | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Coming:
    """Something due with what is left: hours where both hours are known, days where a day is; below 0 is overdue."""

    due: Due
    hours_left: Fraction | None
    days_left: int | None

    @property
    def is_overdue(self) -> bool:
        """Tell whether the hours or the day have passed, whichever came first."""
        return (self.hours_left is not None and self.hours_left < 0) or (
            self.days_left is not None and self.days_left < 0
        )

    @property
    def nearness(self) -> Fraction:
        """What is left as a part of a year, the nearer of hours and days; far away when nothing is known."""
        shares = [Fraction(DAYS_A_YEAR)]
        if self.hours_left is not None:
            shares.append(self.hours_left / HOURS_LIKE_A_YEAR)
        if self.days_left is not None:
            shares.append(Fraction(self.days_left, DAYS_A_YEAR))
        return min(shares)


def add_months(day: date, months: int) -> date:
    """Return the same day some months later, or the last of that month where it has no such day."""
    years, month = divmod(day.month - 1 + months, MONTHS_A_YEAR)
    first = date(day.year + years, month + 1, 1)
    last = (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)
    return first.replace(day=min(day.day, last.day))


def next_due(what: str, subject: Subject, serial: str, done_on: date, done_at: Fraction | None, every: Interval) -> Due:
    """Return when something is due again; by hours only where the hours are known at which it was done."""
    hours = done_at + every.hours if done_at is not None and every.hours is not None else None
    return Due(what, subject, serial, hours, add_months(done_on, every.months) if every.months is not None else None)


def due_of_directives(done: Iterable[Directive]) -> tuple[Due, ...]:
    """Return when recurring directives are due again; a later compliance on the same serial takes the earlier's place.

    Give the compliances in the order in which they were written.
    """
    last = {(one.number, one.serial): one for one in done}
    return tuple(
        Due(
            one.number,
            one.subject,
            one.serial,
            typed_text.number(typed_text.tidied(one.next_due_hours)),
            one.next_due_on,
        )
        for one in last.values()
        if one.recurring
    )


def coming_due(dues: Iterable[Due], today: date, hours: Mapping[str, Fraction]) -> tuple[Coming, ...]:
    """Return what is due with what is left, the nearest first. ``hours`` holds the present hours by serial."""
    coming = []
    for due in dues:
        now = hours.get(due.serial)
        left = due.at_hours - now if due.at_hours is not None and now is not None else None
        coming.append(Coming(due, left, (due.on - today).days if due.on else None))
    return tuple(sorted(coming, key=lambda one: (one.nearness, one.due.what, one.due.serial)))


def since_overhaul_due(
    what: str, serial: str, now: Fraction | None, since: Fraction | None, every: Interval
) -> Due | None:
    """Return when something is due on a magneto on which this shop never did it: counted from its overhaul.

    ``now`` are the aircraft's hours at the intake that says how many hours it is ``since`` the overhaul. None where
    one of them is not known, or nothing is due by hours. Common practice, no source.
    """
    if now is None or since is None or every.hours is None:
        return None
    return Due(what, Subject.MAGNETO, serial, now - since + every.hours)


def _same(text: str) -> str:
    return " ".join(text.split()).casefold()
