"""The papers of an order or of the shop in lines: which are chosen, which cannot be made yet, and many at once."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from pathlib import Path
from queue import Empty, Full, Queue
from threading import Event

from PySide6.QtCore import QObject, Signal

from desktop.usecases.papers.stable_set import PaperThere
from desktop.viewmodels.paper.choices import Choice, paper_choice
from desktop.viewmodels.paper.paper_needs import PRINTER_DOTS, Listed, Made, Outcome, PaperNeeds, WhichLog
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.errand import Errand
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn

CHOSEN, NOT_YET = "chosen", "not yet"
LABELS_ALONE = "The labels go on a sheet of their own. Print them alone: choose their line and press Enter."
WAIT = 0.05
"""Seconds for which a made paper waits to be taken before it is asked whether to stop."""


@dataclass(frozen=True, slots=True)
class PaperLine:
    """A paper, and whether it is chosen."""

    paper: PaperThere
    is_chosen: bool = False


def chosen_words(line: PaperLine) -> str:
    """Say whether a paper is chosen, or cannot be yet."""
    return NOT_YET if line.paper.reason else CHOSEN if line.is_chosen else ""


def ring_of(line: PaperLine) -> Progress:
    """Return the shape that goes with the word."""
    return Progress.OPEN if line.paper.reason else Progress.DONE if line.is_chosen else Progress.EMPTY


PAPER_COLUMNS = (
    ListColumn("Chosen", chosen_words, 136, ring=ring_of, narrow_width=136),
    ListColumn("Paper", lambda line: line.paper.title, below=("Why not yet",), narrow_width=0),
    ListColumn("Why not yet", lambda line: line.paper.reason, quiet=True),
)


class PapersDesk(QObject):
    """The papers of one order, or of the shop for 0. ``handed`` carries a paper on its way to the printer.

    ``ended`` carries how far many papers got; ``refused`` a sentence. Of many papers that print, one at most waits.
    """

    lines_changed = Signal()
    went_on = Signal(int, int)
    handed = Signal(object)
    ended = Signal(object)
    refused = Signal(str)

    def __init__(self, needs: PaperNeeds, order: int, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.needs, self.order = needs, order
        self.name = ""
        self.log: WhichLog | None = None
        self.model = LinesModel(PAPER_COLUMNS, _key, self)
        self._waiting: Queue[Made] = Queue(maxsize=1)
        self._stopping = Event()
        self._errand = Errand(self)
        self._errand.went_on.connect(self._go_on)
        self._errand.finished.connect(self._take)
        self._errand.refused.connect(self.refused)

    @property
    def is_busy(self) -> bool:
        """Whether papers are being listed or made."""
        return self._errand.is_busy

    def look(self) -> None:
        """List the papers, beside the window."""
        if not self.is_busy:
            self._errand.begin(lambda _pace: self.needs.listed(self.order))

    def lines(self) -> tuple[PaperLine, ...]:
        """Return the papers in their order."""
        return tuple(self.model.line(row) for row in range(self.model.rowCount()))

    def chosen(self) -> tuple[PaperThere, ...]:
        """Return the papers that are chosen."""
        return tuple(line.paper for line in self.lines() if line.is_chosen)

    def turn(self, row: int) -> bool:
        """Choose a paper or leave it; tell whether it can be chosen."""
        lines = list(self.lines())
        paper = lines[row].paper
        if paper.reason:
            self.refused.emit(f"{paper.title}: {paper.reason}")
            return False
        lines[row] = PaperLine(paper, not lines[row].is_chosen)
        self._show(lines)
        return True

    def choose_all(self, *, chosen: bool) -> None:
        """Choose every paper that can be made, or none."""
        self._show([PaperLine(line.paper, chosen and not line.paper.reason) for line in self.lines()])

    def choice(self, row: int) -> Choice | None:
        """Return the paper of a row to be looked at; None, with the reason said, for one that cannot be made yet."""
        paper = self.lines()[row].paper
        if paper.reason:
            self.refused.emit(f"{paper.title}: {paper.reason}")
            return None
        return paper_choice(paper, self.log)

    def log_of_chosen(self) -> WhichLog | None:
        """Return the log that is asked for before what is chosen goes out; None when no label is among it."""
        return next((log for paper in self.chosen() if (log := paper_choice(paper, self.log).log)), None)

    def print_each(self) -> None:
        """Make what is chosen for the printer, and hand each paper over as it comes."""
        self._begin(PRINTER_DOTS, self._hand_over)

    def may_print_together(self) -> bool:
        """Tell whether what is chosen may go to the printer in one go; labels lie on a sheet of their own."""
        has_labels = any(paper_choice(paper).is_labels for paper in self.chosen())
        if has_labels:
            self.refused.emit(LABELS_ALONE)
        return not has_labels

    def save_each(self, folder: Path) -> None:
        """Keep what is chosen in a folder, each under the name of its file. Nothing is written over."""
        files = [f"{paper.file}.pdf" for paper in self.chosen()]
        there = next((name for name in files if (folder / name).exists()), "")
        if there:
            self.refused.emit(f"{there} lies in {folder} already, and nothing is written over. Name a new folder.")
            return
        needs = self.needs

        def write(place: int, made: Made) -> bool:
            needs.write(folder / files[place], made.pdf)
            return True

        self._begin(0, write)

    def stop(self) -> None:
        """Ask for no more papers; those that are done stay done."""
        self._stopping.set()
        self._errand.stop()

    def end(self) -> None:
        """Stop, and wait until nothing runs."""
        self._stopping.set()
        self._errand.end()

    def _begin(self, dots: float, take: Callable[[int, Made], bool]) -> None:
        things = [paper.asked for paper in self.chosen()]
        if things and not self.is_busy:
            self._waiting, self._stopping = Queue(maxsize=1), Event()
            self._errand.begin(self.needs.each(things, self.needs.size(), dots, take))

    def _hand_over(self, _place: int, made: Made) -> bool:
        """Wait, beside the window, until the paper before was taken; False when nobody takes it any more."""
        while not self._stopping.is_set():
            try:
                self._waiting.put(made, timeout=WAIT)
            except Full:
                continue
            return True
        return False

    def _go_on(self, done: int, of: int) -> None:
        self._drain()
        self.went_on.emit(done, of)

    def _drain(self) -> None:
        while True:
            try:
                made = self._waiting.get_nowait()
            except Empty:
                return
            self.handed.emit(made)

    def _take(self, result: object) -> None:
        if isinstance(result, Listed):
            chosen = {_key(line) for line in self.lines() if line.is_chosen}
            self.name, self.log = result.name, result.log
            lines = [PaperLine(paper) for paper in result.papers]
            self._show([PaperLine(one.paper, _key(one) in chosen and not one.paper.reason) for one in lines])
        elif isinstance(result, Outcome):
            self._drain()
            self.ended.emit(result)

    def _show(self, lines: list[PaperLine]) -> None:
        self.model.show_lines(lines)
        self.lines_changed.emit()


def outcome_words(outcome: Outcome, where: str) -> str:
    """Say how far many papers got; ``where`` says where they are now."""
    papers = f"{outcome.of} papers" if outcome.of != 1 else "1 paper"
    if outcome.why:
        return f"{outcome.done} of {papers} {where}. Then: {outcome.why}"
    if outcome.done < outcome.of:
        return f"Stopped. {outcome.done} of {papers} {where}."
    return f"{papers} {where}."


def _key(line: PaperLine) -> Hashable:
    return line.paper.file
