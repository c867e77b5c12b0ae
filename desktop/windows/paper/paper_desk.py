"""Preview, print and save the card of a window that has no shop."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from desktop.viewmodels.paper.card_alone import MakePaper, choices_alone, needs_alone
from desktop.viewmodels.paper.print_desk import PrintDesk
from desktop.windows.paper.ask_file import ask_file
from desktop.windows.paper.preview_desk import PreviewDesk, Say
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.pieces.look import Look
from reports.pages import Page

__all__ = ["Pages", "PaperDesk", "ask_file"]

Pages = Callable[[bytes, float], tuple[Page, ...]]


class PaperDesk(QObject):
    """Shows one card at a time as it will print. Size, and filled or blank, stay as they were chosen last."""

    def __init__(self, window: QWidget, pages: Pages, save: Callable[[Path, bytes], bool]) -> None:
        super().__init__(window)
        self._window, self._pages, self._save = window, pages, save
        self._size, self._place = "letter", 0
        self._desk: PreviewDesk | None = None

    @property
    def preview(self) -> PreviewDialog | None:
        """The preview that is open."""
        return self._desk.preview if self._desk is not None else None

    def show(self, make: MakePaper, name: str, say: Say, look: Look | None = None) -> None:
        """Show the pages of a card; ``name`` begins the name of its file, ``say`` tells what was done."""
        if self._desk is not None:
            return
        needs = needs_alone(make, self._pages, self._save, self._size)
        desk = PrintDesk(needs, choices_alone(name), at_once=True)
        desk.place = self._place
        shown = self._desk = PreviewDesk(self._window, desk, partial(_say_something, say), look or Look())
        shown.ended.connect(self._forget)
        desk.begin()

    def _forget(self) -> None:
        shown, self._desk = self._desk, None
        if shown is not None:
            self._size, self._place = shown.desk.size, shown.desk.place
            shown.deleteLater()


def _say_something(say: Say, words: str, *, refused: bool = False) -> None:
    """Say what there is to say: a refusal of the card was said by the card."""
    if words:
        say(words, refused=refused)
