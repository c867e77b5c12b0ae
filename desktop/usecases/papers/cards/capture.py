"""Where a table of readings stands on a card."""

from dataclasses import dataclass

from desktop.core.timing.results import Worked
from reports.document import READING_COLUMNS

FILLED_COLUMNS = READING_COLUMNS[:-1]
"""The columns of a table of readings; the step above it has the box for the initials."""


@dataclass(frozen=True, slots=True)
class Capture:
    """Where a table stands: the step's number, what was worked out, and whether the card is printed empty.

    ``marks`` says of a reading, by its path, who took it, when and with which tool.
    """

    number: str
    worked: Worked
    blank: bool
    marks: tuple[tuple[str, str], ...] = ()

    def mark(self, path: str) -> str:
        """Return who took the reading at a path; empty where that is not known."""
        return next((words for known, words in self.marks if known == path), "")

    def row(self, place: int) -> str:
        """Return the number of a row."""
        return f"{self.number}.{place}"
