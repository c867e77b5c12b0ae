"""What the check of all records found: whether they are sound, and each problem in its sentence."""

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.card_words import Progress
from desktop.windows.pieces.finding_list import Ring, ring_colour
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

KEYS = "PgDn: read on   Esc: back"


class ResultLine(QWidget):
    """The verdict in one line, by word and by ring; nothing before the first check."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._ring: Ring | None = None
        self._is_sound: bool | None = None
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(self.words, 1)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self._row.setSpacing(look.pixels(12))
        self._dress()

    def show_result(self, words: str, *, is_sound: bool | None) -> None:
        """Show a verdict; None for none."""
        self._is_sound = is_sound
        self.words.setText(words)
        self._dress()

    def _dress(self) -> None:
        if self._ring is not None:
            self._ring.hide()
            self._ring.deleteLater()
            self._ring = None
        if self._is_sound is None:
            return
        progress = Progress.DONE if self._is_sound else Progress.STOPS
        self._ring = Ring(progress, self._look, 20)
        self._row.insertWidget(0, self._ring)
        colour, points = ring_colour(progress, self._look), self._look.points(13)
        self.words.setStyleSheet(f"color: {colour}; font-size: {points}pt; font-weight: bold")


class CheckResult(QWidget):
    """The verdict, and below it what was found; ``back_asked`` leads to the records."""

    back_asked = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self._look = look
        self.line = ResultLine(look)
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("What the check found")
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.foot = PageFoot("&Back to the records", KEYS)
        self._column = QVBoxLayout()
        self._column.addWidget(self.line)
        self._column.addWidget(self.text, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._column, 1)
        outer.addWidget(self.foot)
        for one, other in pairwise((self.text, self.foot.act)):
            QWidget.setTabOrder(one, other)
        self.foot.act.clicked.connect(self.back_asked)
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
        self.line.set_look(look)
        self.foot.set_look(look, self.width())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange the foot anew."""
        super().resizeEvent(event)
        self.foot.set_look(self._look, self.width())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def show_result(self, said: tuple[str, ...], *, is_sound: bool) -> None:
        """Show what was found, one sentence a line."""
        self.line.show_result(said[0], is_sound=is_sound)
        self.text.setPlainText("\n".join(said[1:]))
        self.text.setFocus(Qt.FocusReason.OtherFocusReason)
