"""One paper that is looked at before it prints: what of it, on which size, on which labels; made beside the window."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.entry.entry_labels import COMMON
from desktop.viewmodels.paper.choices import Choice
from desktop.viewmodels.paper.paper_needs import PRINTER_DOTS, SCREEN_DOTS, Made, PaperNeeds
from desktop.viewmodels.pieces.errand import Errand
from reports.document_labels import LABEL_SIZES

SIZES = (("letter", "Letter"), ("a4", "A4"))


class PrintDesk(QObject):
    """Makes one of its choices. ``made`` carries the paper as it was asked for last, ``drawn`` its printer's pages.

    What goes out is exactly what was shown: the same bytes. ``asked`` says that a paper is being made.
    """

    asked = Signal()
    made = Signal(object)
    drawn = Signal(object)
    refused = Signal(str)

    def __init__(
        self, needs: PaperNeeds, choices: tuple[Choice, ...], parent: QObject | None = None, *, at_once: bool = False
    ) -> None:
        super().__init__(parent)
        self._needs, self.choices, self._at_once = needs, choices, at_once
        self.place, self.size, self.label, self.start = 0, needs.size(), "", 1
        self.paper: Made | None = None
        self._asks_again = False
        self._errand = Errand(self)
        self._errand.finished.connect(self._take)
        self._errand.refused.connect(self._refuse)

    @property
    def choice(self) -> Choice:
        """What prints."""
        return self.choices[self.place]

    @property
    def is_busy(self) -> bool:
        """Whether something is being made or drawn."""
        return self._errand.is_busy

    def labels(self) -> tuple[tuple[str, int], ...]:
        """Return the sizes of label on this size of paper, the usual one first, each with its number of labels."""
        there = [one for one in LABEL_SIZES if one.paper == self.size]
        there.sort(key=lambda one: one.name != COMMON[self.size])
        return tuple((one.name, one.count) for one in there)

    def label_count(self) -> int:
        """Return how many labels are on a sheet of the size that is chosen."""
        return dict(self.labels())[self.label or self.labels()[0][0]]

    def begin(self) -> None:
        """Make the paper; when one is being made, this one follows it."""
        self.paper = None
        self.asked.emit()
        if self.is_busy:
            self._asks_again = True
        else:
            thing, size = self._thing(), self.size
            self._run(lambda: self._needs.make(thing, size, SCREEN_DOTS))

    def choose(self, place: int) -> None:
        """Take another choice."""
        self.place = place
        self.begin()

    def choose_size(self, size: str) -> None:
        """Take another size of paper; labels are then those of that size, from the first on."""
        self.size, self.label, self.start = size, "", 1
        self.begin()

    def choose_label(self, name: str) -> None:
        """Take another size of label; a start that is not on it goes to the first."""
        self.label = name
        self.start = self.start if self.start <= self.label_count() else 1
        self.begin()

    def choose_start(self, start: int) -> None:
        """Begin at another label of the sheet."""
        self.start = max(1, min(start, self.label_count()))
        self.begin()

    def draw(self) -> None:
        """Draw the pages of the paper for the printer; nothing while there is none."""
        paper = self.paper
        if paper is not None and not self.is_busy:
            self.asked.emit()
            self._run(lambda: self._needs.draw(paper.pdf, PRINTER_DOTS))

    def write(self, place: Path) -> bool:
        """Keep the paper as PDF; tell whether it is kept."""
        if self.paper is None:
            return False
        try:
            self._needs.write(place, self.paper.pdf)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        return True

    def went_out(self) -> None:
        """Remember what went out; whoever prints it once more makes it anew, as a reprint."""
        if self.paper is not None and self.paper.note is not None:
            self._needs.remember(self.paper.note)
        self.paper = None

    def end(self) -> None:
        """Make nothing more, and wait until nothing runs."""
        self._asks_again = False
        self._errand.end()

    def _thing(self) -> object:
        thing = self.choice.thing
        return (
            replace(thing, label=self.label, start=self.start)
            if isinstance(thing, Asked) and self.choice.is_labels
            else thing
        )

    def _run(self, work: object) -> None:
        do = work
        if not self._at_once:
            self._errand.begin(lambda _pace: do())  # type: ignore[operator]  # what the callers hand in
            return
        try:
            self._take(do())  # type: ignore[operator]  # the same
        except Refusal as refusal:
            self._refuse(refusal.sentence)

    def _take(self, result: object) -> None:
        if self._asks_again:
            self._asks_again = False
            self.begin()
        elif isinstance(result, Made):
            self.paper = result
            self.made.emit(result)
        elif result is not None:
            self.drawn.emit(result)

    def _refuse(self, sentence: str) -> None:
        if self._asks_again:
            self._asks_again = False
            self.begin()
        else:
            self.refused.emit(sentence)
