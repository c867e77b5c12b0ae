"""The idle lock: after some minutes without a key or a click the window shows nothing until somebody goes on.

What was typed stays where it is; only the view is closed. The same question, who works here, stands at the beginning
and when somebody else comes to the window.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person
from desktop.usecases.records.keys.secrets import hand_of
from desktop.usecases.records.keys.sign import put_down
from desktop.viewmodels.pieces.bench import Signing

LOOK_EVERY_MS = 5000
SECONDS_A_MINUTE = 60


class Clock(Protocol):
    """Tells the time."""

    def now(self) -> datetime:
        """Return the time with its offset from UTC."""
        ...


@dataclass(frozen=True, slots=True)
class IdleNeeds:
    """What the lock works with. ``running`` gives seconds that never go back; they stand still while a machine sleeps.

    ``minutes`` gives the shop's setting as it is now. Both may raise Refusal when the file does not answer. ``signing``
    is None in a shop in memory.
    """

    clock: Clock
    running: Callable[[], float]
    minutes: Callable[[], int]
    people: Callable[[], tuple[Person, ...]]
    signing: Signing | None = None


class IdleLock(QObject):
    """``locked`` closes the view, ``opened`` carries the initials of whoever goes on, ``refused`` a sentence.

    ``is_asking`` tells that the view is closed because somebody asked who works here, and not because it was locked.
    """

    locked = Signal()
    opened = Signal(str)
    refused = Signal(str)

    def __init__(self, needs: IdleNeeds, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._needs = needs
        self.is_locked = self.is_asking = False
        self.since: datetime | None = None
        self._minutes = 0
        self._touched = (needs.clock.now(), needs.running())
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.look)

    def watch(self) -> None:
        """Look every few seconds from now on."""
        self.touch()
        self._timer.start()

    def rest(self) -> None:
        """Look no more."""
        self._timer.stop()

    def touch(self) -> None:
        """Say that somebody pressed a key or clicked; it opens nothing that is locked."""
        if not self.is_locked:
            self._touched = (self._needs.clock.now(), self._needs.running())

    def look(self) -> None:
        """Lock when nobody has touched anything for the shop's minutes.

        The longer of two measures counts: the clock goes on while the machine sleeps, and the other one does not mind a
        clock that is set back.
        """
        if self.is_locked:
            return
        try:
            self._minutes = self._needs.minutes()
        except Refusal:
            if not self._minutes:
                return
        if self._is_idle():
            self.lock()

    def _is_idle(self) -> bool:
        now, running = self._needs.clock.now(), self._needs.running()
        idle = max((now - self._touched[0]).total_seconds(), running - self._touched[1])
        return idle >= self._minutes * SECONDS_A_MINUTE

    def lock(self) -> None:
        """Lock now."""
        if not self.is_locked:
            self.is_locked = True
            self.since = self._touched[0]
            self.locked.emit()

    def ask(self) -> None:
        """Ask who works here: the view is closed until somebody says so."""
        if not self.is_locked:
            self.touch()
            self.is_locked = self.is_asking = True
            self.since = None
            self.locked.emit()

    def leave(self, person_id: str) -> bool:
        """Leave the question: whoever was at work stays so; not when nobody was, and not after the minutes."""
        try:
            self._minutes = self._needs.minutes()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        if not self.is_asking or not person_id or self._is_idle():
            return False
        self._go_on(person_id)
        return True

    @property
    def asks_secret(self) -> bool:
        """Whether the shop's people have secrets; a file that does not answer is taken to have some."""
        signing = self._needs.signing
        try:
            return signing is not None and signing.has_records
        except Refusal:
            return True

    def people(self) -> tuple[Person, ...]:
        """Return who can go on: everybody who is with the shop today."""
        try:
            return self._needs.people()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return ()

    def open(self, person_id: str, secret: str) -> bool:
        """Go on as a person whose secret is right; where nobody has one, go on. Nothing is signed by it.

        Somebody on the roster who is not enrolled has no secret, and the sentence says so.
        """
        if not self.is_locked:
            return True
        try:
            if self.asks_secret:
                assert self._needs.signing is not None  # noqa: S101 - asks_secret says so
                put_down(hand_of(self._needs.signing.desk, person_id, secret))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self._go_on(person_id)
        return True

    def _go_on(self, person_id: str) -> None:
        self.is_locked = self.is_asking = False
        self.touch()
        self.opened.emit(person_id)
