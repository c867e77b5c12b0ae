"""The people of the demo at work: each request has its person, sees the order as it is, and takes a minute."""

from dataclasses import dataclass

from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.demo.fixed import DemoClock, FixedIds
from desktop.usecases.records.keys.signing_desk import SigningDesk
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.correct import Correction, propose_correction, sign_correction
from desktop.usecases.records.signing.ports import SigningStore
from desktop.usecases.records.signing.signed_acts import propose, sign_act
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.orders.close_order import close_order
from desktop.usecases.shop.ports import Request, Shop


@dataclass(frozen=True, slots=True)
class Crew:
    """The shop with its people; ``secrets`` are those under which they sign, by initials."""

    shop: Shop
    store: SigningStore
    desk: SigningDesk
    clock: DemoClock
    ids: FixedIds
    secrets: dict[str, str]

    def new(self, person: str, seen_version: int = 0) -> Request:
        """Return a request for something that is no order."""
        self.clock.go_on()
        return Request(self.ids(), person, seen_version)

    def on(self, person: str, number: int) -> Request:
        """Return a request of somebody who sees an order as it is now."""
        return self.new(person, self.store.version(number))

    def order(self, number: int) -> WorkOrder:
        """Return an order as it is now."""
        return see_order(self.store, number)

    def card(self, number: int, card: int) -> OrderCard:
        """Return a card as it is now; KeyError when the order has none of that number."""
        found = self.order(number).card(card)
        if found is None:
            raise KeyError(card)
        return found

    def look(self, number: int, card: int) -> CardLook:
        """Look at a card with everything around it."""
        order = self.order(number)
        return look_at_card(self.shop, self.store, order, order.cards[card - 1], self.clock.now().date())

    def submit(self, person: str, number: int, card: int) -> None:
        """Sign the work on a card and submit it."""
        self._sign(person, Act(RecordKind.CARD_SUBMITTED, number, card))

    def accept(self, person: str, number: int, card: int) -> None:
        """Sign that a card was inspected and is accepted."""
        self._sign(person, Act(RecordKind.CARD_ACCEPTED, number, card))

    def give_back(self, person: str, number: int, card: int, reason: str) -> None:
        """Return a card to the mechanic, signed, with the reason."""
        self._sign(person, Act(RecordKind.CARD_RETURNED, number, card, reason))

    def approve(self, person: str, number: int) -> None:
        """Approve for return to service."""
        self._sign(person, Act(RecordKind.APPROVED, number))

    def not_approve(self, person: str, number: int, reason: str) -> None:
        """Sign that it is not approved, with the list of discrepancies."""
        self._sign(person, Act(RecordKind.NOT_APPROVED, number, reason=reason))

    def void(self, person: str, number: int, reason: str) -> None:
        """Void an order, signed, with the reason."""
        self._sign(person, Act(RecordKind.VOID, number, reason=reason))

    def correct(self, person: str, correction: Correction) -> None:
        """Correct a record, signed; the record itself stays as it was."""
        self.clock.go_on()
        proposal = propose_correction(self.desk, self.store, person, correction)
        last = self.store.records().last_envelope()
        seen = last.number if last else 0
        sign_correction(self.desk, self.store, self.ids(), proposal, self.secrets[person], seen)

    def close(self, person: str, number: int) -> None:
        """Close an order."""
        close_order(self.shop, self.on(person, number), number)

    def _sign(self, person: str, act: Act) -> None:
        self.clock.go_on()
        proposal = propose(self.desk, self.store, person, act)
        last = self.store.records().last_envelope()
        sign_act(self.desk, self.store, self.ids(), proposal, self.secrets[person], last.number if last else 0)
