"""The signed records: their list, one of them after it was verified, with what corrects it, and a correction."""

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QPushButton, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.records.records_desk import UNSIGNED, CorrectionForm, RecordsDesk
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

KEYS = "Up, Down: choose   Enter: open"
NO_RECORDS = ("No record yet", UNSIGNED)
NONE_OF_ORDER = (
    "No signed record of this order yet",
    "A card that is submitted, accepted or returned stands here once it is signed, and so does the approval.",
)
CORRECT = "&Correct…"
TASK = "The record stays as it was signed. The correction names it, and every print of it shows the correction."


class RecordView(QWidget):
    """One record that was found sound; of any other it says why, and shows nothing."""

    back_asked = Signal()
    correct_asked = Signal()

    def __init__(self, desk: RecordsDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._desk = desk
        self._look = look
        self.head = QLabel()
        self.corrections = QLabel()
        for label in (self.head, self.corrections):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("What the record says")
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.foot = PageFoot("&Back to the records", "PgDn: read on   Alt+C: correct   Esc: back")
        self.correct = QPushButton(CORRECT)
        self.correct.setAutoDefault(True)
        sheet = QWidget()
        sheet.setObjectName("sheet")
        self._column = QVBoxLayout(sheet)
        self._column.addWidget(self.head)
        self._column.addWidget(self.corrections)
        self._column.addWidget(self.text, 1)
        self._column.addWidget(self.correct, 0, Qt.AlignmentFlag.AlignLeft)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        area = QScrollArea()
        area.setObjectName("sheet")
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(sheet)
        outer.addWidget(area, 1)
        outer.addWidget(self.foot)
        for one, other in pairwise((self.text, self.correct, self.foot.act)):
            QWidget.setTabOrder(one, other)
        self.correct.clicked.connect(self.correct_asked)
        self.foot.act.clicked.connect(self.back_asked)
        desk.changed.connect(self.show_record)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(12))
        c = look.colours
        self.text.setStyleSheet(
            f"QPlainTextEdit {{ background: {c.sheet}; color: {c.ink}; border: 1px solid {c.line}; }}"
            f"QPlainTextEdit:focus {{ border: 2px solid {c.act}; }}"
        )
        self.text.setMinimumHeight(look.pixels(200))
        self.foot.set_look(look, self.width())
        self.show_record()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange the foot anew."""
        super().resizeEvent(event)
        self.foot.set_look(self._look, self.width())

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Begin with the reading."""
        super().showEvent(event)
        (self.text if self._desk.seen else self.foot.act).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def show_record(self) -> None:
        """Show the open record."""
        desk, c = self._desk, self._look.colours
        is_sound = desk.seen is not None
        self.head.setText(desk.head_words())
        colour = c.good if is_sound else c.stop
        self.head.setStyleSheet(f"color: {colour}; font-size: {self._look.points(13)}pt; font-weight: bold")
        said = desk.corrections()
        self.corrections.setText("\n\n".join(said))
        self.corrections.setVisible(bool(said))
        self.corrections.setStyleSheet(f"color: {c.ask}; border: 2px solid {c.ask}; padding: 8px; font-weight: bold")
        self.text.setPlainText(desk.text())
        self.text.setVisible(is_sound)
        self.correct.setVisible(is_sound)


class RecordsPage(QWidget):
    """The records of a desk; ``back_asked`` comes from the list of one order's records."""

    back_asked = Signal()

    def __init__(self, desk: RecordsDesk, look: Look, back: str = "") -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._form = CorrectionForm(self)
        self._leads_back = bool(back)
        title = "Signed records of the order" if back else "Signed records"
        empty = NONE_OF_ORDER if back else NO_RECORDS
        self.list_page = ListPage(title, desk.model, empty, back or "&Open the record", KEYS, look)
        self.record = RecordView(desk, look)
        self.entry = EntryPage(self._form, "Look at it, then sign", "Back to the record", look)
        self._stack = QStackedWidget()
        for page in (self.list_page, self.record, self.entry):
            self._stack.addWidget(page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.list_page.line_chosen.connect(self.open_line)
        self.list_page.foot.act.clicked.connect(self._act)
        self.record.back_asked.connect(self.show_list)
        self.record.correct_asked.connect(self.open_correction)
        self.entry.back_asked.connect(self._show_record)
        self.entry.keep_asked.connect(self._correct)
        desk.refused.connect(lambda words: self.say(words, refused=True))
        desk.moved.connect(self._take_moved)

    @property
    def is_begun(self) -> bool:
        """Whether a correction was typed that is not signed."""
        self.entry.commit_all()
        return self._form.is_begun

    def show_begun(self) -> None:
        """Show the correction that was typed."""
        self._stack.setCurrentWidget(self.entry)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        for page in (self.list_page, self.record, self.entry):
            page.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of what is shown."""
        shown = self._stack.currentWidget()
        foot = next(page.foot for page in (self.list_page, self.record, self.entry) if page is shown)
        foot.say(words, refused=refused)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the list again."""
        super().showEvent(event)
        self.desk.look()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back from the list of one order's records."""
        if event.key() == Qt.Key.Key_Escape and self._leads_back:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def show_list(self) -> None:
        """Show the list."""
        self._stack.setCurrentWidget(self.list_page)

    def open_line(self, row: int) -> None:
        """Verify and show the record of a line."""
        self.open_record(self.desk.model.line(row).number)

    def open_record(self, number: int) -> None:
        """Verify and show a record by its number."""
        self.desk.open_record(number)
        self._show_record()

    def open_correction(self) -> None:
        """Begin a correction of the open record."""
        if self.desk.seen is None:
            return
        self._form.begin({}, 0)
        self._stack.setCurrentWidget(self.entry)
        self.entry.begin(f"Correct record {self.desk.seen.number}", TASK)

    def _show_record(self) -> None:
        self._stack.setCurrentWidget(self.record)

    def _correct(self) -> None:
        if self.desk.seen is not None:
            self.desk.correct(self._form.correction(self.desk.seen.number))

    def _take_moved(self, words: str) -> None:
        self._form.begin({}, 0)
        self._show_record()
        self.say(words)

    def _act(self) -> None:
        row = self.list_page.table.chosen()
        if self._leads_back:
            self.back_asked.emit()
        elif row is not None:
            self.open_line(row)
