"""The desk of the work orders: what is looked for, what changed in the shop, and what the front desk writes."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import ChangedElsewhere, Refusal
from desktop.core.shop.aircraft.aircraft import Aircraft
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.take_in import take_in
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.order_list_model import OrderListModel

LOOK_EVERY_MS = 2000


class OrderDesk(QObject):
    """One person at the shop file. ``new_id`` gives an id that no request had before.

    A thing that was refused and is asked again, unchanged, keeps its request id: should the first have gone through
    after all, the second does nothing.
    """

    orders_changed = Signal()
    order_opened = Signal(object)
    taken_in = Signal(object)
    refused = Signal(str)
    changed_elsewhere = Signal(object)

    def __init__(self, shop: Shop, person_id: str, new_id: Callable[[], str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.person_id = person_id
        self._new_id = new_id
        self.find = ""
        self.state: OrderState | None = None
        self.orders = OrderListModel(shop.store, self)
        self._seen: int | None = None
        self._said = ""
        self._asked: tuple[object, str] | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.look_for_changes)

    def watch(self) -> None:
        """Look now, and every two seconds from now on."""
        self.look_for_changes()
        self._timer.start()

    def rest(self) -> None:
        """Look no more until asked to."""
        self._timer.stop()

    @property
    def is_watching(self) -> bool:
        """Whether the shop is looked at every two seconds."""
        return self._timer.isActive()

    def search(self, find: str) -> None:
        """Look for other words, as they are typed."""
        self.find = find
        self._show()

    def choose_state(self, state: OrderState | None) -> None:
        """Show the orders in one state; None for every state."""
        self.state = state
        self._show()

    def look_for_changes(self) -> None:
        """Read the list again when something was written, here or in another window. A trouble is said once."""
        try:
            count = self._shop.store.change_count()
            if count == self._seen:
                self._said = ""
                return
            self.orders.refresh()
        except Refusal as refusal:
            if refusal.sentence != self._said:
                self._refuse(refusal)
            self._said = refusal.sentence
            return
        self._said = ""
        self._seen = count
        self.orders_changed.emit()

    def aircraft(self, registration: str) -> tuple[Aircraft, Customer] | None:
        """Return an aircraft and its customer as they were when it came last; None for a stranger."""
        try:
            return self._shop.store.aircraft(registration)
        except Refusal as refusal:
            self._refuse(refusal)
            return None

    def open_order(self, new: NewOrder) -> Answer | None:
        """Open a work order; None after a refusal."""
        answer = self._ask(new, lambda request: open_order(self._shop, request, new), seen=0)
        if answer is not None:
            self.look_for_changes()
            self.order_opened.emit(answer)
        return answer

    def take_in(self, number: int, intake: Intake, seen: int) -> Answer | None:
        """Write the intake of an order of which a version was seen; None after a refusal."""
        thing = (number, intake, seen)
        answer = self._ask(thing, lambda request: take_in(self._shop, request, number, intake), seen=seen)
        if answer is not None:
            self.look_for_changes()
            self.taken_in.emit(answer)
        return answer

    def _show(self) -> None:
        try:
            self.orders.show_orders(self.find, self.state)
        except Refusal as refusal:
            self._refuse(refusal)
            return
        self.orders_changed.emit()

    def _ask(self, thing: object, verb: Callable[[Request], Answer], *, seen: int) -> Answer | None:
        if self._asked is None or self._asked[0] != thing:
            self._asked = (thing, self._new_id())
        try:
            answer = verb(Request(self._asked[1], self.person_id, seen))
        except Refusal as refusal:
            self._refuse(refusal)
            return None
        self._asked = None
        return answer

    def _refuse(self, refusal: Refusal) -> None:
        if isinstance(refusal, ChangedElsewhere):
            self.changed_elsewhere.emit(refusal)
        else:
            self.refused.emit(refusal.sentence)
