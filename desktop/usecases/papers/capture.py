"""Where a table of readings stands on a card."""

from dataclasses import dataclass

from desktop.core.timing.results import Worked
from reports.document import READING_COLUMNS

FILLED_COLUMNS = READING_COLUMNS[:-1]
"""The columns of a table of readings; the step above it has the box for the initials."""


@dataclass(frozen=True, slots=True)
class Capture:
    """Where a table stands: the step's number, what was worked out, and whether the card is printed empty."""

    number: str
    worked: Worked
    blank: bool

    def row(self, place: int) -> str:
        """Return the number of a row."""
        return f"{self.number}.{place}"
