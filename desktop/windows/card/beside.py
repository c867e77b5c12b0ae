"""Beside the fields of a card: how the magneto stands, the dial, the scale around nominal, the housing."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from desktop.viewmodels.card.card_pictures import Pictures
from desktop.viewmodels.pieces.card_words import Verdict
from desktop.windows.pieces.finding_list import VerdictView
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.painter import DrawingView

WIDTH = 400
NOTHING = "The dial is drawn here once engine, limits and way of measuring are filled in."
_EDGE, _GAP = 8, 4


class Beside(QWidget):
    """Shows the drawings whole: what has no room gives way to what the place is about."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._look = look
        self.dial = DrawingView(look)
        self.magnified = DrawingView(look)
        self.magneto = DrawingView(look)
        for name, view in (("Dial", self.dial), ("Around nominal", self.magnified), ("Housing", self.magneto)):
            view.setAccessibleName(name)
        self._verdict = QVBoxLayout()
        self._nothing = QLabel(NOTHING)
        self._nothing.setObjectName("quiet")
        self._nothing.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(_EDGE, _EDGE, _EDGE, _EDGE)
        column.setSpacing(_GAP)
        column.addLayout(self._verdict)
        for view in self._views():
            column.addWidget(view, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(self._nothing)
        column.addStretch(1)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        for view in self._views():
            view.set_look(look)

    def show_pictures(self, pictures: Pictures, verdict: Verdict | None, room: int, *, turns_housing: bool) -> None:
        """Show the drawings of a magneto; ``room`` is the height that they may take, 0 for any."""
        self._show_verdict(verdict)
        drawings = (pictures.dial, pictures.magnified, pictures.magneto)
        self._nothing.setVisible(pictures.dial is None)
        for view, drawing in zip(self._views(), drawings, strict=True):
            view.show_drawing(drawing)
        spare = self.magnified if turns_housing and pictures.magneto is not None else self.magneto
        if room and self._height() > room:
            spare.hide()

    def _views(self) -> tuple[DrawingView, DrawingView, DrawingView]:
        return self.dial, self.magnified, self.magneto

    def _height(self) -> int:
        shown = [view.sizeHint().height() for view in self._views() if view.drawing is not None]
        return self._verdict.sizeHint().height() + sum(shown) + _GAP * (len(shown) + 1) + 2 * _EDGE

    def _show_verdict(self, verdict: Verdict | None) -> None:
        """Show the verdict as left beside the dial, so that it is in sight while readings are typed."""
        while item := self._verdict.takeAt(0):
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        if verdict is not None:
            self._verdict.addWidget(VerdictView(verdict, self._look, 16))
