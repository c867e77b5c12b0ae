"""The locked window: who was here, and the one question, who goes on. Nothing of the shop's work is seen."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.signing.idle_lock import IdleLock
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.look import Look
from desktop.windows.signing.sign_dialog import SecretField

TITLE, GO_ON = "Locked", "&Go on"
KEPT = "What was typed is still there."
WIDTH = 320


class LockPage(QWidget):
    """Shows a lock. ``begin`` is told who was at the window."""

    def __init__(self, lock: IdleLock, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._lock = lock
        self._title = QLabel(TITLE)
        self._title.setObjectName("title")
        self.here = QLabel()
        self.here.setObjectName("quiet")
        self.here.setTextFormat(Qt.TextFormat.PlainText)
        self.here.setWordWrap(True)
        self.who = ChoiceBox(look)
        self.who.setAccessibleName("Who goes on")
        self.secret = SecretField()
        self._who_label = QLabel("&I am")
        self._who_label.setBuddy(self.who)
        self._secret_label = QLabel("Your &secret")
        self._secret_label.setBuddy(self.secret)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.setWordWrap(True)
        self.act = QPushButton(GO_ON)
        self.act.setObjectName("act")
        self.act.setAutoDefault(True)
        self._grid = QGridLayout()
        for row, (label, field) in enumerate(((self._who_label, self.who), (self._secret_label, self.secret))):
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(field, row, 1)
        self._grid.addWidget(self.said, 2, 1)
        self._grid.addWidget(self.act, 3, 1, Qt.AlignmentFlag.AlignRight)
        middle = QVBoxLayout()
        middle.addWidget(self._title)
        middle.addWidget(self.here)
        middle.addLayout(self._grid)
        outer = QGridLayout(self)
        outer.addLayout(middle, 1, 1)
        for side in (0, 2):
            outer.setRowStretch(side, 1)
            outer.setColumnStretch(side, 1)
        self.act.clicked.connect(self._go_on)
        self.secret.textEdited.connect(lambda _text: self.said.setText(""))
        lock.refused.connect(self._say)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.who.set_look(look)
        for widget in (self.who, self.secret, self.said):
            widget.setFixedWidth(look.pixels(WIDTH))
        self.here.setMaximumWidth(look.pixels(WIDTH + 120))
        self._grid.setHorizontalSpacing(look.pixels(16))
        self._grid.setVerticalSpacing(look.pixels(12))
        self._grid.setContentsMargins(0, look.pixels(24), 0, 0)

    def begin(self, person_id: str) -> None:
        """Say who was here, and ask who goes on."""
        people = self._lock.people()
        was = next((one for one in people if one.id == person_id), None)
        since = self._lock.since
        time = f" until {since:%H:%M}" if since else ""
        self.here.setText(f"{f'{was.name} ({was.id}) was here' if was else 'Somebody was here'}{time}. {KEPT}")
        self.who.clear()
        for one in people:
            self.who.addItem(f"{one.name} ({one.id})", one.id)
        self.who.setCurrentIndex(max(0, self.who.findData(person_id)))
        asks = self._lock.asks_secret
        self._secret_label.setVisible(asks)
        self.secret.setVisible(asks)
        self.secret.take()
        self.said.setText("")
        (self.secret if asks else self.act).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go on with Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._go_on()
        else:
            super().keyPressEvent(event)

    def _go_on(self) -> None:
        if self._lock.asks_secret and not self.secret.text():
            self._say("Type your secret, then go on.")
            return
        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            self._lock.open(str(self.who.currentData() or ""), self.secret.take())
        finally:
            QApplication.restoreOverrideCursor()

    def _say(self, words: str) -> None:
        self.said.setText(words)
        target = self.secret if self._lock.asks_secret else self.act
        target.setAccessibleDescription(words)
        if self.isVisible():
            target.setFocus(Qt.FocusReason.OtherFocusReason)
