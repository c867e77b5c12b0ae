"""The signed records of a shop: found as one types, opened, printed again, taken out, and all of them verified."""

from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from desktop.viewmodels.records.records_model import RecordSearchDesk
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.progress_strip import ProgressStrip
from desktop.windows.records.check_result import CheckResult

KEYS = "Up, Down: choose   Enter: open   Alt+F: find   Alt+G: print again   Alt+V: verify all   Alt+X: export"
NO_RECORDS = (
    "No record yet",
    "What is signed stands here in one line, the newest first. A records keeper enrols people, at People.",
)
NOT_FOUND = ("Nothing found", "No record has all of these words. Take a letter away.")
FOR_THE_LIST = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class RecordSearchPage(QWidget):
    """Shows the records of a desk. ``record_asked`` and ``print_asked`` carry the number of a record."""

    record_asked = Signal(int)
    print_asked = Signal(int)

    def __init__(self, desk: RecordSearchDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._look = look
        self.list_page = ListPage("Records", desk.model, NO_RECORDS, "&Open the record", KEYS, look)
        self.search_field = QLineEdit()
        self.search_field.setMaxLength(200)
        self.search_field.setAccessibleName("Find")
        self.search_field.setPlaceholderText("Order, registration, person, kind or number")
        self.search_field.installEventFilter(self)
        self._find_label = QLabel("&Find")
        self._find_label.setBuddy(self.search_field)
        self.verify = QPushButton("&Verify all records")
        self.print_again = QPushButton("Print a&gain")
        self.export = QPushButton("E&xport…")
        self.strip = ProgressStrip(look)
        self.count = QLabel()
        self.count.setObjectName("quiet")
        self.count.setTextFormat(Qt.TextFormat.PlainText)
        self.result = CheckResult(look)
        self._build()
        self._connect()
        self.set_look(look)
        self._show_buttons()

    def _build(self) -> None:
        head = self.list_page.head
        head.addWidget(self._find_label)
        head.addWidget(self.search_field, 2)
        tools = QWidget()
        tools.setObjectName("ground")
        self._tools = QVBoxLayout(tools)
        self._buttons = QWidget()
        self._row = QHBoxLayout(self._buttons)
        self._row.setContentsMargins(0, 0, 0, 0)
        for button in (self.verify, self.print_again, self.export):
            button.setAutoDefault(True)
            self._row.addWidget(button)
        self._row.addStretch(1)
        self._row.addWidget(self.count)
        for widget in (self._buttons, self.strip):
            self._tools.addWidget(widget)
        self.strip.hide()
        column = self.list_page.layout()
        assert isinstance(column, QVBoxLayout)  # noqa: S101 - as that page builds it
        column.insertWidget(column.count() - 1, tools)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.list_page)
        self._stack.addWidget(self.result)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        order: tuple[QWidget, ...] = (
            *(self.search_field, self.list_page.table, self.verify, self.print_again, self.export),
            *(self.strip.stop, self.list_page.foot.act),
        )
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _connect(self) -> None:
        desk = self.desk
        self.search_field.textEdited.connect(desk.search)
        self.list_page.line_chosen.connect(self._open)
        self.list_page.foot.act.clicked.connect(self.list_page.table.choose)
        self.verify.clicked.connect(self._begin_check)
        self.print_again.clicked.connect(self._print)
        self.export.clicked.connect(self._ask_folder)
        self.strip.stop_asked.connect(desk.stop)
        self.result.back_asked.connect(self.show_list)
        desk.lines_changed.connect(self._show_lines)
        desk.went_on.connect(self.strip.show_pace)
        desk.checked.connect(self._show_result)
        desk.exported.connect(self._show_exported)
        desk.refused.connect(self._refuse)

    @property
    def is_begun(self) -> bool:
        """Whether something was typed that is not kept: what is looked for is not."""
        return False

    def show_begun(self) -> None:
        """Show what was typed and is not kept: there is nothing."""

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.list_page.set_look(look)
        self.strip.set_look(look)
        margin = look.pixels(24)
        self._tools.setContentsMargins(margin, look.pixels(4), margin, look.pixels(4))
        for row in (self._tools, self._row):
            row.setSpacing(look.pixels(8))
        self.result.set_look(look)

    def show_list(self) -> None:
        """Show the records."""
        self._stack.setCurrentWidget(self.list_page)
        self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the page."""
        self.list_page.foot.say(words, refused=refused)

    def rest(self) -> None:
        """Stop what runs beside the window, before it closes."""
        self.desk.end()
        self._end()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the list again, and begin in the search."""
        super().showEvent(event)
        self.desk.look()
        self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.search_field.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Move in the list and open from it while the search has the keyboard; Escape empties the search."""
        if watched is self.search_field and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            key = event.key()
            if key in FOR_THE_LIST:
                QApplication.sendEvent(self.list_page.table, event)
                return True
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.list_page.table.choose()
                return True
            if key == Qt.Key.Key_Escape and self.search_field.text():
                self.search_field.clear()
                self.desk.search("")
                return True
        return super().eventFilter(watched, event)

    def _open(self, row: int) -> None:
        self.record_asked.emit(self.desk.line(row).number)

    def _print(self) -> None:
        row = self.list_page.table.chosen()
        if row is not None:
            self.print_asked.emit(self.desk.line(row).number)

    def _begin_check(self) -> None:
        self._begin("Verifying every record")
        self.desk.begin_check()
        self._show_buttons()

    def _ask_folder(self) -> None:
        dialog = QFileDialog(self, "Export the records into a new folder")
        dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.selectFile("records")
        dialog.fileSelected.connect(lambda chosen: self._begin_export(Path(chosen)))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def _begin_export(self, folder: Path) -> None:
        self._begin("Writing the records")
        self.desk.begin_export(folder)
        self._show_buttons()

    def _begin(self, words: str) -> None:
        self.say("")
        self._buttons.hide()
        self.strip.begin(words, can_stop=True)
        self.strip.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def _end(self) -> None:
        self.strip.end()
        self._buttons.show()
        self._show_buttons()
        if self.isVisible() and self.window().focusWidget() not in (self.search_field, self.list_page.table):
            self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_result(self, said: tuple[str, ...], is_sound: bool) -> None:  # noqa: FBT001 - a signal's value
        self._end()
        self._stack.setCurrentWidget(self.result)
        self.result.show_result(said, is_sound=is_sound)

    def _show_exported(self, words: str) -> None:
        self._end()
        self.say(words)

    def _refuse(self, words: str) -> None:
        if self.strip.isVisible() and not self.desk.is_busy:
            self._end()
        self.say(words, refused=True)

    def _show_lines(self) -> None:
        self.count.setText(self.desk.notice() if self.desk.total else "")
        self.list_page.show_empty(*(NOT_FOUND if self.desk.total else NO_RECORDS))
        self._show_buttons()

    def _show_buttons(self) -> None:
        is_free, has_lines = not self.desk.is_busy, bool(self.desk.model.rowCount())
        self.verify.setEnabled(is_free and self.desk.can_check)
        self.export.setEnabled(is_free and self.desk.can_export)
        self.print_again.setEnabled(has_lines and self.desk.can_print)
        self.list_page.foot.act.setEnabled(has_lines)
