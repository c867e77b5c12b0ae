"""A restore in a window of its own: where no shop file is open, because it was closed for this or there is none."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QMainWindow

from desktop.core.guide import GuidePage
from desktop.viewmodels.shop.copies_restore import RestoreDesk
from desktop.windows.frame.guide_door import GuideDoor
from desktop.windows.pieces.look import Look
from desktop.windows.shop.copies_restore_page import RestorePage

PLACE = "Copies"
"""The place by which the guide knows it."""


class RestoreWindow(QMainWindow):
    """Shows the restore of a desk. ``left`` leads back to where it came from."""

    left = Signal()

    def __init__(self, desk: RestoreDesk, pages: tuple[GuidePage, ...], look: Look) -> None:
        super().__init__()
        self.desk = desk
        self.look = look
        desk.setParent(self)
        self.setWindowTitle("Restore a copy · Sparkwright")
        self.resize(1280, 800)
        self.page = RestorePage(desk, look)
        self.setCentralWidget(self.page)
        self.page.back_asked.connect(self.left)
        view = self.menuBar().addMenu("&View")
        for words, keys, change in (
            ("Light, &dark or high contrast", "Ctrl+L", Look.other_theme),
            ("&Larger text", "Ctrl++", lambda at: at.resized(1)),
            ("&Smaller text", "Ctrl+-", lambda at: at.resized(-1)),
        ):
            action = view.addAction(words)
            action.setShortcut(keys)
            action.triggered.connect(lambda _checked=False, change=change: self.set_look(change(self.look)))
        self.door = GuideDoor(self, pages, lambda: PLACE, tuple, lambda: self.look)
        self.door.add_to(self.menuBar().addMenu("&Help"))
        self.set_look(look)

    def ask_which(self) -> None:
        """Ask for the copy, as soon as the window is there."""
        QTimer.singleShot(0, self.page, self.page.ask_which)

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text, everywhere at once."""
        self.look = look
        look.dress(self)
        self.page.set_look(look)
        self.door.set_look(look)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Stop what is under way, and wait for its end."""
        self.desk.end()
        self.page.fields.secret.take()
        self.door.close()
        super().closeEvent(event)
