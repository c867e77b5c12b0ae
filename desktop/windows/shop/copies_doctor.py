"""The doctor's page in the window: each line with its word and its shape, the same text as at the command line."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.shop.copies_found import DoctorLine
from desktop.windows.pieces.finding_list import Ring, ring_colour
from desktop.windows.pieces.look import Look

TITLE = "How the shop file stands"
SAYS = 3
"""The column of what was found, which is as wide as there is room and breaks its lines."""


class DoctorPanel(QWidget):
    """Shows the lines of the doctor's page, and in one line how the file stands as a whole."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._lines: tuple[DoctorLine, ...] = ()
        self.title = QLabel(TITLE)
        self.title.setObjectName("group")
        self.verdict = QLabel()
        self.verdict.setTextFormat(Qt.TextFormat.PlainText)
        self.verdict.setWordWrap(True)
        self._ring: Ring | None = None
        self._progress = Progress.EMPTY
        self._head = QHBoxLayout()
        self._head.addWidget(self.title)
        self._head.addWidget(self.verdict, 1)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(SAYS, 1)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._head)
        self._column.addLayout(self._grid)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._column.setSpacing(look.pixels(8))
        self._head.setSpacing(look.pixels(12))
        self._grid.setHorizontalSpacing(look.pixels(12))
        self._grid.setVerticalSpacing(look.pixels(4))
        self._dress()

    def show_lines(self, lines: Sequence[DoctorLine], words: str, progress: Progress) -> None:
        """Show what was found, and how it stands as a whole."""
        self._lines, self._progress = tuple(lines), progress
        self.verdict.setText(words)
        self._dress()

    def rows(self) -> tuple[tuple[str, ...], ...]:
        """Return what stands in each line: its shape by name, its word, the thing, what was found."""
        found = []
        for row in range(len(self._lines)):
            cells = (self._grid.itemAtPosition(row, column) for column in range(SAYS + 1))
            shown = (one for cell in cells if cell is not None and (one := cell.widget()) is not None)
            found.append(tuple(one.text() if isinstance(one, QLabel) else one.accessibleName() for one in shown))
        return tuple(found)

    def _dress(self) -> None:
        if self._ring is not None:
            _drop(self._ring)
        self._ring = Ring(self._progress, self._look, 16)
        self._head.insertWidget(1, self._ring, 0, Qt.AlignmentFlag.AlignVCenter)
        self.verdict.setStyleSheet(f"color: {ring_colour(self._progress, self._look)}; font-weight: bold")
        while (item := self._grid.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                _drop(old)
        top = Qt.AlignmentFlag.AlignTop
        for row, line in enumerate(self._lines):
            ring = QWidget()
            beside = QVBoxLayout(ring)
            beside.setContentsMargins(0, self._look.pixels(4), 0, 0)
            beside.addWidget(Ring(line.progress, self._look, 14))
            ring.setAccessibleName(line.progress.value)
            self._grid.addWidget(ring, row, 0, top)
            colour = f"color: {ring_colour(line.progress, self._look)}"
            for column, (words, style) in enumerate(((line.word, colour), (line.what, ""), (line.says, "")), 1):
                label = QLabel(words)
                label.setTextFormat(Qt.TextFormat.PlainText)
                label.setStyleSheet(style)
                label.setWordWrap(column == SAYS)
                self._grid.addWidget(label, row, column, Qt.AlignmentFlag(0) if column == SAYS else top)


def _drop(widget: QWidget) -> None:
    widget.hide()
    widget.deleteLater()
