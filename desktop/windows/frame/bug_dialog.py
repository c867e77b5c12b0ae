"""What is shown when the program itself makes a mistake: what to do, and a report to copy that says nothing private."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

TITLE = "A fault of the program"
WORDS = (
    "The program made a mistake. What was typed is still there: keep or save it, and go on. If it happens again at the "
    "same place, close the program and open it again."
)
REPORT = (
    "The report below says which parts of the program took part, and nothing of the shop. Copy it to whoever looks "
    "after the program."
)
LINES = 9
COPY, COPIED = "&Copy the report", "Copied"


class BugDialog(QDialog):
    """Shows one report; a further mistake while it is open is only counted."""

    def __init__(self, report: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(TITLE)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._count = 1
        self._words = QLabel(WORDS)
        self._about = QLabel(REPORT)
        self._about.setObjectName("quiet")
        self.more = QLabel()
        for label in (self._words, self._about, self.more):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.more.hide()
        self.text = QPlainTextEdit(report)
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("Report")
        self.text.setLineWrapMode(QPlainTextEdit.LineWrapMode.WidgetWidth)
        self.copy = QPushButton(COPY)
        self.copy.clicked.connect(self._copy)
        self.act = QPushButton("&Go on")
        self.act.setObjectName("act")
        self.act.setDefault(True)
        self.act.clicked.connect(self.accept)
        row = QHBoxLayout()
        row.addWidget(self.copy)
        row.addStretch(1)
        row.addWidget(self.act)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        for widget in (self._words, self.more, self._about, self.text):
            column.addWidget(widget, 1 if widget is self.text else 0)
        column.addLayout(row)
        self.resize(720, 480)
        self.act.setFocus()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Give the report some lines of room, at whatever size of text the window has."""
        super().showEvent(event)
        self.text.setMinimumHeight(LINES * self.text.fontMetrics().height())
        needed = self._column.totalHeightForWidth(self.width())
        self.resize(self.width(), max(self.height(), needed))

    def count_another(self) -> None:
        """Say that there was another mistake; its report is in the log."""
        self._count += 1
        self.more.setText(f"It happened {self._count} times. The report is of the first.")
        self.more.show()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.copy.setText(COPIED)
