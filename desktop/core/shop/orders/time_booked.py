"""Time that was worked on an order: a plain total for the customer's copy, no invoice."""

from collections.abc import Iterable
from dataclasses import dataclass

from desktop.core.shop.stamp import Stamp

MOST_MINUTES = 24 * 60
"""Most minutes of one entry: a day."""


@dataclass(frozen=True, slots=True)
class TimeBooked:
    """Minutes that one person worked; ValueError outside 1 to a day's minutes."""

    person: str
    minutes: int
    what: str
    by: Stamp

    def __post_init__(self) -> None:
        if not 1 <= self.minutes <= MOST_MINUTES:
            raise ValueError("an entry of time holds one minute to one day")


def total_words(entries: Iterable[TimeBooked]) -> str:
    """Say the total of booked time in hours and minutes: ``2 h 05 min``."""
    hours, minutes = divmod(sum(entry.minutes for entry in entries), 60)
    return f"{hours} h {minutes:02d} min"
