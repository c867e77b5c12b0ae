"""A box above the fields: warning with a double frame, caution with a thick one, note with a thin one."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from desktop.windows.pieces.look import Look

WARNING, CAUTION = "warning", "caution"


class CautionBox(QWidget):
    """Its word, and the hazard first; frame and word carry the meaning, no colour does."""

    def __init__(self, kind: str, words: str, look: Look) -> None:
        super().__init__()
        self._kind = kind
        self._look = look
        self._row = QHBoxLayout(self)
        self._word = QLabel(kind.upper())
        text = QLabel(words)
        text.setWordWrap(True)
        text.setTextFormat(Qt.TextFormat.PlainText)
        self._row.addWidget(self._word, 0, Qt.AlignmentFlag.AlignTop)
        self._row.addWidget(text, 1)
        self.setAccessibleName(f"{kind.upper()}. {words}")
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        side = look.pixels(16)
        self._row.setContentsMargins(side, look.pixels(12), side, look.pixels(12))
        self._row.setSpacing(look.pixels(16))
        self._word.setFixedWidth(look.pixels(84))
        self._word.setStyleSheet(f"font-weight: bold; letter-spacing: {look.pixels(1)}px")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the frame of its kind."""
        width = self._look.pixels(3 if self._kind == CAUTION else 1)
        with QPainter(self) as painter:
            painter.setPen(QPen(QColor(self._look.colours.ink), width))
            frame = QRectF(self.rect()).adjusted(width / 2, width / 2, -width / 2, -width / 2)
            painter.drawRect(frame)
            if self._kind == WARNING:
                gap = self._look.pixels(4)
                painter.drawRect(frame.adjusted(gap, gap, -gap, -gap))
