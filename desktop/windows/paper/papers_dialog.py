"""The papers of an order or of the shop: chosen with the space bar, looked at one by one, printed or saved together."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.viewmodels.paper.choices import Choice
from desktop.viewmodels.paper.paper_needs import Made, Outcome
from desktop.viewmodels.paper.papers_desk import PapersDesk, outcome_words
from desktop.viewmodels.paper.print_desk import SIZES
from desktop.windows.lists.list_table import ListTable
from desktop.windows.paper.ask_file import ask_folder
from desktop.windows.paper.dialog_room import RoomyDialog
from desktop.windows.paper.printing import NO_PRINTER, PrintJob, ask_printer
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.progress_strip import ProgressStrip

LOOKING = "Looking through the papers…"
KEYS = "Up, Down: choose a line   Space: choose the paper   Enter: preview   Esc: close"
NOTHING_CHOSEN = "Nothing is chosen. Choose papers with the space bar first."
PRINTED, SAVED = "went to the printer", "lie in {folder}"
SAVE_LABEL = "Save the label"
ALWAYS_BELOW = 1_000_000
"""The reason stands below its paper however wide the dialog is: it is a whole sentence."""


class PapersTable(ListTable):
    """The papers; the space bar chooses one."""

    turned = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Choose the paper of the line with the space bar."""
        row = self.chosen()
        if event.key() == Qt.Key.Key_Space and row is not None:
            self.turned.emit(row)
        else:
            super().keyPressEvent(event)


