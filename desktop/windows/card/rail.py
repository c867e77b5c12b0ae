"""The places of the card down the side: number, title, and a ring that says how far each is."""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.fields import Place
from desktop.windows.pieces.finding_list import paint_ring
from desktop.windows.pieces.look import Look

WIDTH = 216
SCROLL_BAR = 16
"""Pixels that the scroll bar of a long rail takes from the titles."""


class PlaceButton(QAbstractButton):
    """One place in the rail; longer titles wrap."""

    def __init__(self, number: int, place: Place, look: Look) -> None:
        super().__init__()
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._number = number
        self._title = place.title
        self._look = look
        self._progress = Progress.EMPTY

    def show_progress(self, progress: Progress) -> None:
        """Show how far the place is."""
        self._progress = progress
        self.setAccessibleName(f"{self._number} {self._title}: {progress.value}")
        self.setToolTip(progress.value)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the height that the wrapped title needs."""
        width = self._look.pixels(WIDTH)
        words = self.fontMetrics().boundingRect(
            0, 0, width - self._look.pixels(72) - SCROLL_BAR, 1000, int(Qt.TextFlag.TextWordWrap), self._title
        )
        return QSize(width, max(self._look.pixels(36), words.height() + self._look.pixels(14)))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint ring, number and title; the present place has a bar and a sheet."""
        look, pixels = self._look, self._look.pixels
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.isChecked():
            painter.fillRect(self.rect(), QColor(look.colours.sheet))
            painter.fillRect(0, 0, pixels(4), self.height(), QColor(look.colours.act))
        side = pixels(14)
        paint_ring(painter, QRectF(pixels(14), (self.height() - side) / 2, side, side), self._progress, look)
        font = look.font(11, bold=self.isChecked())
        painter.setFont(font)
        painter.setPen(QColor(look.colours.quiet))
        middle = int(Qt.AlignmentFlag.AlignVCenter)
        painter.drawText(
            QRectF(pixels(34), 0, pixels(24), self.height()),
            middle | int(Qt.AlignmentFlag.AlignRight),
            str(self._number),
        )
        painter.setPen(QColor(look.colours.ink))
        painter.drawText(
            QRectF(pixels(66), 0, self.width() - pixels(72), self.height()),
            middle | int(Qt.TextFlag.TextWordWrap),
            self._title,
        )
        painter.end()


class Rail(QScrollArea):
    """All places; a click chooses one."""

    chosen = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._buttons: list[PlaceButton] = []

    def set_places(self, places: tuple[Place, ...], look: Look) -> None:
        """Show these places."""
        inside = QWidget()
        inside.setObjectName("ground")
        layout = QVBoxLayout(inside)
        layout.setContentsMargins(0, look.pixels(16), 0, look.pixels(16))
        layout.setSpacing(0)
        group = QButtonGroup(inside)
        self._buttons = []
        for number, place in enumerate(places):
            button = PlaceButton(number + 1, place, look)
            button.setFont(look.font(11, bold=True))
            button.clicked.connect(lambda _=False, number=number: self.chosen.emit(number))
            group.addButton(button)
            layout.addWidget(button)
            self._buttons.append(button)
        layout.addStretch(1)
        self.setWidget(inside)
        self.setFixedWidth(look.pixels(WIDTH) + 2)

    def show_progress(self, progress: list[Progress], current: int) -> None:
        """Show how far each place is, and which one is present."""
        for number, button in enumerate(self._buttons):
            button.show_progress(progress[number])
            button.setChecked(number == current)
        if current < len(self._buttons):
            self.ensureWidgetVisible(self._buttons[current])
