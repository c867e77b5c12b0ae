"""Who is at work, by name, in the head of every page; a click asks who works here."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenuBar, QPushButton

from desktop.windows.pieces.look import Look


class AtWork(QPushButton):
    """Stands at the right end of the menus, which every page has."""

    def __init__(self, bar: QMenuBar, look: Look) -> None:
        super().__init__()
        self._bar = bar
        bar.setNativeMenuBar(False)
        self.setObjectName("who")
        self.setFlat(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setToolTip("Who works here: Ctrl+I")
        self.set_look(look)

    def say(self, words: str) -> None:
        """Say who is at work."""
        self.setText(words)
        self.setAccessibleName(words)
        self._take_room()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        pad = look.pixels(12)
        self.setStyleSheet(f"border: none; background: {look.colours.ground}; padding: 2px {pad}px; font-weight: bold")
        self._take_room()

    def _take_room(self) -> None:
        """Let the menus give as much room as the words need: they look only when they are handed a widget."""
        self.ensurePolished()
        self._bar.setCornerWidget(self, Qt.Corner.TopRightCorner)
        self.show()
