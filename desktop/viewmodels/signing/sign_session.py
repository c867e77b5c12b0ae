"""One signature in the window: what is signed, how the signer's key stands, and what was read back afterwards.

The secret is handed through and kept nowhere.
"""

from collections.abc import Callable
from datetime import datetime
from typing import Protocol

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import ChangedElsewhere, Refusal
from desktop.core.records.record import Record
from desktop.core.records.sealed.record_line import RecordLine, record_name
from desktop.core.records.subjects import place_of
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.records.keys.in_your_name import InYourName, signed_in_your_name_since
from desktop.usecases.records.keys.secrets import KeyState, key_state
from desktop.usecases.records.sections.names import moment_words
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.correct import Correction, CorrectionProposal, propose_correction, sign_correction
from desktop.usecases.records.signing.see_record import SeenRecord, see_as_kept
from desktop.usecases.records.signing.signed_acts import Proposal, propose, sign_act
from desktop.viewmodels.pieces.bench import Signing

SECOND_MS = 1000
NOTHING_SINCE = "Nothing was signed in your name yet."
AGAIN = "Look at it again"


def subject_words(subject: str) -> str:
    """Name what a record is about; an order by the number under which it is known."""
    place = place_of(subject)
    if not place.order:
        return subject
    return order_name(place.order) + (f", card {place.card}" if place.card else "")


class Shown(Protocol):
    """Something as it was shown to whoever signs it."""

    @property
    def person(self) -> str:
        """Who signs."""
        ...

    @property
    def record(self) -> Record:
        """What is signed."""
        ...

    @property
    def lines(self) -> tuple[str, ...]:
        """The confirmation text."""
        ...


class Pen(Protocol):
    """Shows something, and signs it as it was shown."""

    def show(self) -> Shown:
        """Return it as it would be signed now; raise Refusal with everything that is against it."""
        ...

    def sign(self, request_id: str, shown: Shown, secret: str, seen: int) -> object:
        """Sign it; raise Refusal when it is not as it was shown, or the secret is wrong."""
        ...


class ActPen:
    """Signs an act about an order."""

    def __init__(self, signing: Signing, person_id: str, act: Act) -> None:
        self._signing, self._person, self._act = signing, person_id, act

    def show(self) -> Shown:
        """Return the act as it would be signed now."""
        return propose(self._signing.desk, self._signing.store, self._person, self._act)

    def sign(self, request_id: str, shown: Shown, secret: str, seen: int) -> object:
        """Sign the act as it was shown."""
        assert isinstance(shown, Proposal)  # noqa: S101 - it came from show
        return sign_act(self._signing.desk, self._signing.store, request_id, shown, secret, seen)


class CorrectionPen:
    """Signs a correction of a record."""

    def __init__(self, signing: Signing, person_id: str, correction: Correction) -> None:
        self._signing, self._person, self._correction = signing, person_id, correction

    def show(self) -> Shown:
        """Return the correction as it would be signed now."""
        return propose_correction(self._signing.desk, self._signing.store, self._person, self._correction)

    def sign(self, request_id: str, shown: Shown, secret: str, seen: int) -> object:
        """Sign the correction as it was shown."""
        assert isinstance(shown, CorrectionProposal)  # noqa: S101 - it came from show
        return sign_correction(self._signing.desk, self._signing.store, request_id, shown, secret, seen)


class SignSession(QObject):
    """One thing to sign. Making it raises Refusal with everything that is against signing it.

    ``shown_changed`` says that it is shown anew, ``key_changed`` that the wait or the key's state is another one,
    ``refused`` carries what is said at the secret, ``signed`` the record as it was read back.
    """

    shown_changed = Signal()
    key_changed = Signal(object)
    refused = Signal(str)
    signed = Signal(object)

    def __init__(self, signing: Signing, pen: Pen, new_id: Callable[[], str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._signing = signing
        self._pen = pen
        self._new_id = new_id
        self.shown: Shown = pen.show()
        self._request = new_id()
        self.is_outdated = False
        self.kept: SeenRecord | None = None
        self.key: KeyState = key_state(signing.desk, self.shown.person)
        self.since: InYourName = signed_in_your_name_since(signing.desk, self.shown.person)
        self._timer = QTimer(self)
        self._timer.setInterval(SECOND_MS)
        self._timer.timeout.connect(self.look_at_key)
        self._wait_if_needed()

    @property
    def title(self) -> str:
        """What is signed, in a line."""
        record = self.shown.record
        kind = str(record.kind)
        return f"{kind[:1].upper()}{kind[1:]}: {subject_words(record.subject)}"

    @property
    def meaning(self) -> str:
        """What the signature means, in a sentence."""
        return self.shown.record.signer.meaning

    @property
    def signer(self) -> str:
        """Who signs, by name and initials."""
        signer = self.shown.record.signer
        return f"{signer.name} ({signer.person})"

    def text(self) -> str:
        """Return everything that is signed, and after the signature what was read back."""
        return "\n".join(self.kept.lines if self.kept else self.shown.lines)

    def since_lines(self) -> tuple[str, ...]:
        """Return this person's last signature and what was signed in their name since, one line each."""
        return tuple(_since_words(line) for line in self.since.lines) or (NOTHING_SINCE,)

    def key_words(self) -> str:
        """Return how the key stands where that keeps from signing; empty for nothing."""
        key = self.key
        if key.is_locked:
            return "This key is locked after ten wrong tries. Another records keeper can unlock it."
        if key.seconds:
            return f"Wait {key.seconds} {'second' if key.seconds == 1 else 'seconds'}, then try again."
        return f"Wrong tries in a row: {key.wrong}." if key.wrong else ""

    def may_sign(self) -> bool:
        """Tell whether a secret would be looked at now."""
        return not (self.kept or self.is_outdated or self.key.is_locked or self.key.seconds)

    def look_again(self) -> None:
        """Show it as it would be signed now."""
        try:
            self.shown = self._pen.show()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self._request = self._new_id()
        self.is_outdated = False
        self.shown_changed.emit()

    def sign(self, secret: str) -> bool:
        """Sign it as it was shown; tell whether it was signed."""
        if self.kept is not None:
            return False
        try:
            self._pen.sign(self._request, self.shown, secret, self.since.seen)
            self.kept = see_as_kept(self._signing.desk, self._signing.store, self.shown.record)
        except ChangedElsewhere as changed:
            self.is_outdated = True
            self.look_at_key()
            self.refused.emit(f"{changed.sentence} Nothing was signed.")
            return False
        except Refusal as refusal:
            self.look_at_key()
            self.refused.emit(refusal.sentence)
            return False
        self._timer.stop()
        self.signed.emit(self.kept)
        return True

    def look_at_key(self) -> None:
        """See how the key stands now."""
        try:
            self.key = key_state(self._signing.desk, self.shown.person)
        except Refusal as refusal:
            self._timer.stop()
            self.refused.emit(refusal.sentence)
            return
        self._wait_if_needed()
        self.key_changed.emit(self.key)

    def rest(self) -> None:
        """Look at the key no more."""
        self._timer.stop()

    def _wait_if_needed(self) -> None:
        if self.key.seconds and not self.key.is_locked:
            self._timer.start()
        else:
            self._timer.stop()


def _since_words(line: RecordLine) -> str:
    name = record_name(line.number, (line.kind, subject_words(line.subject), line.name))
    return f"{name}, {moment_words(datetime.fromisoformat(line.at))}"
