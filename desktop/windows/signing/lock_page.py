"""The one question, who works here: at the beginning, at a change, and in a locked window. No work is seen."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.signing.idle_lock import IdleLock
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.person_box import PersonBox
from desktop.windows.signing.sign_dialog import SecretField

TITLE, ASKED, GO_ON = "Locked", "Who works here", "&Go on"
HOW = "Type your initials or the first letters of your name, then press Enter."
KEPT = "What was typed is still there."
WIDTH = 320


class LockPage(QWidget):
    """Shows a lock. ``begin`` is told who was at the window; ``left`` comes when nobody wants to change that."""

    left = Signal()

    def __init__(self, lock: IdleLock, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._lock = lock
        self._person = ""
        self.title = QLabel(TITLE)
        self.title.setObjectName("title")
        self.here = QLabel()
        self.here.setObjectName("quiet")
        self.here.setTextFormat(Qt.TextFormat.PlainText)
        self.here.setWordWrap(True)
        self.who = PersonBox(look)
        self.who.setAccessibleName("Who goes on")
        self.secret = SecretField()
        self._who_label = QLabel("&Who works here")
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
        middle.addWidget(self.title)
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
        """Say who was here, and ask who goes on; ``person_id`` is who is at work, or was last.

        In a locked window the same person goes on as a rule: the keyboard is at the secret. When somebody asked who
        works here it is at the name.
        """
        self._person = person_id
        people = self._lock.people()
        was = next((one for one in people if one.id == person_id), None)
        is_asking = self._lock.is_asking
        self.title.setText(ASKED if is_asking else TITLE)
        self._who_label.setText("&Name" if is_asking else "&Who works here")
        since = self._lock.since
        time = f" until {since:%H:%M}" if since else ""
        here = f"{f'{was.name} ({was.id}) was here' if was else 'Somebody was here'}{time}. {KEPT}"
        self.here.setText(HOW if is_asking else here)
        self.who.show_people([(one.id, one.name) for one in people], person_id)
        asks = self._lock.asks_secret
        self._secret_label.setVisible(asks)
        self.secret.setVisible(asks)
        self.secret.take()
        self.said.setText("")
        target = self.who if is_asking else self.secret if asks else self.act
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def tell(self, words: str) -> None:
        """Say something before the question; it goes when the question is asked anew."""
        self.here.setText(f"{words} {self.here.text()}")

    def choose(self, person_id: str) -> None:
        """Choose a person who was named in the menu; only the secret is left to ask for."""
        self.who.setCurrentIndex(max(0, self.who.findData(person_id)))
        if self._lock.asks_secret:
            self.secret.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go on with Enter, from the name to the secret where one is asked for; Escape leaves who is at work."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.who.hasFocus() and self._lock.asks_secret and not self.secret.text():
                self.secret.setFocus(Qt.FocusReason.OtherFocusReason)
            else:
                self._go_on()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
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
