"""Days as people type them, and only those that can be read in one way."""

import re
from datetime import date

from desktop.viewmodels.pieces.order_words import day_words

EXPECTED = "write the day like 2026-12-01, 1 Dec 2026 or 1.12.2026"

_YEAR_FIRST = re.compile(r"(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})")
_POINTS = re.compile(r"(?P<day>[0-9]{1,2})\.\s*(?P<month>[0-9]{1,2})\.\s*(?P<year>[0-9]{4})")
_DAY_WORD = re.compile(r"(?P<day>[0-9]{1,2})\.?\s*(?P<word>[a-z]{3,9})\.?,?\s*(?P<year>[0-9]{4})")
_WORD_DAY = re.compile(r"(?P<word>[a-z]{3,9})\.?\s*(?P<day>[0-9]{1,2}),?\s+(?P<year>[0-9]{4})")
_FORMS = (_YEAR_FIRST, _POINTS, _DAY_WORD, _WORD_DAY)
_SLASHES = re.compile(r"[0-9]{1,4}/[0-9]{1,2}/[0-9]{1,4}")
_MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def typed_day(text: str) -> date | None:
    """Return the day that was typed: year first, day first with points, or the month as a word; None for others.

    Slashes are not read: whether day or month stands first depends on where one learnt it.
    """
    plain = " ".join(text.lower().split())
    for form in _FORMS:
        if (found := form.fullmatch(plain)) is not None:
            parts = found.groupdict()
            month = _month(parts["word"]) if "word" in parts else int(parts["month"])
            try:
                return date(int(parts["year"]), month, int(parts["day"]))
            except ValueError:
                return None
    return None


def day_fault(text: str) -> str | None:
    """Say what to write instead of a text that is no day; None when it is one."""
    if typed_day(text) is not None:
        return None
    if _SLASHES.fullmatch(text.strip()):
        return "day or month may stand first here. Write the month as a word, like 1 Dec 2026"
    return EXPECTED


def long_day(day: date) -> str:
    """Write a day with its weekday, so that a slip of a digit is seen: ``Tuesday 1 Dec 2026``."""
    return f"{_WEEKDAYS[day.weekday()]} {day_words(day)}"


def _month(word: str) -> int:
    """Return the number of a month by its whole name or the beginning of it; 0 for none."""
    return next((number for number, name in enumerate(_MONTHS, 1) if name.startswith(word) or word == name[:4]), 0)
