"""Text that is as large as its box lets it be: sizes of one scale, carried on upward for reading at three metres."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontInfo, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from desktop.windows.pieces.look import Look

SIZES = (116, 96, 80, 66, 54, 44, 36, 28, 24, 20, 16, 13, 11, 9)
"""Points, the largest first. From 44 on a letter is some 10 minutes of arc high at three metres on a 14 inch screen."""
_FAR = 100_000.0
_WRAP = int(Qt.TextFlag.TextWordWrap)
_WHOLE = _WRAP | int(Qt.TextFlag.TextDontClip)
_LETTERS = 1.1
"""Ems that letters and figures reach at most, above and below their middle; a line of this face is 1.3 ems high."""


def room_of(words: str, font: QFont, width: float) -> QRectF:
    """Return the rectangle that words take, wrapped at a width."""
    return QFontMetricsF(font).boundingRect(QRectF(0, 0, width, _FAR), _WRAP, words)


def fits(words: str, font: QFont, width: float, height: float) -> bool:
    """Tell whether words fit a box without being cut; the white above and below all of them does not count."""
    taken = room_of(words, font, width)
    white = max(0.0, QFontMetricsF(font).height() - _LETTERS * _em(font))
    return taken.width() <= width and taken.height() - white <= height


def _em(font: QFont) -> float:
    """Return the size of a font in pixels of the screen."""
    return QFontInfo(font).pixelSize()


def fitted(words: str, width: float, height: float, most: float = SIZES[0], *, bold: bool = False) -> QFont:
    """Return the largest font of the scale in which words fit a box, at most ``most`` points; the smallest if none."""
    font = Look().font(SIZES[-1], bold=bold)
    for size in SIZES:
        if size <= most:
            font = Look().font(size, bold=bold)
            if fits(words, font, width, height):
                break
    return font


class FitText(QWidget):
    """Words in the middle of their box's height, at the largest size that fits. ``role`` names their colour."""

    def __init__(self, look: Look, *, most: float = SIZES[0], bold: bool = False, role: str = "ink") -> None:
        super().__init__()
        self._look = look
        self._most = most
        self._bold = bold
        self._role = role
        self._words = ""
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Ignored)

    @property
    def words(self) -> str:
        """The words that are shown."""
        return self._words

    def set_words(self, words: str, role: str | None = None) -> None:
        """Show other words, in another colour if one is named."""
        self._words = words
        self._role = role or self._role
        self.setAccessibleName(words)
        self.update()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.update()

    def shown_font(self) -> QFont:
        """Return the font in which the words are painted now."""
        return fitted(self._words, self.width(), self.height(), self._most, bold=self._bold)

    def is_whole(self) -> bool:
        """Tell whether all of the words lie inside the box."""
        return not self._words or fits(self._words, self.shown_font(), self.width(), self.height())

    def set_height(self, pixels: int) -> None:
        """Give the words this height and no other."""
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(pixels)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return nearly nothing: the words follow the box."""
        return QSize(1, 1)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return nearly nothing: the words follow the box."""
        return QSize(1, 1)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the words."""
        with QPainter(self) as painter:
            painter.setFont(self.shown_font())
            painter.setPen(QColor(getattr(self._look.colours, self._role)))
            painter.drawText(QRectF(self.rect()), _WHOLE | int(Qt.AlignmentFlag.AlignVCenter), self._words)
