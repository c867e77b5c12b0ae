"""A printer that writes a file, in place of the system's dialog; and hands at a dialog."""

from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.windows.paper import papers_dialog, preview_desk

NONE = Qt.KeyboardModifier.NoModifier


class FilePrinter:
    """Each print becomes a file; ``sizes`` tells on which size of paper. ``answers`` False is a printer that is off."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.sizes, self.answers = folder, list[str](), True
        for room in (preview_desk, papers_dialog):
            monkeypatch.setattr(room, "ask_printer", self.ask)

    def ask(self, _parent: QWidget, size: str, act: Callable[[QPrinter], None]) -> None:
        """Choose the printer at once."""
        self.sizes.append(size)
        printer = QPrinter()
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.place(len(self.sizes)) if self.answers else "/no/such/place/at.pdf"))
        act(printer)

    def place(self, number: int) -> Path:
        """Return the file of a print."""
        return self.folder / f"print-{number}.pdf"

    def pages(self, number: int = 1) -> int:
        """Return how many pages a print has."""
        return len(PdfReader(self.place(number)).pages)


class Hands:
    """Presses keys where the keyboard is."""

    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot

    @staticmethod
    def settle() -> None:
        """Let the windows take their shape."""
        for _ in range(6):
            QApplication.processEvents()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Press a key."""
        window = QApplication.activeModalWidget() or QApplication.activeWindow()
        target = QApplication.focusWidget() or (window.focusWidget() if window else None) or window
        assert target is not None
        QTest.keyClick(target, key, held)
        self.settle()

    def type(self, text: str) -> None:
        """Type a text."""
        focus = QApplication.focusWidget()
        assert focus is not None
        QTest.keyClicks(focus, text)

    def name_the_place(self, place: Path) -> None:
        """Write the name of a file or folder into the dialog that asks for it."""
        self.qtbot.waitUntil(lambda: isinstance(QApplication.focusWidget(), QLineEdit))
        field = QApplication.focusWidget()
        assert isinstance(field, QLineEdit)
        field.selectAll()
        QTest.keyClicks(field, str(place))
        self.press(Qt.Key.Key_Return)
