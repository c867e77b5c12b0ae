"""What is coming due in lines, the nearest first, and how near each is by word and by ring."""

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.typed_text import plain
from desktop.usecases.shop.lists.look_back import ComingLine, coming_from, current_sheets
from desktop.usecases.shop.lists.order_facts import facts_back
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.pieces.order_words import day_words
from desktop.viewmodels.pieces.piecewise import Piecewise

SOON_DAYS, SOON_HOURS = 30, 25
"""From when on something is said to be due soon: common practice, no source."""
READING = "Reading the orders"
HOURS_SAID = "Hours are the aircraft's total time at its newest intake; since then it has flown more."


def standing_words(line: ComingLine) -> str:
    """Say how near something is: overdue, due soon, later, or not known."""
    coming = line.coming
    hours, days = coming.hours_left, coming.days_left
    if coming.is_overdue:
        return "overdue"
    if (days is not None and days <= SOON_DAYS) or (hours is not None and hours <= SOON_HOURS):
        return "due soon"
    return "not known" if hours is None and days is None else "later"


def ring_of(line: ComingLine) -> Progress:
    """Return the shape that goes with the word."""
    rings = {"overdue": Progress.STOPS, "due soon": Progress.OPEN}
    return rings.get(standing_words(line), Progress.EMPTY)


def left_words(line: ComingLine) -> str:
    """Say what is left, or how much is over; hours that cannot be counted are said as that."""
    coming = line.coming
    hours, days = coming.hours_left, coming.days_left
    over = (hours is not None and hours < 0, days is not None and days < 0)
    hours_said = "" if hours is None else f"{plain(abs(hours), 1)} h"
    days_said = "" if days is None else _days(abs(days))
    if hours_said and days_said and over == (False, False):
        return f"{hours_said} or {days_said} left"
    parts = [
        f"{said} {'over' if is_over else 'left'}"
        for said, is_over in zip((hours_said, days_said), over, strict=True)
        if said
    ]
    if coming.due.at_hours is not None and hours is None:
        parts.append("hours now not known")
    return ", ".join(parts) or "not known when last done"


def at_words(line: ComingLine) -> str:
    """Say when something is due: at hours, on a day, or both."""
    due = line.coming.due
    hours = f"at {plain(due.at_hours)} h" if due.at_hours is not None else ""
    day = f"on {day_words(due.on)}" if due.on else ""
    return " or ".join(part for part in (hours, day) if part)


def subject_words(line: ComingLine) -> str:
    """Name what it is due on by its serial."""
    due = line.coming.due
    return due.serial if due.serial == line.place else f"{due.subject.value} {due.serial}"


def hours_words(line: ComingLine) -> str:
    """Say the hours that were compared, and the day on which they were written."""
    if line.hours_now is None or line.hours_on is None:
        return ""
    return f"{plain(line.hours_now)} h on {day_words(line.hours_on)}"


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def what_words(line: ComingLine) -> str:
    """Say what is due, and how often where a limits sheet asks for it."""
    return ", ".join(part for part in (line.coming.due.what, line.every) if part)


DUE_COLUMNS = (
    ListColumn("State", standing_words, 124, ring=ring_of, narrow_width=128),
    ListColumn("What", what_words, below=("Due on", "Aircraft"), narrow_width=0),
    ListColumn("Due on", subject_words, 168, strong=True),
    ListColumn("Aircraft", lambda line: line.place, 136, quiet=True),
    ListColumn("Left", left_words, 190, below=("Due", "Hours now"), narrow_width=230),
    ListColumn("Due", at_words, 236),
    ListColumn("Hours now", hours_words, 184, quiet=True),
)


class DueDesk(QObject):
    """What is coming due in a shop, by directives and by the intervals of the current limits sheets.

    The orders are read piece by piece, and only when something was written since. ``went_on`` says how many were read.
    """

    lines_changed = Signal()
    went_on = Signal(int)
    refused = Signal(str)

    def __init__(self, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self._seen: int | None = None
        self._sheets: tuple[Sheet, ...] = ()
        self.model = LinesModel(DUE_COLUMNS, _key, self)
        self._pieces = Piecewise(self)
        self._pieces.went_on.connect(self.went_on)
        self._pieces.refused.connect(self._refuse)
        self._pieces.finished.connect(self._show)

    @property
    def is_busy(self) -> bool:
        """Whether the orders are being read."""
        return self._pieces.is_busy

    def look(self) -> None:
        """Read the orders, when something was written since they were read."""
        try:
            count = self._shop.store.change_count()
            sheets = current_sheets(self._shop.store)
        except Refusal as refusal:
            self._refuse(refusal.sentence)
            return
        if (count, sheets) != (self._seen, self._sheets):
            self._seen, self._sheets = count, sheets
            self._pieces.begin(facts_back(self._shop.store))

    def rest(self) -> None:
        """Read no more; what was read only in part is read again the next time."""
        if self.is_busy:
            self._pieces.stop()
            self._seen = None

    def magneto_at(self, row: int) -> str:
        """Return the serial of the magneto in a row; empty for an engine."""
        due = self.model.line(row).coming.due
        return due.serial if due.subject is Subject.MAGNETO else ""

    def _show(self, facts: tuple[object, ...]) -> None:
        today = self._shop.clock.now().date()
        self.model.show_lines(coming_from(facts, today, self._sheets))  # type: ignore[arg-type]  # what facts_back gives
        self.lines_changed.emit()

    def _refuse(self, sentence: str) -> None:
        self._seen = None
        self.refused.emit(sentence)


def _key(line: ComingLine) -> tuple[str, str, Subject]:
    due = line.coming.due
    return due.what, due.serial, due.subject
