"""The place of the copies: what is known of them, and the restore of one."""

from pathlib import Path

from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.shop.copies_desk import CopiesDesk
from desktop.windows.pieces.look import Look
from desktop.windows.shop.copies_page import CopiesPage
from desktop.windows.shop.copies_restore_page import RestorePage


class CopiesPlace(QWidget):
    """Shows the copies of a desk, or the restore of one."""

    is_begun = False

    def __init__(self, desk: CopiesDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self.copies = CopiesPage(desk, look)
        self.restore = RestorePage(desk.restoring, look)
        self._stack = QStackedWidget()
        for page in (self.copies, self.restore):
            self._stack.addWidget(page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        self.copies.copy_chosen.connect(self.begin_restore)
        self.restore.back_asked.connect(self.show_copies)

    def show_begun(self) -> None:
        """Show what was typed and is not kept: nothing is typed here that is."""

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.copies.set_look(look)
        self.restore.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of what is shown."""
        shown = self.restore if self._stack.currentWidget() is self.restore else self.copies
        shown.say(words, refused=refused)

    def begin_restore(self, copy: Path) -> None:
        """Verify a copy, and show what was found."""
        self._stack.setCurrentWidget(self.restore)
        self.desk.restoring.examine(copy)

    def show_copies(self) -> None:
        """Show the copies."""
        self.desk.restoring.leave()
        self._stack.setCurrentWidget(self.copies)
