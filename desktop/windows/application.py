"""The one application: its style, its fonts, and what is shown when the program itself makes a mistake."""

import logging
import sys
import traceback
from types import TracebackType

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMessageBox

from desktop.windows.look import load_fonts

LOG = logging.getLogger("sparkwright")


def prepare(faces: tuple[bytes, ...]) -> None:
    """Make the application where there is none yet, and load the shipped faces."""
    present = QApplication.instance()
    app = present if isinstance(present, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("Sparkwright")
    app.setStyle("Fusion")
    load_fonts(faces)


def stay_open() -> int:
    """Run until the last window is closed; return the exit status."""
    return QApplication.exec()


def show_bug(kind: type[BaseException], trouble: BaseException, trace: TracebackType | None) -> None:
    """Log a bug and show it with a report to copy. The program goes on: what was typed is still there."""
    report = "".join(traceback.format_exception(kind, trouble, trace))
    LOG.error("%s", report)
    if QApplication.instance() is None:
        return
    box = QMessageBox(QMessageBox.Icon.Warning, "A fault of the program", "")
    box.setText("The program made a mistake. What was typed is still there: save the card.")
    box.setInformativeText("The details can be copied and sent to whoever looks after the program.")
    box.setDetailedText(report)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()
