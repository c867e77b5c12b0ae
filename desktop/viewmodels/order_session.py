"""The card of an order in the window: every committed field goes into the shop file at once."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_card import OrderCard
from desktop.core.shop.order_states import OrderState
from desktop.core.shop.safe_state import STATE_WORDS, SafeItem, not_normal
from desktop.core.timing.typed_paths import Value, value_at
from desktop.usecases.fill_card import CardState, look_at
from desktop.usecases.shop.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.look_up import see_order
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.usecases.shop.readiness import what_stops
from desktop.usecases.shop.set_safe_state import set_safe_state
from desktop.usecases.shop.submit_card import return_card, submit_card
from desktop.usecases.shop.take_reading import take_reading
from desktop.usecases.shop.write_remark import write_remark
from desktop.viewmodels.fields import Field, Kind, Place
from desktop.viewmodels.form_session import FormSession, is_same
from desktop.viewmodels.order_places import REASON, RETURN, SAFE, STEP, places_of_order


class CardPrinter(Protocol):
    """Prints the card of an order."""

    def __call__(self, order: WorkOrder, state: CardState, *, size: str, blank: bool) -> bytes:
        """Return the card as PDF; raise Refusal when it cannot be printed."""
        ...


class OrderSession(FormSession):
    """One card of one order, as one person sees it.

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
        printer: CardPrinter,
        parent: QObject | None = None,
    ) -> None:
        self._shop = shop
        self.person_id = person_id
        self._number, self._card = place
        self._new_id = new_id
        self._printer = printer
        self._reason = ""
        self.order = see_order(shop.store, self._number)
        super().__init__(look_at(self.card.readings, shop.rulebook), parent)

    @property
    def card(self) -> OrderCard:
        """The card as it was last seen."""
        card = self.order.card(self._card)
        if card is None:
            raise Refusal(f"Order {self._number} has no card {self._card}. Issue one first.")
        return card

    def places_now(self, state: CardState) -> tuple[Place, ...]:
        """Return the places of the card with the steps of its job."""
        return places_of_order(self.order, self.card, state)

    def last_act(self) -> str:
        """Return the words of the action at the last place."""
        return "Return to the mechanic" if self.card.state is OrderState.FOR_INSPECTION else "Submit for inspection"

    def last_lines(self) -> tuple[str, ...]:
        """Return what stands against submitting the card, one line each."""
        if self.card.state is OrderState.FOR_INSPECTION:
            return ("The card is for inspection. Give a reason to return it to the mechanic.",)
        tools = {tool.id: tool for tool in self._shop.store.tools()}
        today = self._shop.clock.now().date()
        stops = what_stops(self.card, self._shop.rulebook, tools.get, today)
        if not stops:
            return ("Nothing stands against submitting the card.",)
        return ("Before the card can be submitted:", *(stop.words for stop in stops))

    def act(self) -> bool:
        """Submit the card, or return it with the reason that was typed."""
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

    def value(self, field: Field) -> Value:
        """Return what stands at a field: a reading, a step's initials, a reason, or how the aircraft stands."""
        path = field.path
        if path.startswith(STEP):
            done = self.card.done(path.removeprefix(STEP))
            return done is not None if field.kind is Kind.TICK else (done.text if done else None)
        if path.startswith(SAFE):
            item = SafeItem[path.removeprefix(SAFE)]
            return next(standing.word for standing in self.order.board if standing.item is item)
        if path.startswith(REASON):
            key = path.removeprefix(REASON)
            return next((remark.text for remark in reversed(self.card.remarks) if remark.about == key), None)
        if path == RETURN:
            return self._reason or None
        return super().value(field)

    def commit(self, field: Field, value: Value) -> None:
        """Keep a typed value at once; refused text stays in its field as a reading, with its fault."""
        if is_same(field, self.value(field), value):
            return
        path = field.path
        if path == RETURN:
            self._reason = str(value or "")
        elif path.startswith(STEP):
            text = value if isinstance(value, str) else ""
            step = path.removeprefix(STEP)
            if value:
                self._do(confirm_step, self._number, self._card, step, text=text)
            else:
                self._do(take_back_step, self._number, self._card, step)
        elif path.startswith(SAFE):
            item = SafeItem[path.removeprefix(SAFE)]
            self._do(set_safe_state, self._number, item, is_normal=value == STATE_WORDS[item][0])
        elif path.startswith(REASON):
            self._do(write_remark, self._number, self._card, str(value or ""), about=path.removeprefix(REASON))
        else:
            self._keep_reading(field, value)
        self.reload()

    def look(self) -> None:
        """See whether another window changed the order; say what, and show it as it is."""
        if self._shop.store.version(self._number) == self.order.version:
            return
        changes = self._shop.store.changes_since(self._number, self.order.version)
        self.reload()
        self.changed_elsewhere.emit(tuple(words for change in changes for words in change.said))

    def reload(self) -> None:
        """Read the order again."""
        self.order = see_order(self._shop.store, self._number)
        self.order_changed.emit(self.order)
        self.become(look_at(self.card.readings, self._shop.rulebook))

    def not_normal(self) -> tuple[str, ...]:
        """Return what on the aircraft is not as it flies, in words."""
        return tuple(f"{standing.item.value} {standing.word}" for standing in not_normal(self.order.board))

    def paper(self, *, size: str, blank: bool = False) -> bytes | None:
        """Return the printed card, or None after a refusal."""
        try:
            return self._printer(self.order, self.state, size=size, blank=blank)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def _keep_reading(self, field: Field, value: Value) -> None:
        """Keep a reading. Where another window changed something else meanwhile, it is kept on top of that."""
        values = ((field.path, value), *self.new_entry_says(field))
        before = value_at(self.card.readings, field.path)
        if self._shop.store.version(self._number) != self.order.version:
            self.look()
            if value_at(self.card.readings, field.path) != before:
                self.refused.emit(f"{field.label} was changed in another window. Look at it, then type it again.")
                return
        self._do(take_reading, self._number, self._card, *values)

    def _do(self, verb: Callable[..., Answer], *words: object, **named: object) -> bool:
        request = Request(self._new_id(), self.person_id, self.order.version)
        try:
            verb(self._shop, request, *words, **named)
        except ChangedElsewhere as changed:
            self.changed_elsewhere.emit(tuple(changed.changes))
            self.refused.emit("The order was changed in another window. Look at what changed, then do it again.")
            return False
        except NotReady as not_ready:
            more = len(not_ready.reasons) - 1
            rest = f" And {more} more, listed above." if more > 0 else ""
            self.refused.emit(f"{not_ready.reasons[0]}{rest}")
            return False
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        return True
