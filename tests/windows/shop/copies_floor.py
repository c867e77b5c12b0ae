"""A shop file with a records keeper, copies of it, and what can become of a copy; and somebody at its windows."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from desktop import copy_assembly, shop_assembly
from desktop.app import application
from desktop.core.shop.settings import ShopSettings
from desktop.files.window_memory import WindowMemory
from desktop.shop_windows import ShopWindows
from desktop.usecases.records.keys.begin_shop import FirstAnswers
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.shop.lists.keep_settings import keep_settings
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.ports import Request
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.pieces.look import Look
from desktop.windows.shop.copies_place import CopiesPlace
from tests.usecases.records.acting_floor import NEW

PHRASE = "seven herons over slate"
NAME = "Quarry Lane Aero Works"
NONE, ALT, CTRL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier


def goes_on(_done: int, _of: int) -> bool:
    """Never stop."""
    return True


def make(place: Path, name: str = NAME, copies: Path | None = None) -> Path:
    """Make a shop file whose first person keeps the records under a secret, and name its folder for copies."""
    shop_assembly.make_first_shop(place, FirstAnswers(name, "", "Lena Ode", "LO", "", "", PHRASE), FOR_DEMO)
    if copies is not None:
        copies.mkdir(exist_ok=True)
        with shop_assembly.shop_at(place) as shop:
            keep_settings(shop, by(), ShopSettings(backup_place=str(copies)))
    return place


def add_order(place: Path) -> None:
    """Open an order, as somebody did after a copy was made."""
    with shop_assembly.shop_at(place) as shop:
        open_order(shop, by(), NEW)


def by() -> Request:
    """Return a new request of the records keeper."""
    return Request(shop_assembly.new_id(), "LO")


def copied(place: Path, folder: Path) -> Path:
    """Make a copy, and return where it lies."""
    before = set(folder.iterdir())
    copy_assembly.back_up_at_pace(place, folder, goes_on)
    [copy] = set(folder.iterdir()) - before
    return copy


def cut(copy: Path) -> None:
    """Take the second half of a copy away."""
    data = copy.read_bytes()
    copy.write_bytes(data[: len(data) // 2])


def flipped(copy: Path) -> None:
    """Turn one bit of a copy over."""
    data = bytearray(copy.read_bytes())
    data[len(data) // 2] ^= 4
    copy.write_bytes(data)


def emptied(copy: Path) -> None:
    """Leave nothing in a copy."""
    copy.write_bytes(b"")


def half_copied(copy: Path) -> None:
    """Leave blank space where the second half of a copy was."""
    data = copy.read_bytes()
    copy.write_bytes(data[: len(data) // 2] + bytes(len(data) - len(data) // 2))


def another_shops(copy: Path) -> None:
    """Put a copy of another shop in the place of this one."""
    other = make(copy.with_name("other.shop"), "Fen Lane")
    copy.unlink()
    copy_assembly.back_up_at_pace(other, copy.parent, goes_on)
    other.unlink()
    [new] = copy.parent.glob("Fen Lane*")
    new.rename(copy)


def untouched(_copy: Path) -> None:
    """Leave a copy as it is."""


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder."""
    return {one.name: one.read_bytes() for one in sorted(folder.iterdir()) if one.is_file()}


class Seat:
    """Somebody at the windows of shop files; looks only at what has the keyboard."""

    def __init__(self, qtbot: QtBot, windows: ShopWindows) -> None:
        self.qtbot, self.windows = qtbot, windows
        self.keys = 0

    @property
    def shop(self) -> ShopWindow:
        """The window of the shop that was opened last."""
        return self.windows.shops[-1]

    @property
    def place(self) -> CopiesPlace:
        """The place of the copies."""
        page = self.shop.pages["Copies"]
        assert isinstance(page, CopiesPlace)
        return page

    def open(self, shop: Path, look: Look | None = None) -> ShopWindow:
        """Open a shop file in its window."""
        self.windows.open_shop(shop)
        window = self.front(self.shop)
        if look is not None:
            window.set_look(look)
        return window

    def front(self, window: QWidget) -> ShopWindow:
        """Wait until a window has the keyboard."""
        window.activateWindow()
        self.qtbot.waitUntil(window.isActiveWindow)
        self.qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        return window  # type: ignore[return-value]  # whoever asks knows which

    def focus(self) -> QWidget:
        """Return what the keys go to."""
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard"
        return widget

    def at(self) -> str:
        """Return the name of what has the keyboard: its own, or its words."""
        widget = self.focus()
        words = getattr(widget, "text", str)()
        return widget.accessibleName() or words.replace("&", "")

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Press a key where the keyboard is."""
        QTest.keyClick(self.focus(), key, held)
        self.keys += 1
        self.settle()

    def type(self, text: str) -> None:
        """Type a text where the keyboard is."""
        QTest.keyClicks(self.focus(), text)
        self.keys += len(text)

    def tab_to(self, name: str, most: int = 12) -> None:
        """Go on with Tab until something is reached."""
        for _ in range(most):
            if self.at() == name:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"{name} is not reached by Tab; the keyboard is at {self.at()}")

    def go_to_copies(self) -> None:
        """Go to the place of the copies, and wait until it was looked at."""
        self.press(Qt.Key.Key_8, CTRL)
        self.looked()

    def looked(self) -> None:
        """Wait until nobody looks any more."""
        self.qtbot.waitUntil(lambda: not self.shop.desk.copies.is_looking, timeout=20000)
        self.settle()

    def name_file(self, place: Path) -> None:
        """In the dialog that is open: type the whole path of a file or folder, and take it."""
        self.qtbot.waitUntil(lambda: isinstance(QApplication.activeWindow(), QFileDialog))
        dialog = QApplication.activeWindow()
        assert isinstance(dialog, QFileDialog)
        parent = dialog.parentWidget()
        assert parent is not None
        under = parent.window()
        line = dialog.findChild(QWidget, "fileNameEdit")
        assert line is not None
        line.setFocus()
        QTest.keyClick(line, Qt.Key.Key_A, CTRL)
        QTest.keyClicks(line, str(place))
        QTest.keyClick(line, Qt.Key.Key_Return)
        self.qtbot.waitUntil(lambda: not isinstance(QApplication.activeWindow(), QFileDialog))
        under.activateWindow()  # a desktop does so by itself when a dialog closes
        self.settle()

    def until(self, holds: Callable[[], bool]) -> None:
        """Wait until something holds."""
        self.qtbot.waitUntil(holds, timeout=20000)
        self.settle()

    @staticmethod
    def settle() -> None:
        """Let the windows take their shape."""
        for _ in range(6):
            QApplication.processEvents()


@contextmanager
def seated(qtbot: QtBot, folder: Path) -> Iterator[Seat]:
    """Give a seat at the windows, whose memory lies in a folder of its own."""
    application()
    state = folder / "state"
    with ShopWindows(WindowMemory(state / "window.toml"), None, FOR_DEMO, folder / "home") as windows:
        yield Seat(qtbot, windows)
        for window in list(windows.shops):
            window.desk.copies.end()
            window.close_for_restore()
        for other in (windows.first, windows.restoring):
            if other is not None:
                other.close()
