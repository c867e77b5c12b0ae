"""Work that takes longer than a blink, done beside the window: it says how far it is, and can be stopped."""

from collections.abc import Callable
from threading import Event, Thread

from PySide6.QtCore import QObject, Qt, Signal

from desktop.core.errors import Refusal

Pace = Callable[[int, int], bool]
"""Told how much is done, and of how much; returns False to stop."""
Work = Callable[[Pace], object]


class Errand(QObject):
    """One piece of work at a time, in a thread of its own. Every signal arrives in the thread of the window.

    ``went_on`` carries how much is done and of how much, ``finished`` what the work returned, ``refused`` the sentence
    of a Refusal. Any other exception is raised again in the window's thread, where the one hook shows it.
    """

    went_on = Signal(int, int)
    finished = Signal(object)
    refused = Signal(str)
    _told = Signal(object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread: Thread | None = None
        self._stop = Event()
        self._told.connect(self._take, Qt.ConnectionType.QueuedConnection)

    @property
    def is_busy(self) -> bool:
        """Whether something is being done; it is over only when its end was told."""
        return self._thread is not None

    def begin(self, work: Work) -> None:
        """Begin. Raise ValueError while something else is being done."""
        if self._thread is not None:
            raise ValueError("one errand at a time")
        self._stop.clear()
        self._thread = Thread(target=self._run, args=(work,), name="errand")
        self._thread.start()

    def stop(self) -> None:
        """Ask the work to stop; it does at its next step, and says so itself."""
        self._stop.set()

    def end(self) -> None:
        """Stop, and wait until nothing runs any more; nothing is told of it."""
        self.stop()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _run(self, work: Work) -> None:
        try:
            self._told.emit("finished", work(self._pace))
        except Refusal as refusal:
            self._told.emit("refused", refusal.sentence)
        except BaseException as trouble:  # noqa: BLE001 - whatever it is, it is raised again where it is shown
            self._told.emit("failed", trouble)

    def _pace(self, done: int, of: int) -> bool:
        self._told.emit("went on", (done, of))
        return not self._stop.is_set()

    def _take(self, what: str, value: object) -> None:
        if self._thread is None:
            return
        if what == "went on":
            assert isinstance(value, tuple)  # noqa: S101 - as it was told
            self.went_on.emit(*value)
            return
        self._thread.join()
        self._thread = None
        if what == "finished":
            self.finished.emit(value)
        elif what == "refused":
            self.refused.emit(str(value))
        else:
            assert isinstance(value, BaseException)  # noqa: S101 - as it was told
            raise value
