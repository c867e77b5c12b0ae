"""Work that takes longer than a blink, done beside the window: it says how far it is, and can be stopped."""

from collections.abc import Callable
from queue import Empty, SimpleQueue
from threading import Event, Thread

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import Refusal

Pace = Callable[[int, int], bool]
"""Told how much is done, and of how much; returns False to stop."""
Work = Callable[[Pace], object]
LOOK_EVERY_MS = 30


class Errand(QObject):
    """One piece of work at a time, in a thread of its own, which never touches Qt.

    Every signal comes in the window's thread: ``went_on`` carries how much is done and of how much, ``finished`` what
    the work returned, ``refused`` the sentence of a Refusal. Any other exception is raised again there, where the one
    hook shows it.
    """

    went_on = Signal(int, int)
    finished = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread: Thread | None = None
        self._stop = Event()
        self._told: SimpleQueue[tuple[str, object]] = SimpleQueue()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self._look)

    @property
    def is_busy(self) -> bool:
        """Whether something is being done; it is over only when its end was told."""
        return self._thread is not None

    def begin(self, work: Work) -> None:
        """Begin. Raise ValueError while something else is being done."""
        if self._thread is not None:
            raise ValueError("one errand at a time")
        self._stop, self._told = Event(), SimpleQueue()
        self._thread = Thread(target=_run, args=(work, self._told, self._stop), name="errand")
        self._thread.start()
        self._timer.start()

    def stop(self) -> None:
        """Ask the work to stop; it does at its next step, and says so itself."""
        self._stop.set()

    def end(self) -> None:
        """Stop, and wait until nothing runs any more; nothing is told of it."""
        self.stop()
        self._rest()

    def _look(self) -> None:
        """Tell what came since the last look: of the way only the newest, since the older is past."""
        pace: object = None
        while self._thread is not None:
            try:
                what, value = self._told.get_nowait()
            except Empty:
                break
            if what == "went on":
                pace = value
            else:
                self._tell_pace(pace)
                self._tell_end(what, value)
                return
        self._tell_pace(pace)

    def _tell_pace(self, pace: object) -> None:
        if isinstance(pace, tuple):
            self.went_on.emit(*pace)

    def _tell_end(self, what: str, value: object) -> None:
        self._rest()
        if isinstance(value, BaseException):
            raise value
        if what == "finished":
            self.finished.emit(value)
        else:
            self.refused.emit(value)

    def _rest(self) -> None:
        self._timer.stop()
        thread, self._thread = self._thread, None
        if thread is not None:
            thread.join()


def _run(work: Work, told: SimpleQueue[tuple[str, object]], stop: Event) -> None:
    def pace(done: int, of: int) -> bool:
        told.put(("went on", (done, of)))
        return not stop.is_set()

    try:
        told.put(("finished", work(pace)))
    except Refusal as refusal:
        told.put(("refused", refusal.sentence))
    except BaseException as trouble:  # noqa: BLE001 - whatever it is, it is raised again where it is shown
        told.put(("failed", trouble))
