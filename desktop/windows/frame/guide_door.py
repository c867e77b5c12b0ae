"""The way from a window to the guide: F1 on each place, and in the dialogs over it."""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMenu, QWidget

from desktop.core.guide import GuidePage
from desktop.viewmodels.frame.guide import KEYS_PAGE, Guide, Shortcut, keys_page
from desktop.windows.frame.guide_page import GuideWindow
from desktop.windows.pieces.look import Look

GUIDE_KEY = "F1"
GUIDE, ALL_KEYS = "&Guide to this place", "All &keys"


class GuideDoor(QObject):
    """Opens the guide, one window of it. ``where`` names the present place, ``shortcuts`` gives the real keys."""

    def __init__(
        self,
        window: QWidget,
        pages: tuple[GuidePage, ...],
        where: Callable[[], str],
        shortcuts: Callable[[], Iterable[Shortcut]],
        look: Callable[[], Look],
    ) -> None:
        super().__init__(window)
        self._pages, self._where, self._shortcuts, self._look = pages, where, shortcuts, look
        self.guide: GuideWindow | None = None

    def add_to(self, menu: QMenu) -> None:
        """Put the ways to the guide into a menu."""
        action = menu.addAction(GUIDE)
        action.setShortcut(GUIDE_KEY)
        action.triggered.connect(lambda _checked=False: self.open())
        menu.addAction(ALL_KEYS).triggered.connect(lambda _checked=False: self.open(page=KEYS_PAGE))

    def open(self, place: str = "", page: str = "") -> None:
        """Open the page of a place, of the present one where none is named, or a page by its id."""
        pages = Guide((*self._pages, keys_page(self._shortcuts())))
        if self.guide is None:
            self.guide = GuideWindow(pages, self._look())
        else:
            self.guide.set_guide(pages)
            self.guide.set_look(self._look())
        if page:
            self.guide.show_page(page)
        else:
            self.guide.show_place(place or self._where())
        self.guide.show()
        self.guide.raise_()
        self.guide.activateWindow()
        self.guide.begin()

    def set_look(self, look: Look) -> None:
        """Hand another theme or size of text to the guide."""
        if self.guide is not None:
            self.guide.set_look(look)

    def close(self) -> None:
        """Close the guide with its window."""
        guide, self.guide = self.guide, None
        if guide is not None:
            guide.close()
            guide.deleteLater()
