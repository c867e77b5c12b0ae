"""Words on paper: paragraphs, headings, labelled facts, lists, and the space around them.

Every text is plain text. No field takes markup: `<b>` prints as the four signs that were typed. A line feed in a text
begins a new line; any other control character prints as a visible code such as `[U+0009]`. `""` and `None` both mean
"not known yet" wherever a field says that it leaves room for the pencil.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from reports.document import Block


@dataclass(frozen=True, slots=True)
class Run:
    """Some words in one manner. `code` sets them in the face for order numbers, check codes and seals."""

    text: str
    bold: bool = False
    italic: bool = False
    quiet: bool = False
    code: bool = False


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Runs one after the other, wrapped to the width at hand; no space is added between runs."""

    runs: tuple[Run, ...]
    small: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """A title inside the paper; it never stands last on a page. Level 1 is the largest of the three."""

    text: str
    level: Literal[1, 2, 3] = 1


@dataclass(frozen=True, slots=True)
class Fact:
    """A label with its value below. A value of None leaves an empty line for the pencil. `span` counts columns."""

    label: str
    value: str | None
    code: bool = False
    span: Literal[1, 2, 3, 4] = 1


@dataclass(frozen=True, slots=True)
class Facts:
    """Facts in a grid of four columns, filled row by row."""

    items: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A label with its value beside it, such as "total time" and "2 104.6 h".

    A value of None or "" leaves a line for the pencil. `code` sets the value in the face for codes.
    """

    label: str
    value: str | None
    code: bool = False


@dataclass(frozen=True, slots=True)
class Entries:
    """Labels with their values beside them in one or two columns, filled row by row; all labels have one width."""

    items: tuple[Entry, ...]
    columns: Literal[1, 2] = 1


@dataclass(frozen=True, slots=True)
class NumberedList:
    """Paragraphs with numbers before them, counted from `start`; an item is split over pages like any paragraph."""

    items: tuple[Paragraph, ...]
    start: int = 1

    def __post_init__(self) -> None:
        """Refuse numbers that nobody counts with."""
        if self.start < 0:
            raise ValueError("a list is counted from 0 or more")


@dataclass(frozen=True, slots=True)
class EmptyState:
    """The quiet line that stands where a list would stand, such as "No discrepancies were found."."""

    text: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin line across the paper."""


@dataclass(frozen=True, slots=True)
class Space:
    """Empty height in millimetres; nothing at the top of a page."""

    height_mm: float

    def __post_init__(self) -> None:
        """Refuse a height that would not end."""
        if not 0 <= self.height_mm <= 200:  # noqa: PLR2004 - less than a page
            raise ValueError("a space is 0 to 200 mm high")


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows begins a new page."""


@dataclass(frozen=True, slots=True)
class KeepTogether:
    """Blocks that stay on one page while they fit on one."""

    blocks: tuple[Block, ...]


def plain(text: str, *, bold: bool = False, italic: bool = False, quiet: bool = False) -> Paragraph:
    """Give a paragraph of one run."""
    return Paragraph((Run(text, bold=bold, italic=italic, quiet=quiet),))
