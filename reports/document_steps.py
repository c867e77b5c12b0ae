"""Steps of a card on paper: safety boxes, instructions, readings, checklists, verdicts and findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from reports.document import Block
    from reports.document_text import Paragraph

CautionKind: TypeAlias = Literal["warning", "caution", "note"]
RingShape: TypeAlias = Literal["closed", "half", "crossed"]
FindingWeight: TypeAlias = Literal["stop", "ask", "note"]
ReadingField: TypeAlias = Literal["number", "what", "target", "reading", "worked_out", "initials"]


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

    Boxes are printed in the order warning, caution, note. Boxes, instruction and body stay on one page; where the body
    holds a long table, or all is taller than a page, boxes, instruction and the first rows do. `remark` stands quietly
    below the instruction (such as "the bench is clean"). `hold` stands framed on a line of its own before the boxes:
    here the work waits for somebody.
    """

    number: str
    instruction: str
    boxes: tuple[Caution, ...] = ()
    body: tuple[Block, ...] = ()
    initials: tuple[Initials, ...] = ()
    remark: str = ""
    hold: Paragraph | None = None


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
