"""The dialog of a signature: what is signed and what it means, the key, the secret, and what was read back."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from desktop.core.shop.people.secrets import MOST_CHARACTERS
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.signing.sign_session import AGAIN, SignSession
from desktop.windows.pieces.finding_list import Ring
from desktop.windows.pieces.look import Look

TITLE = "Sign"
MOST_SINCE = 3
FOR_THE_TEXT = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class SecretField(QLineEdit):
    """Takes a secret: it is not shown, not copied, not dragged, and forgotten when the dialog closes."""

    def __init__(self, name: str = "Your secret") -> None:
        super().__init__()
        self.setEchoMode(QLineEdit.EchoMode.Password)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.setDragEnabled(False)
        self.setMaxLength(MOST_CHARACTERS + 1)  # one more, so that a longer one is refused and never cut
        self.setInputMethodHints(
            Qt.InputMethodHint.ImhHiddenText
            | Qt.InputMethodHint.ImhNoPredictiveText
            | Qt.InputMethodHint.ImhSensitiveData
            | Qt.InputMethodHint.ImhNoAutoUppercase
        )
        self.setAccessibleName(name)

    def take(self) -> str:
        """Return what was typed, and forget it; nothing is left to undo."""
        secret = self.text()
        self.setText("")
        return secret


class SignDialog(QDialog):
    """Shows one session, which says itself what was signed."""

    def __init__(self, session: SignSession, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.session = session
        self._owner = parent
        self._look = look
        session.setParent(self)
        self.setWindowTitle(TITLE)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._what = QLabel()
        self._what.setObjectName("group")
        self.meaning = QLabel()
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self._since_title = QLabel("Your last signature, and what was signed in your name since")
        self._since_title.setObjectName("small")
        self.since = QLabel()
        self.notices = QLabel()
        self.notices.setObjectName("refusal")
        self.key_line = QLabel()
        self.secret = SecretField()
        self.secret.installEventFilter(self)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.again = QPushButton(AGAIN)
        self.cancel = QPushButton("Do not sign")
        self.act = QPushButton("Sign")
        self.act.setObjectName("act")
        self.act.setDefault(True)
        for label in (self._what, self.meaning, self.since, self.notices, self.key_line, self.said):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self._build()
        self.act.clicked.connect(self._act)
        self.cancel.clicked.connect(self.reject)
        self.again.clicked.connect(session.look_again)
        self.secret.textEdited.connect(lambda _text: self.said.hide())
        session.shown_changed.connect(self.show_session)
        session.key_changed.connect(lambda _key: self._show_key())
        session.refused.connect(self._say)
        session.signed.connect(lambda _kept: self._show_signed())
        self.finished.connect(lambda _result: self._forget())
        self.set_look(look)
        self.show_session()

    def _build(self) -> None:
        self._ring_row = QHBoxLayout()
        self._ring: Ring | None = None
        self._ring_row.addWidget(self.meaning, 1)
        self._label = QLabel("Your &secret")
        self._label.setBuddy(self.secret)
        self._secret_row = QHBoxLayout()
        self._secret_row.addWidget(self._label)
        self._secret_row.addWidget(self.secret, 1)
        self._buttons = QHBoxLayout()
        self._buttons.addWidget(self.cancel)
        self._buttons.addWidget(self.again)
        self._buttons.addStretch(1)
        self._buttons.addWidget(self.act)
        self._column = QVBoxLayout(self)
        self._column.addWidget(self._what)
        self._column.addWidget(self.text, 1)
        self._column.addLayout(self._ring_row)
        for widget in (self._since_title, self.since, self.notices):
            self._column.addWidget(widget)
        self._column.addLayout(self._secret_row)
        self._column.addWidget(self.said)
        self._column.addWidget(self.key_line)
        self._column.addLayout(self._buttons)
        order = (self.secret, self.act, self.cancel, self.again, self.text)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text."""
        self._look = look
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(8))
        self._secret_row.setSpacing(look.pixels(12))
        self._buttons.setSpacing(look.pixels(12))
        self.meaning.setFont(look.font(16, bold=True))
        self.meaning.setStyleSheet(f"font-size: {look.points(16)}pt; font-weight: bold")
        room = self._owner.window().size()
        self.resize(
            min(look.pixels(920), max(room.width() - 24, 640)), min(look.pixels(720), max(room.height() - 24, 480))
        )

    def show_session(self) -> None:
        """Show what is to be signed."""
        session = self.session
        self._what.setText(f"{session.title}. To be signed by {session.signer}")
        self.meaning.setText(session.meaning)
        self.meaning.setAccessibleName(f"It means: {session.meaning}")
        self.text.setPlainText(session.text())
        self.text.setAccessibleName("What is signed")
        lines = session.since_lines()
        more = len(lines) - MOST_SINCE
        shown = lines[-MOST_SINCE:]
        self.since.setText("\n".join((*shown, *((f"and {more} before these",) if more > 0 else ()))))
        self.since.setToolTip("\n".join(lines) if more > 0 else "")
        self.notices.setText("\n".join(session.key.notices))
        self.notices.setVisible(bool(session.key.notices))
        self.said.hide()
        self._show_key()
        self.secret.setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Scroll the text by the keys while the secret has the keyboard."""
        is_key = watched is self.secret and event.type() == QEvent.Type.KeyPress
        if is_key and isinstance(event, QKeyEvent) and event.key() in FOR_THE_TEXT:
            bar = self.text.verticalScrollBar()
            step = bar.pageStep() if event.key() in FOR_THE_TEXT[2:] else bar.singleStep()
            bar.setValue(bar.value() + (step if event.key() in FOR_THE_TEXT[1::2] else -step))
            return True
        return super().eventFilter(watched, event)

    def _act(self) -> None:
        if self.session.kept is not None:
            self.accept()
            return
        if not self.session.may_sign():
            self.secret.take()
            return
        if not self.secret.text():
            self._say("Type your secret, then sign.")
            return
        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            self.session.sign(self.secret.take())
        finally:
            QApplication.restoreOverrideCursor()

    def _say(self, words: str) -> None:
        self.said.setText(words)
        self.said.setVisible(bool(words))
        self.secret.setAccessibleDescription(words)
        if not self.session.is_outdated:
            self.secret.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_key(self) -> None:
        session = self.session
        if session.kept is not None:
            return
        words = session.key_words()
        self.key_line.setText(words)
        self.key_line.setVisible(bool(words))
        may_sign = session.may_sign()
        self.act.setEnabled(may_sign)
        # The act's own colours would hide that it waits.
        self.act.setObjectName("act" if may_sign else "")
        self.act.style().unpolish(self.act)
        self.act.style().polish(self.act)
        self.again.setVisible(session.is_outdated)
        if session.is_outdated:
            self.again.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_signed(self) -> None:
        """Show what was read back, verified, from the file."""
        kept = self.session.kept
        if kept is None:
            return
        self.text.setPlainText(self.session.text())
        self.text.setAccessibleName("What was signed, read back from the file")
        seal = f"record {kept.number}, record seal {kept.seal}"
        self._what.setText(f"Signed: {seal}. Read back from the file and verified:")
        self._ring = Ring(Progress.DONE, self._look, 20)
        self._ring_row.insertWidget(0, self._ring, 0, Qt.AlignmentFlag.AlignVCenter)
        for widget in (
            self._since_title,
            self.since,
            self.notices,
            self._label,
            self.secret,
            self.said,
            self.key_line,
            self.again,
            self.cancel,
        ):
            widget.hide()
        self.act.setObjectName("act")
        self.act.style().unpolish(self.act)
        self.act.style().polish(self.act)
        self.act.setText("Close")
        self.act.setEnabled(True)
        self.act.setFocus(Qt.FocusReason.OtherFocusReason)

    def _forget(self) -> None:
        """Forget the secret and look at the key no more."""
        self.secret.take()
        self.session.rest()
