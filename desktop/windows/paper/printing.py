"""A printer for a size of paper, and the pages that go to it."""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from desktop.viewmodels.paper.paper_needs import PRINTER_DOTS
from reports.pages import Page

NO_PRINTER = "The printer does not answer. Check it, or save as PDF."
PutDown = Callable[[QPrinter], None]


def ask_printer(parent: QWidget, size: str, act: PutDown) -> None:
    """Open the system's dialog for a printer, and act on it when one was chosen."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setResolution(PRINTER_DOTS)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4 if size == "a4" else QPageSize.PageSizeId.Letter))
    printer.setFullPage(True)
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    dialog = QPrintDialog(printer, parent)
    dialog.accepted.connect(lambda: act(printer))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    QDialog.open(dialog)


class PrintJob:
    """Pages that go to one printer as one job, the pages of one paper after those of another."""

    def __init__(self, printer: QPrinter) -> None:
        self._printer, self._painter = printer, QPainter()
        self._is_first = True
        self.is_open = self._painter.begin(printer)

    def put(self, pages: Iterable[Page]) -> None:
        """Put pages down."""
        for page in pages:
            if not self._is_first:
                self._printer.newPage()
            self._is_first = False
            image = QImage(page.pixels, page.width, page.height, page.stride, QImage.Format.Format_RGB888)
            self._painter.drawImage(QRectF(self._painter.viewport()), image)

    def end(self) -> None:
        """Let the printer have them; where nothing was put down, the job is given up."""
        if self.is_open and self._is_first:
            self._printer.abort()
        self._painter.end()
        self.is_open = False
