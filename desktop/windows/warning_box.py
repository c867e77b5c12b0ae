"""A warning above the fields: a double frame, its word, and the hazard; black on paper and quiet on screen."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from desktop.windows.look import Look


class WarningBox(QWidget):
    """Shows a warning; nothing at all while there is none."""

    def __init__(self) -> None:
        super().__init__()
        self._look = Look()
        self._row = QHBoxLayout(self)
        self._word = QLabel("WARNING")
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._row.addWidget(self._word)
        self._row.addWidget(self._text, 1)

    def show_words(self, words: str) -> None:
        """Show other words."""
        self._text.setText(words)
        self.setAccessibleName(f"WARNING. {words}")
        self.setVisible(bool(words))

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        side = look.pixels(16)
        self._row.setContentsMargins(side, look.pixels(12), side, look.pixels(12))
        self._row.setSpacing(look.pixels(24))
        self._word.setStyleSheet(f"font-weight: bold; letter-spacing: {look.pixels(1)}px")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the double frame."""
        gap = self._look.pixels(4)
        with QPainter(self) as painter:
            painter.setPen(QPen(QColor(self._look.colours.ink), self._look.pixels(1)))
            frame = QRectF(self.rect()).adjusted(1, 1, -1, -1)
            painter.drawRect(frame)
            painter.drawRect(frame.adjusted(gap, gap, -gap, -gap))
