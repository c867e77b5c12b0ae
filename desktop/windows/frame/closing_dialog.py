"""The copy on closing: how far it is, what became of it, and a way to close without it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.frame.closing_copy import ClosingCopy
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.progress_strip import ProgressStrip

COMES = "A copy of the shop file is being made and read back. Then the window closes."
WIDTH = 520


class ClosingDialog(QDialog):
    """Makes the copy; ``may_close`` comes when it is made, or when somebody closes without it."""

    may_close = Signal()

    def __init__(self, copy: ClosingCopy, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._copy = copy
        self.setWindowTitle("Copy on closing")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.words = QLabel(COMES)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.strip = ProgressStrip(look)
        self.stay = QPushButton("&Stay here")
        self.without = QPushButton("Close &without a copy")
        self.again = QPushButton("&Try again")
        self.again.setObjectName("act")
        self.again.hide()
        row = QHBoxLayout()
        row.addWidget(self.stay)
        row.addStretch(1)
        row.addWidget(self.without)
        row.addWidget(self.again)
        self._column = QVBoxLayout(self)
        for widget in (self.words, self.strip):
            self._column.addWidget(widget)
        self._column.addLayout(row)
        self.stay.clicked.connect(self.reject)
        self.without.clicked.connect(self._close_without)
        self.again.clicked.connect(self.begin)
        copy.went_on.connect(self.strip.show_pace)
        copy.ended.connect(self._take)
        self.finished.connect(lambda _result: copy.end())
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(16))
        self.setMinimumWidth(look.pixels(WIDTH))

    def begin(self) -> None:
        """Begin to make the copy."""
        self.words.setObjectName("")
        self._dress()
        self.words.setText(COMES)
        self.again.hide()
        self.strip.begin("Copying", can_stop=False)
        self.without.setFocus()
        self._copy.begin()

    def _take(self, is_made: bool, sentence: str) -> None:  # noqa: FBT001 - a signal's value
        if is_made:
            self.accept()
            self.may_close.emit()
            return
        self.words.setObjectName("refusal")
        self._dress()
        self.words.setText(sentence)
        self.strip.end()
        self.again.show()
        self.again.setFocus()

    def _close_without(self) -> None:
        self.accept()
        self.may_close.emit()

    def _dress(self) -> None:
        self.words.style().unpolish(self.words)
        self.words.style().polish(self.words)
