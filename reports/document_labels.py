"""Sheets of labels: the sizes that are sold everywhere, as values, and what stands on each label.

`reports.drawn.labels.fits` says before drawing whether the words of a label fit; a sheet with one that does not is
not drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reports.document_attachments import Attachment, refuse_doubles

if TYPE_CHECKING:
    from reports.document_text import Paragraph

_PAPER_MM: dict[str, tuple[float, float]] = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
_ROUNDING_MM = 0.2
_MOST_SIGNS = 600


@dataclass(frozen=True, slots=True)
class LabelSize:
    """A sheet's grid of labels, in millimetres: margins from the paper's edge to the first label, gaps between labels.

    The grid lies on the paper as a whole; one that does not fit on it is refused.
    """

    name: str
    paper: Literal["letter", "a4"]
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    gap_across: float = 0.0
    gap_down: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a grid that leaves the paper, and labels without a size."""
        across = self.left + self.columns * self.width + (self.columns - 1) * self.gap_across
        down = self.top + self.rows * self.height + (self.rows - 1) * self.gap_down
        paper = _PAPER_MM[self.paper]
        sizes = (self.width, self.height, self.columns, self.rows)
        margins = (self.left, self.top, self.gap_across, self.gap_down)
        if min(sizes) <= 0 or min(margins) < 0:
            raise ValueError("a label's sides are above zero, margins and gaps at least zero")
        if across > paper[0] + _ROUNDING_MM or down > paper[1] + _ROUNDING_MM:
            raise ValueError("the labels of a sheet lie on the paper")

    @property
    def count(self) -> int:
        """Give the number of labels on a sheet."""
        return self.columns * self.rows


# Common practice, no source: the grids that stationers sell on letter and A4 sheets, from memory. Whoever buys a sheet
# prints it on plain paper first and holds both against the light.
LABEL_SIZES: tuple[LabelSize, ...] = (
    LabelSize("letter, 10 of 4 x 2 in", "letter", 2, 5, 101.6, 50.8, 3.97, 12.7, 4.76),
    LabelSize("letter, 6 of 4 x 3 1/3 in", "letter", 2, 3, 101.6, 84.66, 3.97, 12.7, 4.76),
    LabelSize("letter, 30 of 2 5/8 x 1 in", "letter", 3, 10, 66.67, 25.4, 4.77, 12.7, 3.17),
    LabelSize("A4, 8 of 99.1 x 67.7 mm", "a4", 2, 4, 99.1, 67.7, 4.65, 13.1, 2.5),
    LabelSize("A4, 6 of 99.1 x 93.1 mm", "a4", 2, 3, 99.1, 93.1, 4.65, 8.85, 2.5),
    LabelSize("A4, 21 of 63.5 x 38.1 mm", "a4", 3, 7, 63.5, 38.1, 7.25, 15.15, 2.5),
)


@dataclass(frozen=True, slots=True)
class PenLine:
    """A line with words below it: room for the pen, or what is known already on the line."""

    words: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class LabelCode:
    """A QR code at the bottom of a label with lines of text at its right; `content` has at most 600 characters."""

    content: str
    lines: tuple[Paragraph, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what could not be read back from paper."""
        if not 1 <= len(self.content) <= _MOST_SIGNS:
            raise ValueError(f"a label's code holds 1 to {_MOST_SIGNS} characters")


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on one label: a bold head, paragraphs, a code, and lines for the pen at the bottom, two in a row.

    A label that goes into a logbook carries its bands ("invented data", "reprint") itself.
    """

    paragraphs: tuple[Paragraph, ...]
    head: str = ""
    pen_lines: tuple[PenLine, ...] = ()
    bands: tuple[str, ...] = ()
    code: LabelCode | None = None


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """Labels on sheets, beginning at the label numbered `start` (1 is the upper left, counted along the rows).

    A sheet has no head and no foot. `title`, `subject` and `language` go into the file's own description.
    """

    title: str
    subject: str
    language: str
    size: LabelSize
    labels: tuple[Label, ...]
    start: int = 1
    author: str = ""
    attachments: tuple[Attachment, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a place that is not on the sheet, a sheet without labels, and two attachments of one name."""
        refuse_doubles(self.attachments)
        if not self.labels:
            raise ValueError("a sheet of labels has at least one label")
        if not 1 <= self.start <= self.size.count:
            raise ValueError(f"the first label is one of 1 to {self.size.count}")
