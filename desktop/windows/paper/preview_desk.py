"""Preview, print and save one paper; used by every window that prints."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget

from desktop.viewmodels.paper.print_desk import PrintDesk
from desktop.windows.paper.ask_file import ask_file
from desktop.windows.paper.preview_dialog import MAKING, PreviewDialog
from desktop.windows.paper.printing import NO_PRINTER, PrintJob, ask_printer
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.pieces.look import Look

Say = Callable[..., None]
PRINT_LABEL, SAVE_LABEL = "Print the label", "Save the label"


class PreviewDesk(QObject):
    """Shows one paper as it will print, once it is made. ``say`` tells on the page what is done and was refused.

    ``ended`` comes when the preview is closed, or when there is nothing to show.
    """

    ended = Signal()

    def __init__(self, window: QWidget, desk: PrintDesk, say: Say, look: Look) -> None:
        super().__init__(window)
        self._window, self.desk, self._say, self._look = window, desk, say, look
        desk.setParent(self)
        self._printer: QPrinter | None = None
        self.preview: PreviewDialog | None = None
        self.log_dialog: WhichLogDialog | None = None
        desk.made.connect(self._open)
        desk.drawn.connect(self._print_pages)
        desk.refused.connect(self._refuse)

    def begin(self) -> None:
        """Make the paper, and show it then."""
        self._say(MAKING)
        self.desk.begin()

    def end(self) -> None:
        """Make nothing more."""
        self.desk.end()
        if self.preview is not None:
            self.preview.close()

    def print_on(self, printer: QPrinter) -> None:
        """Draw the pages that are shown for a printer that was chosen, and print them."""
        self._printer = printer
        self.desk.draw()

    def _open(self, _made: object) -> None:
        if self.preview is not None:
            return
        self._say("")
        dialog = PreviewDialog(self.desk, self._look, self._window)
        self.preview = dialog
        dialog.print_asked.connect(partial(self._ask_log, PRINT_LABEL, self._ask_printer))
        dialog.save_asked.connect(partial(self._ask_log, SAVE_LABEL, self._ask_place))
        dialog.finished.connect(self._forget)
        dialog.open()

    def _forget(self) -> None:
        self.preview = None
        self.ended.emit()

    def _refuse(self, words: str) -> None:
        """Say on the page why there is no paper; an open preview says so itself."""
        if self.preview is None:
            self._say(words, refused=True)
            self.ended.emit()

    def _ask_log(self, words: str, act: Callable[[], None]) -> None:
        """Ask into which log a label goes, where there is more than one; nothing goes out before that is answered."""
        log = self.desk.choice.log
        if log is None:
            act()
            return
        parent = self.preview or self._window
        dialog = WhichLogDialog(log.position, log.serial, self._look, parent, words)
        self.log_dialog = dialog
        dialog.confirmed.connect(act)
        dialog.finished.connect(self._forget_log)
        dialog.open()

    def _forget_log(self) -> None:
        self.log_dialog = None

    def _ask_printer(self) -> None:
        ask_printer(self.preview or self._window, self.desk.size, self.print_on)

    def _print_pages(self, pages: object) -> None:
        printer, self._printer = self._printer, None
        if printer is None or not isinstance(pages, tuple):
            return
        job = PrintJob(printer)
        if not job.is_open:
            self._say_once(NO_PRINTER, refused=True)
            return
        job.put(pages)
        job.end()
        self._went_out(f"{self.desk.choice.said} went to the printer.")

    def _ask_place(self) -> None:
        name = f"{self.desk.choice.file}.pdf"
        ask_file(self.preview or self._window, "Save as PDF", "PDF (*.pdf)", name, self._save, saving=True)

    def _save(self, place: Path) -> None:
        if self.desk.write(place):
            self._went_out(f"{self.desk.choice.said} is in {place.name}.")

    def _went_out(self, words: str) -> None:
        self.desk.went_out()
        self._say_once(words)

    def _say_once(self, words: str, *, refused: bool = False) -> None:
        if self.preview is not None:
            self.preview.close()
        self._say(words, refused=refused)
