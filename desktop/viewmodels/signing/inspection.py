"""A card before its inspector: everything on it, what stands out, what is new, and accepting or returning it."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order_line import aircraft_words, order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.reasons import is_reason
from desktop.core.words import day_words
from desktop.usecases.records.sections.names import Names
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.inspect_card import CardRead, Mark, ReadRow, read_card_through
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.signing.sign_session import ActPen, SignSession

MARK_RINGS = {
    Mark.OUTSIDE: Progress.STOPS,
    Mark.REASON: Progress.OPEN,
    Mark.EXPLAINED: Progress.DONE,
    Mark.REPEATED: Progress.EMPTY,
}
"""The shape beside the word of each mark: crossed, half, closed, and thin for what was taken again."""
NO_REASON = "Write the reason first, in a sentence: the mechanic reads it."
NEVER_RETURNED = "This card was not returned before."
NOTHING_NEW = "Nothing was changed on the card since then."


class InspectionSession(QObject):
    """One card that is for inspection. ``sign_asked`` carries the session of a signature, ``moved`` what it did."""

    changed = Signal()
    refused = Signal(str)
    sign_asked = Signal(object)
    moved = Signal(str)

    def __init__(
        self,
        shop: Shop,
        signing: Signing,
        place: tuple[int, int],
        who: Callable[[], str],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._shop, self._signing = shop, signing
        self.number, self.card = place
        self._who, self._new_id = who, new_id
        self.reason = ""
        self.read: CardRead = read_card_through(shop, signing.store, *place)

    @property
    def title(self) -> str:
        """Which card it is."""
        return f"{order_name(self.number)}, card {self.card}: {self.read.card.task.title}"

    @property
    def whose(self) -> str:
        """What it is on, and for whom it was done."""
        return f"{aircraft_words(self.read.order)}, {self.read.order.position} engine, {self.read.card.state}"

    @property
    def is_for_inspection(self) -> bool:
        """Whether it can be accepted or returned."""
        return self.read.card.state is OrderState.FOR_INSPECTION

    def returned_words(self) -> str:
        """Say when, by whom and why the card was returned last."""
        last = self.read.returned
        if last is None:
            return NEVER_RETURNED
        who = Names(self._shop.store.people()).person(last.by.person)
        return f"Returned by {who} on {day_words(last.by.at.date())} {last.by.at:%H:%M}: {last.reason}"

    def changed_words(self) -> tuple[str, ...]:
        """Return what is new since the last return, one line each."""
        if self.read.returned is None:
            return ()
        return self.read.changed or (NOTHING_NEW,)

    def standing_out(self) -> tuple[ReadRow, ...]:
        """Return what is marked, in reading order."""
        return self.read.standing_out

    def counts(self) -> tuple[tuple[Mark, int], ...]:
        """Return how often each mark stands on the card; marks that do not occur are left out."""
        rows = self.read.standing_out
        found = ((mark, sum(mark in row.marks for row in rows)) for mark in Mark)
        return tuple((mark, count) for mark, count in found if count)

    def reload(self) -> None:
        """Read the card again."""
        try:
            self.read = read_card_through(self._shop, self._signing.store, self.number, self.card)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.changed.emit()

    def look(self) -> None:
        """See whether another window changed the order, and show it as it is."""
        try:
            version = self._shop.store.version(self.number)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        if version != self.read.order.version:
            self.reload()

    def accept(self) -> None:
        """Ask to sign that the card is accepted; a reason that was typed goes with it (a recheck of one's own work)."""
        self._ask(RecordKind.CARD_ACCEPTED, "Accepted.")

    def give_back(self) -> None:
        """Ask to sign that the card is returned, with the reason."""
        if not is_reason(self.reason):
            self.refused.emit(NO_REASON)
            return
        self._ask(RecordKind.CARD_RETURNED, "Returned to the mechanic.")

    def _ask(self, kind: RecordKind, words: str) -> None:
        act = Act(kind, self.number, self.card, self.reason.strip())
        try:
            session = SignSession(self._signing, ActPen(self._signing, self._who(), act), self._new_id)
        except NotReady as not_ready:
            self.reload()
            self.refused.emit(" ".join(not_ready.reasons))
            return
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        session.signed.connect(lambda _kept: self._take_signed(words))
        self.sign_asked.emit(session)

    def _take_signed(self, words: str) -> None:
        self.reason = ""
        self.reload()
        self.moved.emit(words)
