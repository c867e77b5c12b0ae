"""Preview, print and save a paper; used by every window that prints."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QRectF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.pieces.look import Look
from reports.pages import Page

PREVIEW_DPI = 96
PRINTER_DPI = 300

Pages = Callable[[bytes, float], tuple[Page, ...]]


class MakePaper(Protocol):
    """Makes a paper, None after a refusal that was said already."""

    def __call__(self, *, size: str, blank: bool) -> bytes | None:
        """Return the paper as PDF."""
        ...


class PaperDesk(QObject):
    """Shows one paper at a time as it will print. Size and kind stay as they were chosen last."""

    def __init__(self, window: QWidget, pages: Pages, save: Callable[[Path, bytes], bool] | None = None) -> None:
        super().__init__(window)
        self._window = window
        self._pages = pages
        self._save_to = save
        self._size = "letter"
        self._blank = False
        self._make: MakePaper | None = None
        self._name = ""
        self._say: Callable[..., None] = lambda _words: None
        self.preview: PreviewDialog | None = None

    def show(self, make: MakePaper, name: str, say: Callable[..., None], look: Look | None = None) -> None:
        """Show the pages of a paper; ``name`` begins the name of its file, ``say`` tells what was done."""
        self._make, self._name, self._say = make, name, say
        pdf = self._paper()
        if pdf is None:
            return
        dialog = PreviewDialog(look or Look(), self._window)
        self.preview = dialog
        dialog.size_box.setCurrentIndex(dialog.size_box.findData(self._size))
        dialog.blank_box.setCurrentIndex(int(self._blank))
        dialog.show_pages(self._pages(pdf, PREVIEW_DPI))
        dialog.size_chosen.connect(self._choose_size)
        dialog.blank_chosen.connect(self._choose_blank)
        dialog.print_asked.connect(self._print)
        dialog.save_asked.connect(self._ask_where_to_save)
        dialog.finished.connect(self._forget_preview)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages on a printer that was chosen."""
        pdf = self._paper()
        if pdf is None:
            return
        painter = QPainter()
        if not painter.begin(printer):
            self._say("The printer does not answer. Check it, or save the card as PDF.", refused=True)
            return
        for number, page in enumerate(self._pages(pdf, PRINTER_DPI)):
            if number:
                printer.newPage()
            image = QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888)
            painter.drawImage(QRectF(painter.viewport()), image)
        painter.end()
        self._say("The card went to the printer.")

    def _paper(self) -> bytes | None:
        return self._make(size=self._size, blank=self._blank) if self._make else None

    def _forget_preview(self) -> None:
        self.preview = None

    def _choose_size(self, size: str) -> None:
        self._size = size
        self._show_again()

    def _choose_blank(self, blank: bool) -> None:  # noqa: FBT001 - a signal's value
        self._blank = blank
        self._show_again()

    def _show_again(self) -> None:
        pdf = self._paper()
        if pdf is not None and self.preview is not None:
            self.preview.show_pages(self._pages(pdf, PREVIEW_DPI))

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setResolution(PRINTER_DPI)
        kind = QPageSize.PageSizeId.Letter if self._size == "letter" else QPageSize.PageSizeId.A4
        printer.setPageSize(QPageSize(kind))
        printer.setFullPage(True)
        printer.setPageOrientation(QPageLayout.Orientation.Portrait)
        dialog = QPrintDialog(printer, self._window)
        dialog.accepted.connect(lambda: self.print_on(printer))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        QDialog.open(dialog)

    def _ask_where_to_save(self) -> None:
        ask_file(
            self.preview or self._window, "Save as PDF", "PDF (*.pdf)", f"{self._name}.pdf", self._save, saving=True
        )

    def _save(self, place: Path) -> None:
        pdf = self._paper()
        if pdf is not None and self._save_to is not None and self._save_to(place, pdf) and self.preview is not None:
            self.preview.close()


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
    dialog.fileSelected.connect(lambda chosen: act(Path(chosen)))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.open()
