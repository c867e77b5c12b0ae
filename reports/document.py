"""The vocabulary of printable papers: plain frozen values that say what stands on the paper, not how it is drawn.

Every text is plain text. No field takes markup: `<b>` prints as the four signs that were typed. A line feed in a text
begins a new line; any other control character prints as a visible code such as `[U+0009]`. `""` and `None` both mean
"not known yet" wherever a field says that it leaves room for the pencil.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from reports.drawing import Drawing

PaperSize: TypeAlias = Literal["letter", "a4"]
CautionKind: TypeAlias = Literal["warning", "caution", "note"]
RingShape: TypeAlias = Literal["closed", "half", "crossed"]
FindingWeight: TypeAlias = Literal["stop", "ask", "note"]
ReadingField: TypeAlias = Literal["number", "what", "target", "reading", "worked_out", "initials"]

_HEAD_LIMIT = 200  # characters of a text that is repeated on every page or must stand in one line of boxes
_LINES_LIMIT = 6


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
    """A title inside the paper; it never stands last on a page. Level 1 is the larger one."""

    text: str
    level: Literal[1, 2] = 1


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
class Caution:
    """A box before a step: warning (injury or death), caution (damage to equipment) or note (helps). Hazard first."""

    kind: CautionKind
    text: str


@dataclass(frozen=True, slots=True)
class Initials:
    """A box for initials at the right of a step: who (`mechanic`), and the initials, or "" for the pen."""

    label: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered instruction with its boxes before it and what is captured after it.

    Boxes are printed in the order warning, caution, note. Boxes, instruction and body stay on one page; when they are
    taller than a page, boxes, instruction and the beginning of the body do. `remark` stands quietly below the
    instruction (such as "the inspector must see this").
    """

    number: str
    instruction: str
    boxes: tuple[Caution, ...] = ()
    body: tuple[Block, ...] = ()
    initials: tuple[Initials, ...] = ()
    remark: str = ""


@dataclass(frozen=True, slots=True)
class ReadingColumn:
    """One column of a reading table: which field of the rows it shows and the words above it (may be empty)."""

    field: ReadingField
    heading: str = ""


READING_COLUMNS: tuple[ReadingColumn, ...] = (
    ReadingColumn("number"),
    ReadingColumn("what"),
    ReadingColumn("target", "target"),
    ReadingColumn("reading", "reading"),
    ReadingColumn("worked_out", "worked out"),
    ReadingColumn("initials", "initials"),
)


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading. An empty `reading` prints as a box for the pencil, at least 9 mm high.

    `reading` and `target` are typed text; numbers among them align at the decimal point within the table. `unit`
    stands quietly after the reading, or inside the empty box at its right. `earlier` holds readings that this one
    follows; they print small and quiet below it. `choices` ("yes", "no") print as tick boxes where the worked-out
    text would stand, as long as there is no reading. `initials` None draws no box in this row.
    """

    number: str
    what: str
    target: str = ""
    reading: str = ""
    unit: str = ""
    worked_out: str = ""
    initials: str | None = ""
    earlier: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    remark: str = ""


@dataclass(frozen=True, slots=True)
class ReadingTable:
    """Readings under a head that is repeated when the table continues on the next page."""

    rows: tuple[ReadingRow, ...]
    columns: tuple[ReadingColumn, ...] = READING_COLUMNS

    def __post_init__(self) -> None:
        """Refuse a table that shows a field twice or shows none."""
        shown = [column.field for column in self.columns]
        if not shown or len(set(shown)) != len(shown):
            raise ValueError("a reading table shows each field at most once and at least one")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a plain table. `share` is its part of the width against the other columns' shares."""

    heading: str
    share: float = 1.0
    numbers: bool = False

    def __post_init__(self) -> None:
        """Refuse a width that is no width."""
        if not (math.isfinite(self.share) and self.share > 0):
            raise ValueError("a column's share of the width is a number above zero")


