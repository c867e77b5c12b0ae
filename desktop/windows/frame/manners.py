"""The manners of a shop's window: the guide, the lock, the copy on closing, and coming back to where one was."""

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from PySide6.QtCore import QObject
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMainWindow

from desktop.core.left_off import THEMES as THEME_NAMES
from desktop.core.left_off import LeftOff
from desktop.viewmodels.frame.closing_copy import ClosingCopy
from desktop.viewmodels.frame.shop_needs import ShopNeeds
from desktop.viewmodels.signing.idle_lock import IdleLock
from desktop.windows.frame.closing_dialog import ClosingDialog
from desktop.windows.frame.guide_door import GuideDoor
from desktop.windows.frame.lock_watch import STAYS, LockWatch
from desktop.windows.frame.present_place import LOCKED
from desktop.windows.frame.real_keys import all_shortcuts
from desktop.windows.pieces.look import SCALES, THEMES, Look

LOCK_NOW, LOCK_KEYS = "Lock &now", "Ctrl+Shift+L"


class Mannered(Protocol):
    """What the manners ask of their window; it is a QMainWindow as well."""

    look: Look

    def present_place(self) -> str:
        """Name the place that is shown, as the guide knows it."""
        ...

    def left_off(self) -> LeftOff:
        """Return where the window stands, without its file and look."""
        ...

    def become(self, person_id: str) -> None:
        """Let another person work here."""
        ...

    @property
    def person(self) -> str:
        """The initials of whoever works here; empty while nobody said so."""
        ...

    @property
    def listed(self) -> str:
        """The name of what the work orders show."""
        ...


class Manners(QObject):
    """Gives a window its manners."""

    def __init__(self, window: QMainWindow, mannered: Mannered, needs: ShopNeeds) -> None:
        super().__init__(window)
        self._window, self._mannered, self._needs = window, mannered, needs
        self.lock = IdleLock(needs.idle)
        self.watch = LockWatch(window, self.lock, mannered.look)
        self.door = GuideDoor(window, needs.guide, self.place, lambda: all_shortcuts(window), lambda: mannered.look)
        self.copy = ClosingCopy(needs.copy_folder, needs.make_copy, self)
        self.dialog: ClosingDialog | None = None
        self.watch.guide_asked.connect(self._open_over)
        self.lock.opened.connect(self._take_person)
        self.lock.locked.connect(self.door.close)
        self.watch.propose(needs.last_person)
        self.say_who()
        self._build_menu()

    def _build_menu(self) -> None:
        menu = self._window.menuBar().addMenu("&Help")
        self.door.add_to(menu)
        lock = menu.addAction(LOCK_NOW)
        lock.setShortcut(QKeySequence(LOCK_KEYS))
        lock.triggered.connect(lambda _checked=False: self.lock_now())
        for action in menu.actions()[:1]:
            action.setProperty(STAYS, True)  # noqa: FBT003 - Qt's signature

    def place(self) -> str:
        """Name the place that is shown."""
        return LOCKED if self.lock.is_locked else self._mannered.present_place()

    def lock_now(self) -> None:
        """Lock the window."""
        self.lock.lock()

    def ask_who(self, person_id: str = "") -> None:
        """Ask who works here; of somebody who was named only the secret is asked, and nothing where there is none."""
        if person_id and not self.lock.asks_secret and not self.lock.is_locked:
            self._take_person(person_id)
            return
        self.lock.ask()
        if person_id and self.lock.is_asking:
            self.watch.page.choose(person_id)

    def remember(self) -> None:
        """Keep where the window stands, in case that nothing closes it properly."""
        self._needs.remember(self._left_off())

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.watch.page.set_look(look)
        self.door.set_look(look)

    def say_who(self) -> None:
        """Take who sits at the window."""
        self.watch.say_who(self._mannered.person)

    def may_close(self, close: Callable[[], None]) -> bool:
        """Tell whether the window may close now; with a copy to make first, ``close`` is called after it."""
        if self.dialog is not None:
            return False
        if not self.copy.is_wanted():
            return True
        dialog = ClosingDialog(self.copy, self._mannered.look, self._window)
        self.dialog = dialog
        dialog.finished.connect(self._forget_dialog)
        dialog.may_close.connect(close)
        dialog.open()
        dialog.begin()
        return False

    def end(self) -> None:
        """Keep how the window was left, and watch no more."""
        self.remember()
        self.watch.rest()
        self.door.close()
        self.copy.end()

    def _left_off(self) -> LeftOff:
        at = self._mannered.left_off()
        is_locked = self.lock.is_locked and not self.lock.is_asking
        person = self._mannered.person or self._needs.last_person
        kept = replace(at, shop=self._needs.shop_file, is_locked=is_locked, person=person, listed=self._mannered.listed)
        return with_look(kept, self._mannered.look)

    def _take_person(self, person_id: str) -> None:
        if person_id != self._mannered.person:
            self._mannered.become(person_id)
        self.say_who()

    def _open_over(self, place: str) -> None:
        self.door.open(place)

    def _forget_dialog(self) -> None:
        self.dialog = None


def with_look(left_off: LeftOff, look: Look) -> LeftOff:
    """Return where somebody left off with the look that they see now."""
    theme = THEME_NAMES[THEMES.index(look.colours)] if look.colours in THEMES else THEME_NAMES[0]
    return replace(left_off, theme=theme, percent=look.percent if look.percent in SCALES else SCALES[0])


def look_of(left_off: LeftOff) -> Look:
    """Return the look that somebody left."""
    return Look(THEMES[THEME_NAMES.index(left_off.theme)], left_off.percent)
