"""A monkey at the windows: random keys, texts and clicks on whatever is in front, and what they raise."""

import sys
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from random import Random
from types import TracebackType

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QLineEdit, QWidget

from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.signing.lock_page import LockPage

LAST = 40
"""So many of the last deeds are told when something breaks."""
AWAY = 250
"""After so many deeds it comes back to the shop's window, from wherever it went."""
HELD = (
    *((Qt.KeyboardModifier.NoModifier,) * 6),
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
    Qt.KeyboardModifier.ShiftModifier,
)
KEYS = (
    *((Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Down) * 3),
    *(Qt.Key.Key_Up, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_PageDown),
    *(Qt.Key.Key_PageUp, Qt.Key.Key_Backtab, Qt.Key.Key_Backspace, Qt.Key.Key_Delete, Qt.Key.Key_F1, Qt.Key.Key_F11),
    *(Qt.Key(key) for key in range(Qt.Key.Key_A, Qt.Key.Key_Z + 1)),
    *(Qt.Key(key) for key in range(Qt.Key.Key_0, Qt.Key.Key_9 + 1)),
    *((Qt.Key.Key_Plus, Qt.Key.Key_Minus, Qt.Key.Key_Escape, Qt.Key.Key_Escape)),
)
TEXTS = ("337.5", "25", "1:30", "22 b", "The left clamp was loose.", "1 Dec 2031", "L-1", "-", "9" * 30, "x <b>y</b>")


@dataclass
class Monkey:
    """Plays with the windows that are open; ``texts`` are typed besides the usual ones.

    ``secrets`` are those of the people: a page that asks who works here is answered now and then, or nothing behind it
    would ever be seen. ``places`` are the pages that were seen.
    """

    seed: int
    texts: tuple[str, ...] = ()
    secrets: Mapping[str, str] = field(default_factory=dict)
    places: set[str] = field(default_factory=set)
    raised: list[BaseException] = field(default_factory=list)
    deeds: int = 0
    windows: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self._dice = Random(self.seed)  # noqa: S311 - a game, no secret
        self._last: deque[str] = deque(maxlen=LAST)

    def play(self, deeds: int) -> str:
        """Do so many things; return what was raised with the last deeds before it, empty for nothing."""
        before, sys.excepthook = sys.excepthook, self._take
        try:
            for _ in range(deeds):
                if not self._do():
                    break
                self.deeds += 1
                if self.raised:
                    break
        finally:
            sys.excepthook = before
        if not self.raised:
            return ""
        return f"seed {self.seed}, deed {self.deeds}: {self.raised[0]!r} after\n  " + "\n  ".join(self._last)

    def _come_back(self) -> None:
        """Leave whatever is open beside the shop's windows; they come to the front again."""
        for window in QApplication.topLevelWidgets():
            if window.isVisible() and not isinstance(window, ShopWindow):
                window.close()
        for window in QApplication.topLevelWidgets():
            if isinstance(window, ShopWindow) and window.isVisible():
                window.activateWindow()
        QApplication.processEvents()

    def _do(self) -> bool:
        if self.deeds % AWAY == AWAY - 1:
            self._come_back()
        window = front()
        if window is None:
            return False
        self.windows.add(type(window).__name__)
        if isinstance(window, ShopWindow):
            self.places.add(window.present_place())
            if self.secrets and self._dice.random() < 0.1 and self._answer(window):
                return True
        deed = self._dice.random()
        if deed < 0.72:
            self._press(window)
        elif deed < 0.82:
            self._type(window)
        else:
            self._click(window)
        QApplication.processEvents()
        return True

    def _answer(self, window: ShopWindow) -> bool:
        """Say who works here, with the right secret; tell whether that was asked."""
        page = next((one for one in window.findChildren(LockPage) if one.isVisible()), None)
        if page is None:
            return False
        person = self._dice.choice(sorted(self.secrets))
        self._note(f"{person} goes on")
        page.choose(person)
        page.secret.setText(self.secrets[person])
        QTest.keyClick(page.secret, Qt.Key.Key_Return)
        return True

    def _press(self, window: QWidget) -> None:
        key, held = self._dice.choice(KEYS), self._dice.choice(HELD)
        target = QApplication.focusWidget() or window
        if (key, held) == (Qt.Key.Key_Q, Qt.KeyboardModifier.ControlModifier):
            return  # the shop would be shut
        self._note(f"{held.name} {key.name} at {words_of(target)}")
        QTest.keyClick(target, key, held)

    def _type(self, window: QWidget) -> None:
        target = QApplication.focusWidget() or window
        text = self._dice.choice((*TEXTS, *self.texts))
        self._note(f"{text!r} at {words_of(target)}")
        if isinstance(target, QLineEdit) and not target.isReadOnly():
            target.selectAll()
        QTest.keyClicks(target, text)

    def _click(self, window: QWidget) -> None:
        there = [child for child in window.findChildren(QWidget) if child.isVisible() and child.isEnabled()]
        buttons = [child for child in there if isinstance(child, QAbstractButton)]
        chosen = self._dice.choice((buttons if self._dice.random() < 0.6 else there) or [window])
        place = QPoint(self._dice.randrange(max(1, chosen.width())), self._dice.randrange(max(1, chosen.height())))
        self._note(f"click on {words_of(chosen)}")
        click = QTest.mouseDClick if self._dice.random() < 0.15 else QTest.mouseClick
        click(chosen, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, place)

    def _note(self, words: str) -> None:
        self._last.append(words)

    def _take(self, _kind: type[BaseException], raised: BaseException, _trace: TracebackType | None) -> None:
        self.raised.append(raised)


def front() -> QWidget | None:
    """Return what is in front: a menu that is open, a dialog, or the last window that is seen."""
    popup = QApplication.activePopupWidget()
    if popup is not None:
        return popup
    dialog = QApplication.activeModalWidget()
    if isinstance(dialog, (QFileDialog, QPrintDialog)):
        dialog.reject()  # made by others, with loops of their own; files and printers have their own tests
        QApplication.processEvents()
        return front()
    if dialog is not None:
        return dialog
    shown = [one for one in QApplication.topLevelWidgets() if one.isVisible() and one.isWindow()]
    focus = QGuiApplication.focusWindow()
    first = [one for one in shown if one.windowHandle() is focus]
    return next(iter(first or reversed(shown)), None)


def words_of(widget: QWidget) -> str:
    """Name a widget."""
    text = widget.text() if isinstance(widget, QAbstractButton) else widget.accessibleName()
    return f"{type(widget).__name__} {text!r}"
