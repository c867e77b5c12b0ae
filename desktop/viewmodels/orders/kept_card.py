"""The card of an order while it is filled: every committed field goes into the shop file at once."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import Value
from desktop.usecases.fill_card import CardState
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card, state_of_card
from desktop.usecases.shop.cards.take_reading import put_magneto
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.card.form_session import FormSession, is_same
from desktop.viewmodels.card.going_on import STEP_PLACE, is_read_only
from desktop.viewmodels.card.order_places import RETURN, SAFE, Around, is_writable, places_of_order
from desktop.viewmodels.card.same_way import newest_way
from desktop.viewmodels.card.step_fields import TOOL
from desktop.viewmodels.orders.card_steps import steps_shown
from desktop.viewmodels.orders.card_values import call_for, done_at, step_of, stored_at
from desktop.viewmodels.pieces.fields import ON_THE_ORDER, Field, Kind, Place

NOT_KEPT = "This was not kept. Press Enter to try again."
TICK_WAITS = "Space puts your initials here. Ctrl+Enter leaves it open and goes on."
FIELD_WAITS = "This is needed. Fill it in; Ctrl+Enter leaves it open and goes on."


class KeptCard(FormSession):
    """One card of one order, as one person fills it.

    ``changed_elsewhere`` carries what another window changed, in plain words; ``order_changed`` the order as it is.
    """

    order_changed = Signal(object)
    changed_elsewhere = Signal(object)

    def __init__(
        self,
        shop: Shop,
        person_id: str,
        place: tuple[int, int],
        new_id: Callable[[], str],
        parent: QObject | None = None,
    ) -> None:
        self._shop = shop
        self.person_id = person_id
        self._number, self._card = place
        self._new_id = new_id
        self._reason = ""
        self._said = ""
        self._steps: tuple[Step, ...] = ()
        self._seen: dict[str, Value] = {}
        self._unkept: dict[str, tuple[Value, str]] = {}
        self._aside: dict[Side, TypedMagneto] = {}
        self.order = see_order(shop.store, self._number)
        self._same = newest_way(shop.store, self.order, self.card)
        super().__init__(state_of_card(shop.rulebook, self.order, self.card), parent)
        self._passed = self._passed_before()

    @property
    def card(self) -> OrderCard:
        """The card as it was last seen."""
        card = self.order.card(self._card)
        if card is None:
            raise Refusal(f"Order {self._number} has no card {self._card}. Issue one first.")
        return card

    def places_now(self, state: CardState) -> tuple[Place, ...]:
        """Return the places of the card; its steps stay as they were while its way of measuring cannot be read."""
        look = self.look_now()
        self._steps = steps_shown(look, self._shop.jobs, self._steps)
        around = Around(look.findings, bool(look.seen.tools), self._same)
        return places_of_order(self.order, self.card, state, self._steps, around)

    def look_now(self) -> CardLook:
        """Look at the card with everything around it, as the verbs will."""
        return look_at_card(self._shop, self._shop.store, self.order, self.card, self._shop.clock.now().date())

    def name_of(self, person_id: str) -> str:
        """Return a person's name with the initials."""
        people = self._shop.store.people()
        return next((f"{one.name} ({one.id})" for one in people if one.id == person_id), person_id)

    def picks_for(self, field: Field) -> tuple[tuple[str, str], ...]:
        """Return the tools of the shop, each with its number and its name, for the field that names tools."""
        step = self.card.step(step_of(field)) if field.kind is Kind.TEXT and not field.optional else None
        if step is None or step.capture != TOOL:
            return ()
        return tuple((tool.id, tool.name) for tool in self._shop.store.tools())

    def is_read(self, place: Place) -> bool:
        """Tell whether a step that asks for nothing was read, or lies behind the work that was done before."""
        is_done = self.card.done(place.id.removeprefix(STEP_PLACE)) is not None or place.id in self._passed
        return is_done or not is_writable(self.order, self.card) or super().is_read(place)

    def is_open(self, field: Field) -> bool:
        """Tell whether a field still asks to be filled; a step that was left out asks for none."""
        done = self.card.done(field.place.removeprefix(STEP_PLACE)) if field.place.startswith(STEP_PLACE) else None
        is_left_out = done is not None and done.skipped
        return not is_left_out and self.is_writable(field) and super().is_open(field)

    def waits_for(self, field: Field) -> str:
        """Say why Enter stays at a field of a step that is needed and empty."""
        if not field.place.startswith(STEP_PLACE) or field.optional or not self.is_open(field):
            return ""
        if field.kind is Kind.TICK and field.path.startswith(ON_THE_ORDER):
            return TICK_WAITS
        return FIELD_WAITS

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
        return is_writable(self.order, self.card) is not (field.path == RETURN)

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
        if self.begins_with_tick(field, value):
            return
        self.told.emit("")
        try:
            self._take_up()
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            self._leave(field, value, NOT_KEPT)
            self.become(self.state)
            return
        if not is_same(field, self._stored(field), seen):
            self._meet(field, value)
        elif self._put(field, value):
            self._unkept.pop(field.key, None)
            self.note_change(field, stored, value)
        else:
            self._leave(field, value, NOT_KEPT)
        self.reload()

    def show_magneto(self, side: Side, *, present: bool) -> None:
        """Take a magneto off the card, or put it on again with what stood there before."""
        standing = getattr(self.card.readings, side)
        if not present:
            self._aside[side] = standing or TypedMagneto()
        magneto = self._aside.pop(side, TypedMagneto()) if present else None
        self.do(put_magneto, self._number, self._card, side, magneto)
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

    def not_normal(self) -> tuple[str, ...]:
        """Return what on the aircraft is not as it flies, in words."""
        return tuple(f"{standing.item.value} {standing.word}" for standing in not_normal(self.order.board))

    def do(self, verb: Callable[..., Answer], *words: object, **named: object) -> bool:
        """Ask for a verb in this person's name; tell whether it was done, and say why not."""
        request = Request(self._new_id(), self.person_id, self.order.version)
        try:
            verb(self._shop, request, *words, **named)
        except Refusal as refusal:
            self.refuse(refusal)
            return False
        return True

    def refuse(self, refusal: Refusal) -> None:
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

    def _take_up(self) -> None:
        """Take up what another window changed, and say it."""
        if self._shop.store.version(self._number) == self.order.version:
            return
        changes = self._shop.store.changes_since(self._number, self.order.version)
        self.reload()
        self.changed_elsewhere.emit(tuple(words for change in changes for words in change.said))

    def _meet(self, field: Field, value: Value) -> None:
        """Leave what another window put at a field, and say it: nobody takes another's place without a word."""
        now = self._stored(field)
        done, taken = done_at(self.card, field), self.card.taken_at(field.path)
        by = done.by if done else (taken.by if taken else None)
        who = f"{self.name_of(by.person)}, in another window," if by else "Another window"
        if is_same(field, now, value):
            self._unkept.pop(field.key, None)
            what = (
                "initialled this step" if done else ("took this back" if now in (None, False) else "put the same here")
            )
            self.refused.emit(f"{who} {what} before you. It stands as it is.")
            return
        shown = "nothing" if now is None else f'"{now}"'
        self._leave(field, value, f"{who} put {shown} here. Press Enter again to put yours in its place.")

    def _leave(self, field: Field, value: Value, why: str) -> None:
        self._unkept[field.key] = (value, why)
        self._seen[field.key] = self._stored(field)

    def _stored(self, field: Field) -> Value:
        if field.path == RETURN:
            return self._reason or None
        return stored_at(self.order, self.card, field, self._same)

    def _put(self, field: Field, value: Value) -> bool:
        call = call_for(self.order, self.card, field, value, self.new_entry_says(field), self._same)
        return self.do(call.verb, *call.words, **dict(call.named))

    def _passed_before(self) -> frozenset[str]:
        """Return the steps that ask for nothing and lie before one that was done when the card was opened."""
        done = [n for n, one in enumerate(self.places) if self.card.done(one.id.removeprefix(STEP_PLACE))]
        behind = self.places[: max(done, default=0)]
        return frozenset(place.id for place in behind if is_read_only(place))
