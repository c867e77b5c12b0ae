"""Asking for a copy, and for the folder of a new one."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFileDialog, QWidget

COPY_FILES = "Copies of a shop (*.shop-copy);;All files (*)"
WHICH, WHERE = "Choose the copy", "Choose the folder for the copy"


def ask_copy(parent: QWidget, folder: Path | None, act: Callable[[Path], object]) -> None:
    """Ask for a copy, and act on it when one was chosen."""
    dialog = _dialog(parent, WHICH, folder, act)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilter(COPY_FILES)
    dialog.open()


def ask_folder(parent: QWidget, folder: Path | None, act: Callable[[Path], object]) -> None:
    """Ask for the folder of a copy, and act on it when one was chosen."""
    dialog = _dialog(parent, WHERE, folder, act)
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    dialog.open()


def _dialog(parent: QWidget, title: str, folder: Path | None, act: Callable[[Path], object]) -> QFileDialog:
    """Return a dialog that begins in a folder, and acts a turn after it closed: then the keys are the page's again."""
    dialog = QFileDialog(parent, title)
    dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
    if folder is not None and folder.is_dir():
        dialog.setDirectory(str(folder))
    dialog.fileSelected.connect(lambda chosen: QTimer.singleShot(0, parent, lambda: act(Path(chosen))))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return dialog
