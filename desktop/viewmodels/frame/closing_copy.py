"""The copy that is made when a window closes, beside the window, with a way to close without it."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.usecases.records.copies.backup import OnClosing
from desktop.viewmodels.pieces.errand import Errand, Pace

NO_SETTINGS = "No copy was made on closing. "


class ClosingCopy(QObject):
    """``folder`` gives the shop's folder for copies, empty for none; ``make`` makes a copy there, without Refusal.

    ``went_on`` says how far it is; ``ended`` carries whether a copy was made, and the sentence about it.
    """

    went_on = Signal(int, int)
    ended = Signal(bool, str)

    def __init__(
        self,
        folder: Callable[[], str],
        make: Callable[[Path, Pace], OnClosing],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._folder, self._make = folder, make
        self._errand = Errand(self)
        self._errand.went_on.connect(self.went_on)
        self._errand.finished.connect(self._take)
        self._errand.refused.connect(lambda words: self.ended.emit(False, words))  # noqa: FBT003 - a signal's value

    @property
    def is_busy(self) -> bool:
        """Whether a copy is being made."""
        return self._errand.is_busy

    def is_wanted(self) -> bool:
        """Tell whether the shop has a folder for copies; a file that does not answer gets no copy."""
        try:
            return bool(self._folder())
        except Refusal:
            return False

    def begin(self) -> None:
        """Begin to make the copy."""
        try:
            folder = Path(self._folder())
        except Refusal as refusal:
            self.ended.emit(False, NO_SETTINGS + refusal.sentence)  # noqa: FBT003 - a signal's value
            return
        self._errand.begin(lambda pace: self._make(folder, pace))

    def end(self) -> None:
        """Stop, and wait until nothing is written any more."""
        self._errand.end()

    def _take(self, closing: object) -> None:
        assert isinstance(closing, OnClosing)  # noqa: S101 - what make returns
        self.ended.emit(closing.made is not None, closing.sentence)
