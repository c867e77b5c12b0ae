"""Discrepancies found on the way, what became of each, and the customer's word for extra work."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from desktop.core.shop.stamp import Stamp


class Outcome(StrEnum):
    """What became of a discrepancy."""

    CLOSED = "closed"
    DEFERRED = "deferred"
    DECLINED = "declined"


@dataclass(frozen=True, slots=True)
class CustomerWord:
    """Who spoke for the customer, when, and for how much, as it was said. ValueError without the time's offset."""

    who: str
    at: datetime
    how_much: str

    def __post_init__(self) -> None:
        if self.at.utcoffset() is None:
            raise ValueError("the time of the customer's word needs its offset from UTC")


@dataclass(frozen=True, slots=True)
class Settled:
    """How a discrepancy ended, in words, by whom and when. ValueError when one is declined without the customer."""

    outcome: Outcome
    words: str
    by: Stamp
    customer: CustomerWord | None = None

    def __post_init__(self) -> None:
        if self.outcome is Outcome.DECLINED and self.customer is None:
            raise ValueError("only the customer declines")


@dataclass(frozen=True, slots=True)
class Discrepancy:
    """What was found, by whom and when; ``settled`` is None while it is open. Numbers count from 1 on an order."""

    number: int
    found: str
    by: Stamp
    settled: Settled | None = None

    @property
    def word(self) -> str:
        """How it stands: open, closed, deferred or declined."""
        return self.settled.outcome.value if self.settled else "open"
