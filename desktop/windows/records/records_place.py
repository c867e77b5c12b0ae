"""The place of the records: what is looked for, and the record that is open with its corrections."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.records.records_desk import RecordsDesk
from desktop.viewmodels.records.records_model import RecordSearchDesk
from desktop.windows.pieces.look import Look
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.records.records_page import RecordSearchPage


class OpenRecord(RecordsPage):
    """One record at a time; the way back leads to whoever opened it."""

    def show_list(self) -> None:
        """Lead back."""
        self.back_asked.emit()


class RecordsPlace(QWidget):
    """``paper_asked`` carries what prints a record, and the name of its file."""

    paper_asked = Signal(object, str)

    def __init__(self, search: RecordSearchDesk, signed: RecordsDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.search = RecordSearchPage(search, look)
        self.record = OpenRecord(signed, look)
        self._stack = QStackedWidget()
        for page in (self.search, self.record):
            self._stack.addWidget(page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.search.record_asked.connect(self.open_record)
        self.search.print_asked.connect(self._print)
        self.record.back_asked.connect(self.show_list)

    @property
    def is_begun(self) -> bool:
        """Whether a correction was typed that is not signed."""
        return self.record.is_begun

    def show_begun(self) -> None:
        """Show the correction that was typed."""
        self._stack.setCurrentWidget(self.record)
        self.record.show_begun()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.search.set_look(look)
        self.record.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of what is shown."""
        shown = self.record if self._stack.currentWidget() is self.record else self.search
        shown.say(words, refused=refused)

    def open_record(self, number: int) -> None:
        """Verify and show a record by its number."""
        self._stack.setCurrentWidget(self.record)
        self.record.open_record(number)

    def show_list(self) -> None:
        """Show the list, with the line chosen that was opened."""
        self._stack.setCurrentWidget(self.search)
        self.search.list_page.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def rest(self) -> None:
        """Stop what runs beside the window, before it closes."""
        self.search.rest()

    def _print(self, number: int) -> None:
        self.paper_asked.emit(self.search.desk.paper(number), f"record-{number:04d}")
