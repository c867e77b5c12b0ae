"""The vocabulary of printable papers: plain frozen values that say what stands on the paper, not how it is drawn.

A paper is a `Document` (here) or a `LabelSheet`. Blocks stand in modules by subject: `document_text`, `document_steps`,
`document_tables`, `document_signing`, `document_pictures`, `document_tags`; files inside the file in
`document_attachments`. The names that the task cards use are known here too. Every text is plain text: see
`document_text`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from reports.document_attachments import Attachment, refuse_doubles
from reports.document_labels import LabelSheet
from reports.document_pictures import Beside, Picture
from reports.document_signing import CheckCode, Seal, SignatureBox, Signatures
from reports.document_steps import (
    READING_COLUMNS,
    Caution,
    CautionKind,
    Checklist,
    Finding,
    FindingWeight,
    Initials,
    ReadingColumn,
    ReadingField,
    ReadingRow,
    ReadingTable,
    Result,
    RingShape,
    Step,
    Tick,
)
from reports.document_tables import Column, Table
from reports.document_tags import BigWords, Tags
from reports.document_text import (
    EmptyState,
    Entries,
    Fact,
    Facts,
    Heading,
    KeepTogether,
    NumberedList,
    PageBreak,
    Paragraph,
    Rule,
    Run,
    Space,
    plain,
)

__all__ = [
    "READING_COLUMNS",
    "Attachment",
    "Band",
    "Beside",
    "Block",
    "Caution",
    "CautionKind",
    "Checklist",
    "Column",
    "Document",
    "Fact",
    "Facts",
    "Finding",
    "FindingWeight",
    "Foot",
    "Head",
    "Heading",
    "Initials",
    "KeepTogether",
    "PageBreak",
    "Paper",
    "PaperSize",
    "PaperWords",
    "Paragraph",
    "Picture",
    "ReadingColumn",
    "ReadingField",
    "ReadingRow",
    "ReadingTable",
    "Result",
    "RingShape",
    "Rule",
    "Run",
    "Seal",
    "SignatureBox",
    "Signatures",
    "Space",
    "Step",
    "Table",
    "Tick",
    "plain",
]

PaperSize: TypeAlias = Literal["letter", "a4"]
Block: TypeAlias = (
    Paragraph
    | Heading
    | Facts
    | Entries
    | NumberedList
    | EmptyState
    | Caution
    | Step
    | ReadingTable
    | Table
    | Result
    | Finding
    | Checklist
    | Signatures
    | Picture
    | Beside
    | Seal
    | CheckCode
    | BigWords
    | Tags
    | Rule
    | Space
    | PageBreak
    | KeepTogether
)

_HEAD_LIMIT = 200  # characters of a text that is repeated on every page or must stand in one line of boxes
_LINES_LIMIT = 6
_BAND_LIMIT = 80


@dataclass(frozen=True, slots=True)
class Band:
    """Words across the head of every page that say what this print is, such as "reprint" or "superseded".

    A `loud` band has a thick frame: it says that the paper must not be relied on ("not approved", "corrected by
    record 14"). At most 80 characters.
    """

    text: str
    loud: bool = False

    def __post_init__(self) -> None:
        """Refuse what would not stand on a line."""
        if not 1 <= len(self.text) <= _BAND_LIMIT:
            raise ValueError(f"a band has 1 to {_BAND_LIMIT} characters")


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top.

    `banner` and `bands` stand across the top of every page, `title`, `lines` (at the right) and `governing` on the
    first page, a short running head with `title` and `card` on the others. Texts that repeat have at most 200
    characters; there are at most 6 lines and 6 bands. A line feed in a text that repeats prints as a space.
    """

    title: str
    card: str = ""
    lines: tuple[Paragraph, ...] = ()
    governing: str = ""
    banner: str = ""
    bands: tuple[Band, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what would leave no room for the page itself."""
        _refuse_long(self.title, self.card, self.banner)
        if len(self.lines) > _LINES_LIMIT:
            raise ValueError("a head has at most 6 lines at the right")
        if len(self.bands) > _LINES_LIMIT:
            raise ValueError("a head has at most 6 bands")
        _refuse_long(*("".join(run.text for run in line.runs) for line in self.lines))


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands at the bottom of every page, before the page number; each text has at most 200 characters.

    `printed` is the time in words, with its zone, as given; `card`, `order` and `revision` in words as they print
    ("card T4", "order W-0417", "rev 2"). `codes` are pairs such as ("file", "3f9c"). A line feed prints as a space.
    """

    shop: str = ""
    card: str = ""
    printed: str = ""
    codes: tuple[tuple[str, str], ...] = ()
    order: str = ""
    revision: str = ""

    def __post_init__(self) -> None:
        """Refuse what would leave no room for the page itself."""
        _refuse_long(self.shop, self.card, self.printed, self.order, self.revision)
        _refuse_long("".join(label + code for label, code in self.codes))


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
    signed: str = "signed electronically"
    certified: str = "certificate"
    key: str = "key"
    seal: str = "record seal"
    cut: str = "cut along the line"


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
    attachments: tuple[Attachment, ...] = ()

    def __post_init__(self) -> None:
        """Refuse two files of one name inside the file."""
        refuse_doubles(self.attachments)


Paper: TypeAlias = Document | LabelSheet


def _refuse_long(*texts: str) -> None:
    if any(len(text) > _HEAD_LIMIT for text in texts):
        raise ValueError(f"a text that is repeated on every page has at most {_HEAD_LIMIT} characters")
