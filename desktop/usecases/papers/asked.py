"""What is asked for when a paper is printed, and what of it cannot be."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Any, Protocol

from desktop.core.errors import Refusal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import WorkOrder
from desktop.usecases.papers.entry.entry_labels import LinesOver
from desktop.usecases.papers.frame import Printing
from desktop.usecases.papers.kinds import PaperKind
from desktop.usecases.papers.records.verified import VerifiedRecord, verified_records
from desktop.usecases.shop.ports import Shop


class NotYet(Refusal):
    """A paper that cannot be made yet, because what it is about is not known so far."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Which paper: its kind; the order, and the card of it (0 for the newest); what ``of`` names where a kind asks.

    ``label`` and ``start`` are the size of label and the first one that is free. ``reprint`` says so across the head.
    ``invented`` says that the whole shop is an invented one.
    """

    kind: PaperKind
    order: int = 0
    card: int = 0
    of: str = ""
    label: str = ""
    start: int = 1
    reprint: bool = False
    invented: bool = False


class SignedRecords(Protocol):
    """The signed records of a shop file as whoever verifies them reads them."""

    def stored(self, start: int = ...) -> Iterator[StoredRow]:
        """Give the rows from a number on, in their order, whatever stands in them."""
        ...

    def lines(self) -> tuple[RecordLine, ...]:
        """Return the list of records."""
        ...


@dataclass(frozen=True, slots=True)
class PaperDesk:
    """What making a paper of a shop needs.

    ``records`` gives the signed records as they are now; ``over`` says by how many lines a label is too long;
    ``paper_size`` is the shop's own, letter or a4. ``invented`` says that the whole shop is an invented one.
    """

    shop: Shop
    shop_id: str
    records: Callable[[], SignedRecords]
    verifies: Verifies
    over: LinesOver
    paper_size: str = "letter"
    invented: bool = field(default=False, kw_only=True)

    @property
    def name(self) -> str:
        """The shop's name, as its papers have it."""
        return self.shop.store.shop_details().name

    def verified(self) -> tuple[VerifiedRecord, ...]:
        """Return all records, verified now. Raise Refusal when anything is not as it was signed."""
        records = self.records()
        listed: Mapping[int, RecordLine] = {line.number: line for line in records.lines()}
        return verified_records(records.stored(), self.shop_id, self.verifies, listed)

    def printing(self, printed: str, asked: Asked) -> Printing:
        """Return what belongs to this print: the time, and the shop file as it is now."""
        lines = self.records().lines()
        last = next(self.records().stored(lines[-1].number), None) if lines else None
        head = last.digest.decode("ascii", "replace") if last else ""
        return Printing(printed, self.shop_id, len(lines), head, asked.reprint)


@dataclass(slots=True)
class Walked:
    """The records as they stood when they were walked, what was found sound, and the orders that are as signed."""

    rows: tuple[StoredRow, ...] = ()
    lines: tuple[RecordLine, ...] = ()
    sound: tuple[VerifiedRecord, ...] | None = None
    orders: dict[int, WorkOrder] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ErrandDesk(PaperDesk):
    """The desk of one errand: the chain of records is walked once, however many papers are made.

    Before each paper the rows are read again and held against those that were walked: where a single byte of one is
    another, or one came or went, the whole chain is walked anew. So a damaged record is never printed.
    """

    walked: Walked = field(default_factory=Walked)

    def verified(self) -> tuple[VerifiedRecord, ...]:
        """Return all records, verified in this errand. Raise Refusal when anything is not as it was signed."""
        records, walked = self.records(), self.walked
        rows, lines = tuple(records.stored()), records.lines()
        if walked.sound is None or (rows, lines) != (walked.rows, walked.lines):
            walked.sound, walked.orders = None, {}  # while it is not known again, nothing is sound
            walked.sound = verified_records(rows, self.shop_id, self.verifies, {line.number: line for line in lines})
            walked.rows, walked.lines = rows, lines
        return walked.sound


def errand_desk(desk: PaperDesk) -> ErrandDesk:
    """Return a desk for one errand."""
    own: dict[str, Any] = {one.name: getattr(desk, one.name) for one in fields(PaperDesk)}
    return ErrandDesk(**own)
