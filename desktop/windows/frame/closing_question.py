"""Before a window closes over text that was typed and is not kept: what it is, and whether to stay."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

NOT_KEPT = "Not kept yet: {names}. Closed now, it is lost."
HERE = "Something that was typed here is not kept yet. Closed now, it is lost."
NOT_OPENED = "This new order is not opened yet. Closed now, it is lost."


def ask_before_closing(window: QWidget, words: str, close: Callable[[], object]) -> QMessageBox:
    """Ask; ``close`` is called when somebody closes without it."""
    box = QMessageBox(window)
    box.setWindowTitle("Not kept")
    box.setText(words)
    stay = box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
    box.addButton("Close without it", QMessageBox.ButtonRole.DestructiveRole)
    box.buttonClicked.connect(lambda button: None if button is stay else close())
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()
    return box
