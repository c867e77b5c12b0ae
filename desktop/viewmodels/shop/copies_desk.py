"""The copies of a shop in its window: looked at, and made, beside the window."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.errand import Errand, Work
from desktop.viewmodels.pieces.lines_model import LinesModel
from desktop.viewmodels.shop.copies_found import COPY_COLUMNS, DoctorLine, Looked, doctor_lines, verdict_of
from desktop.viewmodels.shop.copies_restore import RestoreDesk, RestoreNeeds

LOOKING, NOT_LOOKED = "Looking…", "Not looked at: the reason stands below"
NO_FILE = "Copies are made of a shop file, and there is none here."


@dataclass(frozen=True, slots=True)
class CopiesNeeds:
    """What copies need from outside; every work raises Refusal.

    ``folder`` gives the shop's folder for copies, empty for none. The work of ``look`` returns what was Looked at,
    that of ``back_up`` the sentence about the copy that was made in a folder.
    """

    shop: Path
    folder: Callable[[], str]
    look: Callable[[str], Work]
    back_up: Callable[[Path], Work]
    restore: RestoreNeeds


class CopiesDesk(QObject):
    """Looks at the shop file and its copies, and makes one.

    ``looked`` comes when both are known, ``made`` carries the sentence about a new copy, ``refused`` one that is shown
    once, ``went_on`` how far a new copy is; ``busy_changed`` comes at its beginning and its end.
    """

    looked = Signal()
    made = Signal(str)
    refused = Signal(str)
    went_on = Signal(int, int)
    busy_changed = Signal()

    def __init__(self, needs: CopiesNeeds | None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._needs = needs
        self.model = LinesModel(COPY_COLUMNS, lambda line: line.place, self)
        self.doctor: tuple[DoctorLine, ...] = ()
        self.verdict = (LOOKING, Progress.EMPTY)
        self.restoring = RestoreDesk(needs.restore if needs else None, needs.shop if needs else None, self)
        self._looking = Errand(self)
        self._looking.finished.connect(self._take_look)
        self._looking.refused.connect(self._refuse_look)
        self._is_left = False
        self._making = Errand(self)
        self._making.went_on.connect(self.went_on)
        self._making.finished.connect(self._take_made)
        self._making.refused.connect(self._refuse_made)

    @property
    def is_busy(self) -> bool:
        """Whether a copy is being made."""
        return self._making.is_busy

    @property
    def is_looking(self) -> bool:
        """Whether the shop file and its copies are being looked at."""
        return self._looking.is_busy

    def folder(self) -> Path | None:
        """Return the shop's folder for copies, None where none is named; a file that does not answer names none."""
        try:
            named = self._needs.folder() if self._needs else ""
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None
        return Path(named) if named else None

    def look(self) -> None:
        """Begin to look, beside the window; nothing while somebody looks already."""
        self._is_left = False
        if self._needs is None:
            self.refused.emit(NO_FILE)
        elif not self.is_looking:
            folder = self.folder()
            self._looking.begin(self._needs.look(str(folder) if folder else ""))

    def leave(self) -> None:
        """Look no more: what is not known yet stays unknown, and nothing is said of it."""
        self._is_left = True
        self._looking.stop()

    def make(self, folder: Path) -> None:
        """Begin to make a copy in a folder, beside the window; nothing while one is being made."""
        if self._needs is None:
            self.refused.emit(NO_FILE)
        elif not self.is_busy:
            self._making.begin(self._needs.back_up(folder))
            self.busy_changed.emit()

    def stop(self) -> None:
        """Ask the copy that is being made to stop; then there is none."""
        self._making.stop()

    def end(self) -> None:
        """Stop everything, and wait until nothing runs any more."""
        for errand in (self._looking, self._making):
            errand.stop()
        for errand in (self._looking, self._making):
            errand.end()
        self.restoring.end()

    def _take_look(self, found: object) -> None:
        assert isinstance(found, Looked)  # noqa: S101 - what the look returns
        self.doctor, self.verdict = doctor_lines(found.doctor), verdict_of(found.doctor)
        self.model.show_lines(found.copies)
        self.looked.emit()

    def _refuse_look(self, words: str) -> None:
        if not self._is_left:
            self.doctor, self.verdict = (), (NOT_LOOKED, Progress.STOPS)
            self.looked.emit()
            self.refused.emit(words)

    def _take_made(self, words: object) -> None:
        self.busy_changed.emit()
        self.made.emit(str(words))
        self.look()

    def _refuse_made(self, words: str) -> None:
        self.busy_changed.emit()
        self.refused.emit(words)
