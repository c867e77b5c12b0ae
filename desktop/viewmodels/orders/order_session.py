"""The card of an order in the window: filled by the mechanic, handed in, and returned."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.hands import whose_instead
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.who_may import why_not
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.card.order_places import is_writable
from desktop.viewmodels.orders.kept_card import KeptCard
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.signing.sign_session import ActPen, SignSession

TO_INSPECTOR, TO_MECHANIC = "Submit for inspection", "Return to the mechanic"


class OrderSession(KeptCard):
    """One card of one order, as one person sees it.

    In a shop that signs its records ``sign_asked`` carries the session of a signature, and ``moved`` says what it did.
    """

    sign_asked = Signal(object)
    moved = Signal(str)

    def __init__(
        self,
        shop: Shop,
        person_id: str,
        place: tuple[int, int],
        new_id: Callable[[], str],
        parent: QObject | None = None,
        signing: Signing | None = None,
    ) -> None:
        self._signing = signing
        super().__init__(shop, person_id, place, new_id, parent)

    @property
    def shown_state(self) -> OrderState:
        """The state in which the card is shown: its own, or that in which the order ended."""
        return self.order.state_of(self.card)

    def last_act(self) -> str:
        """Return the words of the action at the last place; empty where the card asks for none any more."""
        if self.shown_state is OrderState.FOR_INSPECTION:
            return TO_MECHANIC
        return TO_INSPECTOR if is_writable(self.order, self.card) else ""

    def keys_said(self) -> str:
        """Return the keys that are worth knowing."""
        return "Enter: go on   Space: tick   Ctrl+Enter: next open field   Ctrl+PgDn: next step   Ctrl+P: print"

    def is_ready(self) -> bool:
        """Tell whether nothing on the card stands against submitting it, whoever submits it."""
        return not what_stops(self.look_now())

    def last_lines(self) -> tuple[str, ...]:
        """Return what stands against submitting the card, one line each; how it stands where nothing is submitted."""
        if self.shown_state is OrderState.FOR_INSPECTION:
            return ("The card is for inspection. Give a reason to return it to the mechanic.",)
        if not self.last_act():
            return (f"The card is {self.shown_state}. Nothing more is written on it.",)
        against = self._against()
        if not against:
            return ("Nothing stands against submitting the card.",)
        return ("Before the card can be submitted:", *against)

    def head_words(self) -> str:
        """Return how the card stands."""
        return f"Card {self.shown_state}"

    def act(self) -> bool:
        """Submit the card, or return it with the reason that was typed; where records are signed, ask to sign that."""
        if not self.last_act():
            return False
        if self._signing is not None and self._signing.has_records:
            self._ask_to_sign(self._signing)
            return False
        if self.shown_state is OrderState.FOR_INSPECTION:
            done = self.do(return_card, self._number, self._card, self._reason)
            words = "Returned to the mechanic."
        else:
            done = self.do(submit_card, self._number, self._card)
            words = "Submitted for inspection."
        if done:
            self._reason = ""
            self.told.emit(words)
            self.reload()
        return done

    def returned(self) -> str:
        """Return why the card came back last, and from whom; empty when it did not or was submitted again."""
        mine = [one for one in self.order.passages if one.card == self._card]
        last = mine[-1] if mine else None
        return f"Returned by {last.by.person}: {last.reason}" if last and last.move is Move.RETURN else ""

    def _against(self) -> tuple[str, ...]:
        """Return what stands against submitting the card in this person's name: whose it is, then what is open."""
        person = self._shop.store.people()
        me = next((one for one in person if one.id == self.person_id), None)
        right = why_not(me, Move.SUBMIT, self._shop.clock.now().date()) if me else ""
        whose = right or whose_instead(self.card, self.person_id, self.name_of)
        return (*((whose,) if whose else ()), *(stop.words for stop in what_stops(self.look_now())))

    def _ask_to_sign(self, signing: Signing) -> None:
        returns = self.shown_state is OrderState.FOR_INSPECTION
        kind = RecordKind.CARD_RETURNED if returns else RecordKind.CARD_SUBMITTED
        act = Act(kind, self._number, self._card, self._reason if returns else "")
        try:
            session = SignSession(signing, ActPen(signing, self.person_id, act), self._new_id)
        except Refusal as refusal:
            self.refuse(refusal)
            self.reload()
            return
        words = "Returned to the mechanic." if returns else "Submitted for inspection."
        session.signed.connect(lambda _kept: self._take_signed(words))
        self.sign_asked.emit(session)

    def _take_signed(self, words: str) -> None:
        self._reason = ""
        self.reload()
        self.told.emit(words)
        self.moved.emit(words)
