"""Somebody with a printed page: its text alone, a machine to type at, and a window to work by keys."""

import os
import re
import subprocess
import sys
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QCheckBox, QLabel, QWidget
from pytestqt.qtbot import QtBot

from desktop.windows.frame.real_keys import plain
from desktop.windows.frame.shop_window import ShopWindow
from tests.architecture.sources import HOUSE
from tests.windows.shop.copies_floor import PHRASE, Seat

WINDOW, TYPED, AFTER = "In the window", "Or at the command line", "Afterwards"


ACT = re.compile(r'\b(?P<verb>[Pp]ress|Tick|At) (?:"(?P<label>[^"]+)"|(?P<keys>Ctrl\+\w))')


MOST_TABS = 40


@dataclass(frozen=True)
class Sheet:
    """What somebody reads on the page."""

    text: str

    @property
    def seal(self) -> str:
        """Return the record seal that stands on the page."""
        found = re.search(r"\(SEAL\)\s+([0-9a-f]{16})\b", self.text)
        assert found, "the page bears no record seal"
        return found[1]

    def part(self, begins: str, ends: str = "") -> str:
        """Return the text from one heading to another."""
        after = self.text.split(begins, 1)[1]
        return after.split(ends, 1)[0] if ends else after

    @staticmethod
    def commands(part: str) -> list[str]:
        """Return the command lines of a part, in their order."""
        return [line.strip() for line in part.splitlines() if line.strip().startswith("sparkwright ")]

    def with_words(self, old: str, new: str) -> "Sheet":
        """Return the page with other words on it, as a page that is out of date."""
        assert old in self.text
        return replace(self, text=self.text.replace(old, new))


@dataclass(frozen=True)
class Machine:
    """A machine with a user's folder of its own: the shop file's place, and the copy that was brought there."""

    home: Path
    shop: Path
    copy: Path

    def words(self, line: str, seal: str) -> list[str]:
        """Return a command line with what its capitals stand for."""
        stand_for = {"COPY": str(self.copy), "SHOP": str(self.shop), "SEAL": seal}
        return [stand_for.get(word, word) for word in line.split()]

    def run(self, line: str, seal: str) -> subprocess.CompletedProcess[str]:
        """Run a command line for real, with the secret on its standard input."""
        name, *words = self.words(line, seal)
        assert name == "sparkwright"
        return subprocess.run(
            [sys.executable, "-m", "desktop", *words],
            cwd=HOUSE,
            env=os.environ | {"XDG_STATE_HOME": str(self.home / "state"), "HOME": str(self.home)},
            input=f"{PHRASE}\n",
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )


def same(words: str) -> str:
    """Return words as they are compared: without marks of letters, dots at the end, and capitals."""
    return plain(words).strip().rstrip(".…").casefold()


class Reader(Seat):
    """Somebody who has the page and the keyboard, and knows nothing else."""

    def __init__(self, qtbot: QtBot, sheet: Sheet, machine: Machine) -> None:
        self.qtbot, self.sheet, self.machine, self.keys = qtbot, sheet, machine, 0

    def read_and_do(self) -> None:
        """Do what stands under the heading of the window, one thing after the other."""
        part = " ".join(self.sheet.part(WINDOW, TYPED).split())
        acts = list(ACT.finditer(part))
        assert len(acts) >= 6
        for act, after in zip(acts, [*(one.start() for one in acts[1:]), len(part)], strict=True):
            rest = part[act.end() : after]
            if act["keys"]:
                if not isinstance(self.window(), ShopWindow):
                    continue  # "where a shop opens"
                self.press_keys(act["keys"])
            elif self.is_asked(act["label"], rest):
                self.do(act["verb"], act["label"], rest)

    def do(self, verb: str, label: str, rest: str) -> None:
        """Go to what bears a label, and do what the page says of it."""
        self.go_to(label)
        if verb == "Tick":
            self.press(Qt.Key.Key_Space)
        elif verb == "At":
            if "SHOP" in rest:
                self.replace(str(self.machine.shop))
            if "SECRET" in rest:
                self.replace(PHRASE)
        else:
            self.press(Qt.Key.Key_Space)
            if "COPY" in rest:
                self.name_file(self.machine.copy)
                self.until(lambda: any(one.text().startswith("This copy is sound") for one in self.labels()))

    def is_asked(self, label: str, rest: str) -> bool:
        """Tell whether something is asked here; what the page does not call a condition is always asked."""
        if "where that is asked" not in rest and "only when" not in rest:
            return True
        assert any(same(label) == same(one.text()) for one in self.window().findChildren(QLabel)), label
        return any(same(label) == same(one.text()) for one in self.labels())

    def go_to(self, label: str) -> None:
        """Go on with Tab until what bears the label has the keyboard."""
        for _ in range(MOST_TABS):
            if same(label) in {same(self.at()), *self.buttons_words()}:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f'nothing in the window is called "{label}"')

    def buttons_words(self) -> set[str]:
        """Return the words of the button that has the keyboard."""
        widget = self.focus()
        is_button = isinstance(widget, QAbstractButton) and not isinstance(widget, QCheckBox)
        return {same(widget.text())} if is_button else set()  # type: ignore[attr-defined]  # a button has words

    def replace(self, text: str) -> None:
        """Type a text in the place of what stands in the field."""
        QTest.keyClick(self.focus(), Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        self.type(text)

    def press_keys(self, keys: str) -> None:
        """Press keys as they are written."""
        combination = QKeySequence(keys)[0]  # type: ignore[index]  # it is; the stubs do not say so
        self.press(combination.key(), combination.keyboardModifiers())
        window = self.window()
        assert isinstance(window, ShopWindow)
        self.until(lambda: not window.desk.copies.is_looking)

    def labels(self) -> list[QLabel]:
        """Return the words that are seen."""
        return [one for one in self.window().findChildren(QLabel) if one.isVisible()]

    @staticmethod
    def window() -> QWidget:
        """Return the window in front."""
        return next(one for one in QApplication.topLevelWidgets() if one.isVisible() and one.isWindow())

    def restored(self) -> ShopWindow:
        """Wait until the restored shop is open, and return its window."""
        self.until(lambda: any("is restored" in one.orders.foot.message.text() for one in self.shops()))
        [window] = self.shops()
        return window

    @staticmethod
    def shops() -> list[ShopWindow]:
        """Return the windows of shops that are seen."""
        return [one for one in QApplication.topLevelWidgets() if isinstance(one, ShopWindow) and one.isVisible()]
