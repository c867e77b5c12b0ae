"""A shop's window with its manners, over a shop in memory, with clocks that are moved by hand."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.left_off import LeftOff
from desktop.files.guide import builtin_guide
from desktop.usecases.records.copies.backup import OnClosing
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.viewmodels.frame.shop_needs import ShopNeeds
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.signing.idle_lock import IdleNeeds
from desktop.windows.frame.manners import Manners
from desktop.windows.frame.shop_window import ShopWindow
from tests.usecases.shop.shop_floor import TIMING, Floor

FAILED = "No copy was made on closing. The disk is full."


@dataclass
class Sitting:
    """Somebody at the window, nobody where ``who`` is empty; ``last`` is who worked there last.

    ``folder`` is the shop's folder for copies; ``fails`` makes the copy fail.
    """

    qtbot: QtBot
    floor: Floor
    who: str = "MECH"
    folder: str = ""
    fails: bool = False
    signing: Signing | None = None
    last: str = ""
    time: datetime = field(default_factory=lambda: datetime(2031, 3, 4, 9, tzinfo=UTC))
    kept: list[LeftOff] = field(default_factory=list)
    copied: list[Path] = field(default_factory=list)

    def __post_init__(self) -> None:
        application()
        numbers = count()
        shop = self.floor.shop
        desk = ShopDesk(shop, TIMING, lambda: f"sat-{next(numbers)}")
        desk.person_id = self.who
        idle = IdleNeeds(self, lambda: 0.0, lambda: shop.store.settings().idle_lock, desk.people, self.signing)
        needs = ShopNeeds(
            builtin_guide(), idle, self.kept.append, lambda: self.folder, self.make_copy, "/mill.shop", self.last
        )
        self.window = ShopWindow(desk, "Mill", needs=needs)
        self.qtbot.addWidget(self.window, before_close_func=self._let_go)
        self.window.show()
        self.window.activateWindow()
        self.qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)

    def _let_go(self, _window: QWidget) -> None:
        """Let the window close at the end of a test, whatever was typed, and without a copy."""
        self.folder = ""
        self.window._may_close = True  # noqa: SLF001 - the test is over

    def now(self) -> datetime:
        """Return the time on the wall."""
        return self.time

    def make_copy(self, folder: Path, pace: Pace) -> OnClosing:
        """Make a copy, or say that it could not be made."""
        pace(1, 2)
        self.copied.append(folder)
        if self.fails:
            return OnClosing(None, FAILED)
        return OnClosing(object(), "Copied.")  # type: ignore[arg-type]  # nobody looks into it

    @property
    def manners(self) -> Manners:
        """The manners of the window."""
        assert self.window.manners is not None
        return self.window.manners

    def wait(self, minutes: float) -> None:
        """Let time pass without a key."""
        self.time += timedelta(minutes=minutes)
        self.manners.lock.look()
        self.settle()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key where the keyboard is."""
        QTest.keyClick(QApplication.focusWidget() or self.window, key, held)
        self.settle()

    def type(self, text: str) -> None:
        """Type a text where the keyboard is."""
        QTest.keyClicks(QApplication.focusWidget() or self.window, text)

    def at(self) -> str:
        """Return the name of what has the keyboard."""
        widget = QApplication.focusWidget()
        return widget.accessibleName() if widget else ""

    @staticmethod
    def settle() -> None:
        """Let the window take its shape."""
        for _ in range(5):
            QApplication.processEvents()
