"""Editors with their own signs: a tick that is drawn, a choice whose arrow is drawn."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QCheckBox, QComboBox

from desktop.windows.pieces.look import Look

BOX = 26


class TickBox(QCheckBox):
    """A box with a drawn tick, so that it does not rest on colour."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the height of a field."""
        side = self._look.pixels(BOX + 10)
        return QSize(side, side)

    def hitButton(self, pos: object) -> bool:  # noqa: N802, ARG002 - Qt's name and signature
        """Let the whole box be clicked."""
        return True

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint the box, the tick and the focus."""
        c, side = self._look.colours, self._look.pixels(BOX)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(1, (self.height() - side) / 2, side, side)
        wrong = bool(self.property("wrong"))
        edge = c.stop if wrong else (c.act if self.hasFocus() else c.quiet)
        painter.setPen(QPen(QColor(edge), 2 if self.hasFocus() or wrong else 1))
        painter.setBrush(QColor(c.sheet))
        painter.drawRect(box)
        if self.isChecked():
            painter.setPen(QPen(QColor(c.ink), side / 9))
            corner = box.topLeft()
            points = [corner + QPointF(side * x, side * y) for x, y in ((0.22, 0.52), (0.43, 0.74), (0.78, 0.28))]
            painter.drawPolyline(points)
        painter.end()


class ChoiceBox(QComboBox):
    """A choice from a few words; the wheel scrolls the page and never changes a value."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the wheel to the page."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the choice with its arrow."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self._look.colours.quiet), self._look.pixels(2)))
        reach = self._look.pixels(5)
        tip = QPointF(self.width() - 3 * reach, self.height() / 2 + reach / 2)
        painter.drawPolyline([tip + QPointF(-reach, -reach), tip, tip + QPointF(reach, -reach)])
        painter.end()
