"""The small dialog of enrolling, a new secret, withdrawing and unlocking: each secret is typed and forgotten."""

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from desktop.viewmodels.signing.enrol_desk import Asks, Typed
from desktop.windows.pieces.look import Look
from desktop.windows.signing.sign_dialog import SecretField

MOST_REASON = 500


class EnrolDialog(QDialog):
    """Asks for what a deed needs; ``do`` does it and returns why it was not done, empty when it was."""

    def __init__(self, asks: Asks, do: Callable[[Typed], str], look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._do = do
        self.setWindowTitle(asks.title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        title = QLabel(asks.title)
        title.setObjectName("group")
        task = QLabel(asks.task)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.said.hide()
        for label in (title, task, self.said):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.new_secret, self.again = SecretField("New secret"), SecretField("New secret, once more")
        self.reason = QLineEdit()
        self.reason.setMaxLength(MOST_REASON)
        self.reason.setAccessibleName("Reason")
        self.secret = SecretField(f"Secret of {asks.secret_of}")
        self.act = QPushButton(asks.act)
        self.act.setObjectName("act")
        self.act.setDefault(True)
        self.cancel = QPushButton("Leave it as it is")
        self._grid = QGridLayout()
        self.asked: list[QLineEdit] = []
        self._ask(asks)
        buttons = QHBoxLayout()
        buttons.addWidget(self.cancel)
        buttons.addStretch(1)
        buttons.addWidget(self.act)
        self._column = QVBoxLayout(self)
        for widget in (title, task):
            self._column.addWidget(widget)
        self._column.addLayout(self._grid)
        self._column.addWidget(self.said)
        self._column.addStretch(1)
        self._column.addLayout(buttons)
        for one, other in pairwise((*self.asked, self.act, self.cancel)):
            QWidget.setTabOrder(one, other)
        self.act.clicked.connect(self._act)
        self.cancel.clicked.connect(self.reject)
        self.finished.connect(lambda _result: self._forget())
        self.set_look(look)
        self.resize(min(look.pixels(640), parent.window().width() - 24), self.sizeHint().height())
        self.asked[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _ask(self, asks: Asks) -> None:
        """Lay out the fields that are asked for; the others stay out of sight."""
        rows = (
            (asks.new_secret, "&New secret", self.new_secret),
            (asks.new_secret, "Once &more", self.again),
            (asks.reason, "&Reason", self.reason),
            (bool(asks.secret_of), f"&Secret of {asks.secret_of}{asks.who_is}", self.secret),
        )
        for number, (is_asked, words, field) in enumerate(rows):
            if not is_asked:
                field.setParent(self)
                field.hide()
                continue
            label = QLabel(words)
            label.setWordWrap(True)
            label.setBuddy(field)
            self._grid.addWidget(label, number, 0)
            self._grid.addWidget(field, number, 1)
            self.asked.append(field)
        self._grid.setColumnStretch(1, 1)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text."""
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(12))
        self._grid.setHorizontalSpacing(look.pixels(12))
        self._grid.setVerticalSpacing(look.pixels(8))
        self._grid.setColumnMinimumWidth(0, look.pixels(176))

    def _act(self) -> None:
        empty = next((field for field in self.asked if not field.text().strip()), None)
        if empty is not None:
            empty.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        typed = Typed(self.new_secret.text(), self.again.text(), self.reason.text().strip(), self.secret.text())
        self._forget()
        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            trouble = self._do(typed)
        finally:
            QApplication.restoreOverrideCursor()
        if not trouble:
            self.accept()
            return
        self.said.setText(trouble)
        self.said.show()
        self.asked[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _forget(self) -> None:
        """Forget every secret."""
        for field in (self.new_secret, self.again, self.secret):
            field.take()