class PapersDialog(RoomyDialog):
    """Shows the papers of a desk. ``preview_asked`` carries the one to be looked at."""

    preview_asked = Signal(object)

    def __init__(self, desk: PapersDesk, look: Look, parent: QWidget) -> None:
        super().__init__(look, parent, (1100, 740))
        self.desk = desk
        desk.setParent(self)
        self.setWindowTitle("Papers")
        self.title = QLabel("Papers")
        self.title.setObjectName("title")
        size = dict(SIZES)[desk.needs.size()]
        self.notice = QLabel(f"On {size} paper, as it stands at Settings. What cannot be made yet says why.")
        self.notice.setObjectName("quiet")
        self.table = PapersTable(desk.model, "Papers", look)
        self.said = QLabel()
        self.keys = QLabel(KEYS)
        self.keys.setObjectName("small")
        for label in (self.title, self.notice, self.said, self.keys):
            label.setWordWrap(label is not self.title)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.strip = ProgressStrip(look)
        self.all = QPushButton("Choose &all")
        self.none = QPushButton("Choose &none")
        self.print_these = QPushButton("Print &these…")
        self.save_these = QPushButton("&Save these as PDF…")
        self.act = QPushButton("&Preview and print…")
        self.act.setObjectName("act")
        self._job: PrintJob | None = None
        self._put = 0
        self._where = PRINTED
        self.log_dialog: WhichLogDialog | None = None
        self._build()
        self._connect()
        self.table.setFocus()
        self.say(LOOKING)
        self._show_buttons()
        desk.look()

    def _build(self) -> None:
        look, margin = self._look, self._look.pixels(16)
        self._buttons = QWidget()
        self._tools = QHBoxLayout(self._buttons)
        self._tools.setContentsMargins(0, 0, 0, 0)
        for button in (self.all, self.none, self.print_these, self.save_these):
            self._tools.addWidget(button)
        self._tools.addStretch(1)
        foot = QHBoxLayout()
        foot.addWidget(self.said, 1)
        foot.addWidget(self.act)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(margin, margin, margin, margin)
        self._column.setSpacing(look.pixels(8))
        for widget in (self.title, self.notice):
            self._column.addWidget(widget)
        self._column.addWidget(self.table, 1)
        for below in (self.keys, self._buttons, self.strip):
            self._column.addWidget(below)
        self._column.addLayout(foot)
        self.strip.hide()
        for button in (self.all, self.none, self.print_these, self.save_these, self.act):
            button.setAutoDefault(True)
        order = (self.table, self.all, self.none, self.print_these, self.save_these, self.act, self.strip.stop)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)
        self.table.set_look(look, self.width(), narrow_below=ALWAYS_BELOW)

    def _connect(self) -> None:
        desk = self.desk
        self.table.turned.connect(self._turn)
        self.table.selectionModel().currentRowChanged.connect(lambda now, _before: self._say_reason(now.row()))
        self.table.line_chosen.connect(self._preview)
        self.all.clicked.connect(lambda: desk.choose_all(chosen=True))
        self.none.clicked.connect(lambda: desk.choose_all(chosen=False))
        self.print_these.clicked.connect(self._print)
        self.save_these.clicked.connect(self._save)
        self.act.clicked.connect(lambda: self._preview(self.table.chosen()))
        self.strip.stop_asked.connect(desk.stop)
        desk.lines_changed.connect(self._show_lines)
        desk.went_on.connect(self.strip.show_pace)
        desk.handed.connect(self._put_down)
        desk.ended.connect(self._end)
        desk.refused.connect(self._refuse)
        self.finished.connect(lambda _result: self._leave())

    def _say_reason(self, row: int) -> None:
        """Say why the paper of a line cannot be made yet: in the list there may be no room for all of it."""
        if not self.desk.is_busy and 0 <= row < self.desk.model.rowCount():
            self.say(self.desk.model.line(row).paper.reason or self._chosen_words())

    def _chosen_words(self) -> str:
        count = len(self.desk.chosen())
        return f"{count} chosen." if count else ""

    def _turn(self, row: int) -> None:
        if not self.desk.is_busy:
            self.desk.turn(row)

    def _preview(self, row: int | None) -> None:
        if row is None or self.desk.is_busy:
            return
        choice: Choice | None = self.desk.choice(row)
        if choice is not None:
            self.say("")
            self.preview_asked.emit(choice)

    def _print(self) -> None:
        if self._has_chosen() and self.desk.may_print_together():
            ask_printer(self, self.desk.needs.size(), self._print_on)

    def _print_on(self, printer: QPrinter) -> None:
        self._job, self._put, self._where = PrintJob(printer), 0, PRINTED
        if not self._job.is_open:
            self._job = None
            self.say(NO_PRINTER, refused=True)
            return
        self._begin("Printing")
        self.desk.print_each()

    def _save(self) -> None:
        if self._has_chosen():
            self._ask_log(lambda: ask_folder(self, "Save the papers in a folder", self._folder(), self._save_in))

    def _folder(self) -> str:
        return f"papers-{self.desk.name.replace(' ', '-')}"

    def _save_in(self, folder: Path) -> None:
        self._where = SAVED.format(folder=folder)
        self._begin("Saving")
        self.desk.save_each(folder)

    def _has_chosen(self) -> bool:
        if self.desk.is_busy:
            return False
        if not self.desk.chosen():
            self.say(NOTHING_CHOSEN, refused=True)
            self.table.setFocus()
            return False
        return True

    def _ask_log(self, act: Callable[[], None]) -> None:
        """Ask into which log a label goes, before one leaves with the others."""
        log = self.desk.log_of_chosen()
        if log is None:
            act()
            return
        dialog = WhichLogDialog(log.position, log.serial, self._look, self, SAVE_LABEL)
        self.log_dialog = dialog
        dialog.confirmed.connect(act)
        dialog.finished.connect(self._forget_log)
        dialog.open()

    def _forget_log(self) -> None:
        self.log_dialog = None

    def _begin(self, words: str) -> None:
        self.say("")
        self._buttons.hide()
        self.act.setEnabled(False)
        self.strip.begin(words, can_stop=True)
        self.strip.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def _put_down(self, made: Made) -> None:
        """Put the pages of a paper down at the printer, and remember that it went out."""
        if self._job is not None:
            self._job.put(made.pages)
            self._put += 1
            if made.note is not None:
                self.desk.needs.remember(made.note)

    def _end(self, outcome: Outcome) -> None:
        if self._job is not None:
            self._end_job()
            outcome = Outcome(self._put, outcome.of, outcome.why)
        self._rest()
        self.say(outcome_words(outcome, self._where), refused=bool(outcome.why))

    def _end_job(self) -> None:
        job, self._job = self._job, None
        if job is not None:
            job.end()

    def _rest(self) -> None:
        self.strip.end()
        self._buttons.show()
        self._show_buttons()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave(self) -> None:
        """Stop what runs, before the dialog goes; what lies at the printer is printed."""
        self.desk.end()
        self._end_job()

    def _refuse(self, words: str) -> None:
        if self.strip.isVisible() and not self.desk.is_busy:
            self._end_job()
            self._rest()
        self.say(words, refused=True)
        self._show_buttons()

    def _show_lines(self) -> None:
        self.title.setText(f"Papers of {self.desk.name}")
        self.say(self._chosen_words())
        self.table.choose_first()
        self._show_buttons()

    def _show_buttons(self) -> None:
        is_free, has_lines = not self.desk.is_busy, bool(self.desk.model.rowCount())
        for button in (self.all, self.none, self.print_these, self.save_these, self.act):
            button.setEnabled(is_free and has_lines)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once below the papers."""
        self.said.setObjectName("refusal" if refused else "quiet")
        self.said.style().unpolish(self.said)
        self.said.style().polish(self.said)
        self.said.setText(words)
