"""Long reading in small pieces, so that the window answers in between."""

from collections.abc import Iterator
from itertools import islice

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import Refusal

PIECE = 20
"""Orders that are read in one turn of the event loop."""


class Piecewise(QObject):
    """Takes everything from an iterator, a piece in each turn of the event loop.

    ``went_on`` carries how many things were taken so far, ``finished`` all of them but those that are None, ``refused``
    a sentence. Begun anew, or stopped, what was taken is dropped.
    """

    went_on = Signal(int)
    finished = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._things: Iterator[object] = iter(())
        self._taken: list[object] = []
        self._count = 0
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._take)

    @property
    def is_busy(self) -> bool:
        """Whether there is still something to take."""
        return self._timer.isActive()

    def begin(self, things: Iterator[object]) -> None:
        """Begin to take; the first piece comes in the next turn."""
        self._things, self._taken, self._count = things, [], 0
        self._timer.start()

    def stop(self) -> None:
        """Take no more."""
        self._timer.stop()

    def _take(self) -> None:
        try:
            piece = list(islice(self._things, PIECE))
        except Refusal as refusal:
            self.stop()
            self.refused.emit(refusal.sentence)
            return
        self._taken += [thing for thing in piece if thing is not None]
        self._count += len(piece)
        if len(piece) == PIECE:
            self.went_on.emit(self._count)
            return
        self.stop()
        self.finished.emit(tuple(self._taken))
