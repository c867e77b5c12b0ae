"""The card of an order in the window: every committed field goes into the shop file at once."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import STATE_WORDS, SafeItem, not_normal
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card, state_of_card
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.cards.take_reading import put_magneto, take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.card.form_session import FormSession, is_same
from desktop.viewmodels.card.order_places import REASON, RETURN, SAFE, is_writable, places_of_order
from desktop.viewmodels.card.step_fields import LEFT_OUT, STEP, TOOL, shown_of, tools_in
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.pieces.fields import Field, Place
from desktop.viewmodels.signing.sign_session import ActPen, SignSession

NOT_KEPT = "This was not kept. Press Enter to try again."


class CardPrinter(Protocol):
    """Prints a card of an order, by its numbers."""

    def __call__(self, order: int, card: int, *, size: str, blank: bool) -> bytes:
        """Return the card as PDF; raise Refusal when it cannot be printed."""
        ...


class OrderSession(FormSession):
    """One card of one order, as one person sees it.

    ``changed_elsewhere`` carries what another window changed, in plain words; ``order_changed`` the order as it is.
    In a shop that signs its records ``sign_asked`` carries the session of a signature, and ``moved`` says what it did.
    """

    order_changed = Signal(object)
    changed_elsewhere = Signal(object)
    sign_asked = Signal(object)
    moved = Signal(str)

    def __init__(
        self,
        shop: Shop,
        person_id: str,
        place: tuple[int, int],
        new_id: Callable[[], str],
        printer: CardPrinter,
        parent: QObject | None = None,
        signing: Signing | None = None,
    ) -> None:
        self._shop = shop
        self._signing = signing
        self.person_id = person_id
        self._number, self._card = place
        self._new_id = new_id
        self._printer = printer
        self._reason = ""
        self._said = ""
        self._steps: tuple[Step, ...] = ()
        self._seen: dict[str, Value] = {}
        self._unkept: dict[str, tuple[Value, str]] = {}
        self._aside: dict[Side, TypedMagneto] = {}
        self.order = see_order(shop.store, self._number)
        super().__init__(state_of_card(shop.rulebook, self.order, self.card), parent)

    @property
    def card(self) -> OrderCard:
        """The card as it was last seen."""
        card = self.order.card(self._card)
        if card is None:
            raise Refusal(f"Order {self._number} has no card {self._card}. Issue one first.")
        return card

    def places_now(self, state: CardState) -> tuple[Place, ...]:
        """Return the places of the card; its steps stay as they were while something cannot be read."""
        look = self._look()
        if not look.faults or not self._steps:
            self._steps = look.steps
        has_tools = bool(look.seen.tools)
        return places_of_order(self.order, self.card, state, self._steps, look.findings, has_tools=has_tools)

    def last_act(self) -> str:
        """Return the words of the action at the last place."""
        return "Return to the mechanic" if self.card.state is OrderState.FOR_INSPECTION else "Submit for inspection"

    def keys_said(self) -> str:
        """Return the keys that are worth knowing."""
        return "Enter: next open field   Ctrl+PgDn: next place   Ctrl+1: work orders   Ctrl+P: print"

    def is_ready(self) -> bool:
        """Tell whether nothing stands against submitting the card."""
        return not what_stops(self._look())

    def last_lines(self) -> tuple[str, ...]:
        """Return what stands against submitting the card, one line each."""
        if self.card.state is OrderState.FOR_INSPECTION:
            return ("The card is for inspection. Give a reason to return it to the mechanic.",)
        stops = what_stops(self._look())
        if not stops:
            return ("Nothing stands against submitting the card.",)
        return ("Before the card can be submitted:", *(stop.words for stop in stops))

    def act(self) -> bool:
        """Submit the card, or return it with the reason that was typed; where records are signed, ask to sign that."""
        if self._signing is not None and self._signing.has_records:
            self._ask_to_sign(self._signing)
            return False
        if self.card.state is OrderState.FOR_INSPECTION:
            done = self._do(return_card, self._number, self._card, self._reason)
            words = "Returned to the mechanic."
        else:
            done = self._do(submit_card, self._number, self._card)
            words = "Submitted for inspection."
        if done:
            self._reason = ""
            self.told.emit(words)
            self.reload()
        return done

    def _ask_to_sign(self, signing: Signing) -> None:
        returns = self.card.state is OrderState.FOR_INSPECTION
        kind = RecordKind.CARD_RETURNED if returns else RecordKind.CARD_SUBMITTED
        act = Act(kind, self._number, self._card, self._reason if returns else "")
        try:
            session = SignSession(signing, ActPen(signing, self.person_id, act), self._new_id)
        except Refusal as refusal:
            self._refuse(refusal)
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

    def value(self, field: Field) -> Value:
        """Return what stands at a field; what could not be kept stands there as it was typed."""
        return self._unkept[field.key][0] if field.key in self._unkept else self._stored(field)

    def trouble_at(self, field: Field) -> str:
        """Return what is wrong at a field, or why it was not kept."""
        return self._unkept[field.key][1] if field.key in self._unkept else super().trouble_at(field)

    def is_writable(self, field: Field) -> bool:
        """Tell whether a field takes typing: readings while the card is in work, the board always."""
        if field.path.startswith(SAFE):
            return True
        return is_writable(self.card) is not (field.path == RETURN)

    def began(self, field: Field) -> None:
        """Remember what stood at a field when somebody came to it: that is what they saw."""
        self._seen[field.key] = self._stored(field)

    def commit(self, field: Field, value: Value) -> None:
        """Keep a typed value at once. What cannot be kept stays in its field, and says why."""
        stored = self._stored(field)
        seen = self._seen.pop(field.key, stored)
        if is_same(field, stored, value) or (value is None and field.path.startswith(SAFE)):
            self._unkept.pop(field.key, None)
            return
        if field.path == RETURN:
            self._reason = str(value or "")
            return
        try:
            self._take_up()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            self._leave(field, value, NOT_KEPT)
            self.become(self.state)
            return
        now = self._stored(field)
        if not is_same(field, now, seen) and not is_same(field, now, value):
            shown = "nothing" if now is None else f'"{now}"'
            self._leave(field, value, f"Another window put {shown} here. Press Enter again to put yours in its place.")
        elif self._put(field, value):
            self._unkept.pop(field.key, None)
            self.told.emit("")
        else:
            self._leave(field, value, NOT_KEPT)
        self.reload()

    def show_magneto(self, side: Side, *, present: bool) -> None:
        """Take a magneto off the card, or put it on again with what stood there before."""
        standing = getattr(self.card.readings, side)
        if not present:
            self._aside[side] = standing or TypedMagneto()
        magneto = self._aside.pop(side, TypedMagneto()) if present else None
        self._do(put_magneto, self._number, self._card, side, magneto)
        self.reload()

    def look(self) -> None:
        """See whether another window changed the order; say what, and show it as it is. A trouble is said once."""
        try:
            self._take_up()
        except Refusal as refusal:
            if refusal.sentence != self._said:
                self._said = refusal.sentence
                self.refused.emit(refusal.sentence)

    def reload(self) -> None:
        """Read the order again."""
        try:
            self.order = see_order(self._shop.store, self._number)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.order_changed.emit(self.order)
        self.become(state_of_card(self._shop.rulebook, self.order, self.card))

    def returned(self) -> str:
        """Return why the card came back last, and from whom; empty when it did not or was submitted again."""
        mine = [one for one in self.order.passages if one.card == self._card]
        last = mine[-1] if mine else None
        return f"Returned by {last.by.person}: {last.reason}" if last and last.move is Move.RETURN else ""

    def _look(self) -> CardLook:
        """Look at the card with everything around it, as the verbs will."""
        return look_at_card(self._shop, self._shop.store, self.order, self.card, self._shop.clock.now().date())

    def _take_up(self) -> None:
        """Take up what another window changed, and say it."""
        if self._shop.store.version(self._number) == self.order.version:
            return
        changes = self._shop.store.changes_since(self._number, self.order.version)
        self.reload()
        self.changed_elsewhere.emit(tuple(words for change in changes for words in change.said))

    def _leave(self, field: Field, value: Value, why: str) -> None:
        self._unkept[field.key] = (value, why)
        self._seen[field.key] = self._stored(field)

    def _stored(self, field: Field) -> Value:
        path = field.path
        if path.startswith((STEP, LEFT_OUT)):
            return shown_of(self.card.done(path.removeprefix(STEP).removeprefix(LEFT_OUT)), field)
        if path.startswith(SAFE):
            item = SafeItem[path.removeprefix(SAFE)]
            return next(standing.word for standing in self.order.board if standing.item is item)
        if path.startswith(REASON):
            key = path.removeprefix(REASON)
            return next((remark.text for remark in reversed(self.card.remarks) if remark.about == key), None)
        if path == RETURN:
            return self._reason or None
        return value_at(self.card.readings, path)

    def _put(self, field: Field, value: Value) -> bool:
        path, text = field.path, value if isinstance(value, str) else ""
        place = (self._number, self._card)
        if path.startswith((STEP, LEFT_OUT)):
            return self._put_step(path, text, is_done=bool(value))
        if path.startswith(SAFE):
            item = SafeItem[path.removeprefix(SAFE)]
            return self._do(set_safe_state, self._number, item, is_normal=value == STATE_WORDS[item][0])
        if path.startswith(REASON):
            return self._do(write_remark, *place, text, about=path.removeprefix(REASON))
        return self._do(take_reading, *place, (path, value), *self.new_entry_says(field))

    def _put_step(self, path: str, text: str, *, is_done: bool) -> bool:
        """Confirm a step, leave it out with the reason, or take that back."""
        skipped, name = path.startswith(LEFT_OUT), path.removeprefix(STEP).removeprefix(LEFT_OUT)
        place, step = (self._number, self._card), self.card.step(name)
        if not is_done:
            return self._do(take_back_step, *place, name)
        tools = tools_in(text) if step is not None and step.capture == TOOL and not skipped else ()
        return self._do(confirm_step, *place, name, text="" if tools else text, tools=tools, skipped=skipped)

    def not_normal(self) -> tuple[str, ...]:
        """Return what on the aircraft is not as it flies, in words."""
        return tuple(f"{standing.item.value} {standing.word}" for standing in not_normal(self.order.board))

    def paper(self, *, size: str, blank: bool = False) -> bytes | None:
        """Return the printed card, or None after a refusal."""
        try:
            return self._printer(self._number, self._card, size=size, blank=blank)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def _do(self, verb: Callable[..., Answer], *words: object, **named: object) -> bool:
        request = Request(self._new_id(), self.person_id, self.order.version)
        try:
            verb(self._shop, request, *words, **named)
        except Refusal as refusal:
            self._refuse(refusal)
            return False
        return True

    def _refuse(self, refusal: Refusal) -> None:
        """Say once why something was not done; what another window changed is said in full above the card."""
        if isinstance(refusal, ChangedElsewhere):
            self.changed_elsewhere.emit(refusal.changes)
            self.refused.emit("The order was changed in another window. Look at what changed, then do it again.")
        elif isinstance(refusal, NotReady):
            more = len(refusal.reasons) - 1
            rest = f" And {more} more, listed above." if more > 0 else ""
            self.refused.emit(f"{refusal.reasons[0]}{rest}")
        else:
            self.refused.emit(refusal.sentence)
