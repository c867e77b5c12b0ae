"""The signed records of a shop in one list: found as one types, read page by page, and all of them verified."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

from PySide6.QtCore import QModelIndex, QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.records.record import visible
from desktop.core.records.sealed.envelope import shown
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.shop.orders.order_line import OrderLine, order_name
from desktop.usecases.records.checking.verify import Verified
from desktop.usecases.records.sections.names import moment_words
from desktop.usecases.shop.lists.look_up import MOST_LINES, look_up
from desktop.usecases.shop.ports import ShopStore
from desktop.viewmodels.pieces.errand import Errand
from desktop.viewmodels.pieces.lines_model import NOWHERE, Index, LinesModel, ListColumn
from desktop.viewmodels.pieces.piecewise import Piecewise
from desktop.viewmodels.pieces.record_errands import Check, Export, PrintRecord
from desktop.viewmodels.records.records_search import found_in

PAGE = 100
"""Lines of the list that are shown at once; more follow when somebody comes to the end."""
ALL_SOUND = "Every record is as it was signed, and none is missing."
STOPPED = "Stopped. Nothing is known of the records that were not looked at."
Found = tuple[RecordLine, str]


class Lines(Protocol):
    """The list of records of a shop file."""

    def agreed_lines(self) -> tuple[RecordLine, ...]:
        """Return the list, the oldest first."""
        ...


class RecordsStore(ShopStore, Protocol):
    """A shop file whose records can be listed."""

    def records(self) -> Lines:
        """Return the signed records."""
        ...


def about_words(found: Found) -> str:
    """Say what a record is about: an order by its name, its card, its aircraft; anything else as it is."""
    line, registration = found
    if not line.order:
        return line.subject
    card = f", card {line.card}" if line.card else ""
    return f"{order_name(line.order)}{card}{f', {registration}' if registration else ''}"


def time_words(at: str) -> str:
    """Say when something was signed; a list that was changed with another program may hold anything at all."""
    try:
        return moment_words(datetime.fromisoformat(at))
    except ValueError:
        return visible(at)


def corrected_words(found: Found) -> str:
    """Say what a record corrects or answers, by number."""
    return ", ".join(str(number) for number in found[0].about)


FOUND_COLUMNS = (
    ListColumn("Record", lambda found: str(found[0].number), 104, strong=True, narrow_width=104),
    ListColumn("What", lambda found: found[0].kind, 0, below=("About", "Time", "Answers record"), narrow_width=0),
    ListColumn("About", about_words, 280),
    ListColumn("Signed by", lambda found: f"{found[0].name} ({found[0].person})", 240, narrow_width=280),
    ListColumn("Answers record", corrected_words, 116, quiet=True),
    ListColumn("Time", lambda found: time_words(found[0].at), 244, quiet=True),
)


class PagedLines(LinesModel):
    """Lines of which only the first pages are shown; the rest follows when the list is gone down."""

    def __init__(
        self,
        columns: tuple[ListColumn, ...],
        key: Callable[[Any], Hashable],
        parent: QObject | None = None,
        page: int = PAGE,
    ) -> None:
        super().__init__(columns, key, parent)
        self._page = page
        self._rest: tuple[Any, ...] = ()

    def show_lines(self, lines: Sequence[Any]) -> None:
        """Show the first pages of these lines: as many as stand here, at least one."""
        count = max(self._page, len(self._lines))
        self._rest = tuple(lines[count:])
        super().show_lines(lines[:count])

    def begin_again(self, lines: Sequence[Any]) -> None:
        """Show the first page of other lines."""
        self._rest = tuple(lines[self._page :])
        super().show_lines(lines[: self._page])

    def canFetchMore(self, parent: Index) -> bool:  # noqa: N802 - Qt's name
        """Tell whether more lines follow."""
        return not parent.isValid() and bool(self._rest)

    def fetchMore(self, parent: Index = NOWHERE) -> None:  # noqa: N802 - Qt's name
        """Show the next page."""
        if not self.canFetchMore(parent):
            return
        more, first = self._rest[: self._page], len(self._lines)
        self.beginInsertRows(QModelIndex(), first, first + len(more) - 1)
        self._lines += more
        self._rest = self._rest[self._page :]
        self.endInsertRows()


class RecordSearchDesk(QObject):
    """What is looked for among the records, and the long work on all of them.

    ``went_on`` says how far the long work is; ``checked`` carries its result in sentences and whether all is sound;
    ``exported`` what was written; ``refused`` a sentence that is shown once.
    """

    lines_changed = Signal()
    refused = Signal(str)
    went_on = Signal(int, int)
    checked = Signal(object, bool)
    exported = Signal(str)

    def __init__(
        self,
        store: RecordsStore | None,
        check: Check | None = None,
        export: Export | None = None,
        printer: PrintRecord | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._store, self._check, self._export, self._printer = store, check, export, printer
        self.find = ""
        self.count = self.total = 0
        self.model = PagedLines(FOUND_COLUMNS, lambda found: found[0].number, self)
        self._all: tuple[RecordLine, ...] = ()
        self._registrations: dict[int, str] = {}
        self._seen_orders: int | None = None
        self._orders = Piecewise(self)
        self._orders.finished.connect(self._take_orders)
        self._orders.refused.connect(self.refused)
        self._errand = Errand(self)
        self._errand.went_on.connect(self.went_on)
        self._errand.finished.connect(self._take)
        self._errand.refused.connect(self.refused)

    @property
    def can_check(self) -> bool:
        """Whether the records can be verified here."""
        return self._check is not None

    @property
    def can_export(self) -> bool:
        """Whether the records can be taken out here."""
        return self._export is not None

    @property
    def can_print(self) -> bool:
        """Whether records can be printed here."""
        return self._printer is not None

    @property
    def is_busy(self) -> bool:
        """Whether the long work is under way."""
        return self._errand.is_busy

    def look(self) -> None:
        """Read the list again; registrations follow piece by piece when some order was changed."""
        if self._store is None:
            return
        try:
            self._all = self._store.records().agreed_lines()
            changes = self._store.change_count()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self._show(self.model.show_lines)
        if changes != self._seen_orders:
            self._seen_orders = changes
            self._orders.begin(_pages(self._store))

    def search(self, typed: str) -> None:
        """Show the records in which each of these words begins a word."""
        self.find = typed
        self._show(self.model.begin_again)

    def line(self, row: int) -> RecordLine:
        """Return the record in a row."""
        found: Found = self.model.line(row)
        return found[0]

    def notice(self) -> str:
        """Say how many records there are, and how many of them were found."""
        whole = "1 record" if self.total == 1 else f"{self.total} records"
        return whole if self.count == self.total else f"{self.count} of {whole}"

    def begin_check(self) -> None:
        """Begin to verify every record, beside the window; nothing while something else is under way."""
        if self._check is not None and not self.is_busy:
            self._errand.begin(self._check)

    def begin_export(self, folder: Path) -> None:
        """Begin to write the records into a new folder; nothing while something else is under way."""
        export = self._export
        if export is not None and not self.is_busy:
            self._errand.begin(export(folder))

    def paper(self, number: int) -> "RecordPaper":
        """Return what prints a record, exactly as it was signed."""
        return RecordPaper(self, self._printer, number)

    def stop(self) -> None:
        """Ask the long work to stop."""
        self._errand.stop()

    def end(self) -> None:
        """Stop everything, and wait until nothing runs any more."""
        self._orders.stop()
        self._errand.end()

    def _show(self, show: Callable[[Sequence[Found]], None]) -> None:
        found = found_in(self._all, self._registrations, self.find)
        self.count, self.total = len(found), len(self._all)
        show(found)
        self.lines_changed.emit()

    def _take_orders(self, pages: tuple[tuple[OrderLine, ...], ...]) -> None:
        self._registrations = {line.number: line.registration for page in pages for line in page}
        self._show(self.model.show_lines)

    def _take(self, result: object) -> None:
        if isinstance(result, str):
            self.exported.emit(result)
        elif isinstance(result, Verified):
            self.checked.emit(said_of(result), result.is_sound)
        else:
            self.checked.emit((STOPPED,), False)  # noqa: FBT003 - a signal's value


class RecordPaper:
    """Prints one record; a refusal is said by its desk, and then there is no paper."""

    def __init__(self, desk: RecordSearchDesk, printer: PrintRecord | None, number: int) -> None:
        self._desk, self._printer, self._number = desk, printer, number

    def __call__(self, *, size: str, blank: bool) -> bytes | None:  # noqa: ARG002 - a record is never blank
        """Return the paper as PDF."""
        if self._printer is None:
            return None
        try:
            return self._printer(self._number, size)
        except Refusal as refusal:
            self._desk.refused.emit(refusal.sentence)
            return None


def said_of(found: Verified) -> tuple[str, ...]:
    """Say what the check of a shop found: how it is as a whole, then each problem and each note in its sentence."""
    records = "1 record" if found.count == 1 else f"{found.count} records"
    count = len(found.problems)
    problems = "1 problem" if count == 1 else f"{count} problems"
    verdict = "sound" if found.is_sound else f"not sound, {problems}"
    return (
        f"{verdict.capitalize()}: {records}, record seal {shown(found.head)}.",
        *((ALL_SOUND,) if found.is_sound else ()),
        *(visible(one.sentence) for one in found.problems),
        *(f"Note: {visible(one.sentence)}" for one in found.notes),
    )


def _pages(store: ShopStore) -> Iterator[tuple[OrderLine, ...]]:
    before: int | None = None
    while page := look_up(store, "", None, MOST_LINES, before):
        yield page
        before = page[-1].number