@dataclass(frozen=True, slots=True)
class Table:
    """Plain rows of text (parts, people, discrepancies); `numbers` columns align at the decimal point.

    None in a cell leaves a box for the pencil. The head is repeated on each page.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | None, ...], ...]

    def __post_init__(self) -> None:
        """Refuse rows that do not have one cell a column."""
        if not self.columns or any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError("every row of a table has one cell for each column")


@dataclass(frozen=True, slots=True)
class Result:
    """A verdict in big words with its own drawn ring: closed (within), half (reason needed), crossed (stops)."""

    verdict: str
    shape: RingShape
    lines: tuple[Paragraph, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """A bar at the left edge, the severity in a word, the sentence, the reason somebody gave, the source in quiet."""

    weight: FindingWeight
    word: str
    sentence: str
    source: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Tick:
    """One row of a checklist: an empty, ticked or struck-out box, the words, and initials (None draws no box)."""

    text: str
    mark: Literal["empty", "ticked", "struck"] = "empty"
    initials: str | None = None


@dataclass(frozen=True, slots=True)
class Checklist:
    """Rows with tick boxes."""

    rows: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class SignatureBox:
    """Who signs for what. Every empty text leaves room for the pen; `code` is the check code of this print, if any."""

    title: str
    meaning: str
    signature: str = ""
    name: str = ""
    certificate: str = ""
    date: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class Signatures:
    """Signature boxes side by side, three in a row, each row on one page."""

    boxes: tuple[SignatureBox, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with its size on paper in millimetres; shrunk in proportion where the paper is smaller."""

    drawing: Drawing
    width_mm: float
    height_mm: float
    caption: str = ""

    def __post_init__(self) -> None:
        """Refuse a size that is no size."""
        if not all(math.isfinite(side) and side > 0 for side in (self.width_mm, self.height_mm)):
            raise ValueError("a picture's sides are numbers of millimetres above zero")


@dataclass(frozen=True, slots=True)
class Beside:
    """A picture at the left with blocks at its right; stays together while it fits on a page."""

    picture: Picture
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Seal:
    """A QR code that holds `content` (at most 600 characters), `size_mm` a side, with lines of text at its right."""

    content: str
    lines: tuple[Paragraph, ...] = ()
    size_mm: float = 24.0

    def __post_init__(self) -> None:
        """Refuse what could not be read back from paper."""
        if not 1 <= len(self.content) <= 600 or not 10 <= self.size_mm <= 60:  # noqa: PLR2004 - said in the class
            raise ValueError("a seal holds 1 to 600 characters on 10 to 60 mm")


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


Block: TypeAlias = (
    "Paragraph | Heading | Facts | Caution | Step | ReadingTable | Table | Result | Finding | Checklist | Signatures"
    " | Picture | Beside | Seal | Rule | Space | PageBreak | KeepTogether"
)


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top.

    `banner` stands across the top of every page, `title`, `lines` (at the right) and `governing` on the first page,
    a short running head with `title` and `card` on the others. Texts that repeat have at most 200 characters, and
    there are at most 6 lines.
    """

    title: str
    card: str = ""
    lines: tuple[Paragraph, ...] = ()
    governing: str = ""
    banner: str = ""

    def __post_init__(self) -> None:
        """Refuse what would leave no room for the page itself."""
        _refuse_long(self.title, self.card, self.banner)
        if len(self.lines) > _LINES_LIMIT:
            raise ValueError("a head has at most 6 lines at the right")
        _refuse_long(*("".join(run.text for run in line.runs) for line in self.lines))


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands at the bottom of every page, before the page number; each text has at most 200 characters.

    `printed` is the time in words, with its zone, as given. `codes` are pairs such as ("file", "3f9c").
    """

    shop: str = ""
    card: str = ""
    printed: str = ""
    codes: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        """Refuse what would leave no room for the page itself."""
        _refuse_long(self.shop, self.card, self.printed, "".join(label + code for label, code in self.codes))


@dataclass(frozen=True, slots=True)
class PaperWords:
    """The fixed words of the papers. `page` has the places {page} and {pages}."""

    warning: str = "WARNING"
    caution: str = "CAUTION"
    note: str = "NOTE"
    continued: str = "continued"
    signature: str = "signature"
    name: str = "printed name"
    certificate: str = "certificate no. and kind"
    date: str = "date"
    code: str = "check code of this print"
    page: str = "page {page} of {pages}"
    still_holds: str = "as above on this page"


@dataclass(frozen=True, slots=True)
class Document:
    """A whole paper. `title`, `subject` and `language` (a tag such as "en-US") go into the file's own description."""

    title: str
    subject: str
    language: str
    head: Head
    foot: Foot
    blocks: tuple[Block, ...]
    words: PaperWords = field(default_factory=PaperWords)


def plain(text: str, *, bold: bool = False, italic: bool = False, quiet: bool = False) -> Paragraph:
    """Give a paragraph of one run."""
    return Paragraph((Run(text, bold=bold, italic=italic, quiet=quiet),))


def _refuse_long(*texts: str) -> None:
    if any(len(text) > _HEAD_LIMIT for text in texts):
        raise ValueError(f"a text that is repeated on every page has at most {_HEAD_LIMIT} characters")
