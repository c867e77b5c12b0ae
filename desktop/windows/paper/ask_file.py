"""Asks for a file, or for a folder that is not there yet."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget


def ask_file(parent: QWidget, title: str, kind: str, name: str, act: Callable[[Path], object], *, saving: bool) -> None:
    """Ask for a file, and act on it when one was chosen."""
    dialog = QFileDialog(parent, title)
    dialog.setNameFilter(kind)
    dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
    if saving:
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(kind.rsplit(".", 1)[1].rstrip(")"))
        dialog.selectFile(name)
    else:
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    _open(dialog, act)


def ask_folder(parent: QWidget, title: str, name: str, act: Callable[[Path], object]) -> None:
    """Ask for the name of a folder, and act on it when one was named."""
    dialog = QFileDialog(parent, title)
    dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.selectFile(name)
    _open(dialog, act)


def _open(dialog: QFileDialog, act: Callable[[Path], object]) -> None:
    dialog.fileSelected.connect(lambda chosen: act(Path(chosen)))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.open()
