"""The one application: its style, its fonts, and what is shown when the program itself makes a mistake."""

import logging
import sys
from types import TracebackType

from PySide6.QtWidgets import QApplication

from desktop.viewmodels.frame.bug_report import bug_report
from desktop.windows.frame.bug_dialog import BugDialog
from desktop.windows.pieces.look import load_fonts

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
    """Log a bug and show it with a report to copy. The program goes on: what was typed is still there.

    Neither the log nor the report holds what the exception says. While a report is shown, further bugs are counted.
    """
    report = bug_report(kind, trouble, trace)
    LOG.error("%s", report)
    if QApplication.instance() is None:
        return
    dialogs = (one for one in QApplication.topLevelWidgets() if isinstance(one, BugDialog))
    shown = next((one for one in dialogs if one.isVisible()), None)
    if shown is not None:
        shown.count_another()
        return
    window = QApplication.activeWindow()
    dialog = BugDialog(report, window)
    if window is not None:
        dialog.setStyleSheet(window.styleSheet())
    dialog.open()
