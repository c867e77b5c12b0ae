"""The places of a shop's window in one line: a click leads there, and the keys stand beside each name."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QVBoxLayout, QWidget

from desktop.windows.pieces.look import Look

HEIGHT, PAD = 40, 12


class PlaceTab(QAbstractButton):
    """One place; the present one is bold and has a bar under it."""

    def __init__(self, name: str, keys: str, look: Look) -> None:
        super().__init__()
        self._name = name
        self._keys = keys
        self._look = look
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(name)
        self.setToolTip(keys)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room for name and keys, the name as wide as in bold."""
        pixels = self._look.pixels
        name = QFontMetrics(self._look.font(11, bold=True)).horizontalAdvance(self._name)
        keys = QFontMetrics(self._look.font(9)).horizontalAdvance(self._keys)
        return QSize(2 * pixels(PAD) + name + pixels(8) + keys, pixels(HEIGHT))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same: a name is never cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint name, keys and bar."""
        look, pixels = self._look, self._look.pixels
        with QPainter(self) as painter:
            font = look.font(11, bold=self.isChecked())
            painter.setFont(font)
            painter.setPen(QColor(look.colours.ink))
            middle = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
            room = self.rect().adjusted(pixels(PAD), 0, -pixels(PAD), 0)
            painter.drawText(room, middle, self._name)
            painter.setFont(look.font(9))
            painter.setPen(QColor(look.colours.quiet))
            keys = room.adjusted(QFontMetrics(font).horizontalAdvance(self._name) + pixels(8), 0, 0, 0)
            painter.drawText(keys, middle, self._keys)
            if self.isChecked():
                painter.fillRect(
                    room.left(), self.height() - pixels(3), room.width(), pixels(3), QColor(look.colours.act)
                )


class PlaceBar(QWidget):
    """All places, in a second line what has no room in the first; ``place_chosen`` carries the number from 0."""

    place_chosen = Signal(int)

    def __init__(self, places: tuple[tuple[str, str], ...], look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._look = look
        self._lines = QVBoxLayout(self)
        self._rows: list[QHBoxLayout] = []
        group = QButtonGroup(self)
        self.tabs: list[PlaceTab] = []
        for number, (name, keys) in enumerate(places):
            tab = PlaceTab(name, keys, look)
            tab.clicked.connect(lambda _=False, number=number: self.place_chosen.emit(number))
            group.addButton(tab)
            self.tabs.append(tab)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self._lines.setContentsMargins(look.pixels(12), 0, look.pixels(12), 0)
        self._lines.setSpacing(0)
        for tab in self.tabs:
            tab.set_look(look)
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: no name is cut."""
        super().resizeEvent(event)
        self._arrange()

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room of the widest name: the others go into another line."""
        widest = max(tab.sizeHint().width() for tab in self.tabs)
        return QSize(widest + 2 * self._look.pixels(12), super().minimumSizeHint().height())

    def show_place(self, number: int) -> None:
        """Mark the present place."""
        self.tabs[number].setChecked(True)

    def _arrange(self) -> None:
        width = self.width() if self.isVisible() else self.window().width()
        gap, room = self._look.pixels(4), width - 2 * self._look.pixels(12)
        lines: list[list[PlaceTab]] = [[]]
        taken = 0
        for tab in self.tabs:
            width = tab.sizeHint().width()
            if lines[-1] and taken + gap + width > room:
                lines.append([])
                taken = 0
            lines[-1].append(tab)
            taken += gap + width
        if [len(line) for line in lines] == [row.count() - 1 for row in self._rows]:
            return
        for row in self._rows:
            while row.count():
                row.takeAt(0)
            self._lines.removeItem(row)
            row.deleteLater()
        self._rows = []
        for line in lines:
            row = QHBoxLayout()
            row.setSpacing(gap)
            for tab in line:
                row.addWidget(tab)
            row.addStretch(1)
            self._lines.addLayout(row)
            self._rows.append(row)
