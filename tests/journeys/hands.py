"""A mechanic at the keyboard: small verbs over real key presses, each of them counted."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application, make_window
from desktop.windows.frame.main_window import MainWindow


class Hands:
    """Types into whatever has the keyboard focus, as hands do; looks only at what the window shows."""

    def __init__(self, qtbot: QtBot, file: Path | None = None) -> None:
        application()
        self.qtbot = qtbot
        self.window: MainWindow = make_window(file)
        qtbot.addWidget(self.window, before_close_func=_nothing_to_save)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        self.keys = 0

    def focus(self) -> QWidget:
        """Return the widget that the keys go to."""
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard focus"
        return widget

    def at(self) -> str:
        """Return the name of the field that has the focus."""
        return self.focus().accessibleName()

    def type(self, text: str) -> None:
        """Type text."""
        QTest.keyClicks(self.focus(), text)
        self.keys += len(text)

    def enter(self) -> None:
        """Press Enter."""
        self.press(Qt.Key.Key_Return)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press one key, with or without another held."""
        QTest.keyClick(self.focus(), key, held)
        QApplication.processEvents()
        self.keys += 1

    def fill(self, *texts: str) -> None:
        """Type each text into the field that asks for it, and go on with Enter."""
        for text in texts:
            self.type(text)
            self.enter()

    def save_paper(self, place: Path) -> None:
        """From the preview: save as PDF under a name."""
        preview = self.window.preview
        assert preview is not None, "no page preview is open"
        while QApplication.focusWidget() is not preview.save_button:
            self.press(Qt.Key.Key_Backtab)
        self.press(Qt.Key.Key_Space)
        self.qtbot.waitUntil(lambda: isinstance(QApplication.focusWidget(), QLineEdit))
        name = self.focus()
        assert isinstance(name, QLineEdit)
        name.selectAll()
        QTest.keyClicks(name, str(place))
        self.press(Qt.Key.Key_Return)
        self.qtbot.waitUntil(place.exists)

    def tab(self) -> None:
        """Go to the field that follows."""
        self.press(Qt.Key.Key_Tab)

    def tick(self) -> None:
        """Tick the box that has the focus; that goes on by itself."""
        self.press(Qt.Key.Key_Space)


def _nothing_to_save(window: QWidget) -> None:
    """Let the window close at the end of a test without being asked about changes."""
    assert isinstance(window, MainWindow)
    window.session.is_saved = True
