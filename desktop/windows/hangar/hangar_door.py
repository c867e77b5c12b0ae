"""The way from the card to its hangar view and back: a button, and F11."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QPushButton, QWidget

from desktop.core.timing.readings import Side
from desktop.viewmodels.card.form_session import FormSession
from desktop.windows.hangar.hangar_view import HangarView
from desktop.windows.pieces.look import Look


class HangarDoor(QPushButton):
    """Opens the hangar view of a card, one at a time. ``left`` carries the number of the place where it was left."""

    asked = Signal()
    left = Signal(int)

    def __init__(self, page: QWidget) -> None:
        super().__init__("Hangar view   F11", page)
        self.view: HangarView | None = None
        self._page = page
        self.clicked.connect(self.asked)
        QShortcut(QKeySequence("F11"), page, self.asked.emit)

    def open(self, session: FormSession, look: Look, number: int, side: Side | None) -> None:
        """Show the card from the propeller, over the whole screen."""
        if self.view is not None:
            return
        self.view = HangarView(session, look, number, side, self._page)
        self.view.left.connect(self._forget)
        self.view.showFullScreen()
        self.view.activateWindow()
        self.view.setFocus()

    def set_look(self, look: Look) -> None:
        """Hand another theme or size of text to the view that is open."""
        if self.view is not None:
            self.view.set_look(look)

    def _forget(self, number: int) -> None:
        self.view = None
        self.left.emit(number)
