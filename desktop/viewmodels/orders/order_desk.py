"""The desk of the work orders: what is looked for, what changed in the shop, and what the front desk writes."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.aircraft import Aircraft, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.people.people import Person
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.orders.listed import Asked, Listed, Waiting, choices, first_for
from desktop.viewmodels.orders.order_list_model import OrderListModel

LOOK_EVERY_MS = 2000
MOST_VISITS = 20
"""Orders of an aircraft that are looked through for its plates."""


class OrderDesk(QObject):
    """One person at the shop file. ``new_id`` gives an id that no request had before.

    A thing that was refused and is asked again, unchanged, keeps its request id: should the first have gone through
    after all, the second does nothing.
    """

    orders_changed = Signal()
    order_opened = Signal(object)
    refused = Signal(str)

    def __init__(self, shop: Shop, person_id: str, new_id: Callable[[], str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.person_id = person_id
        self._new_id = new_id
        self.find = ""
        self.asked: Asked = Listed.OPEN
        self._chosen: dict[str, Asked] = {}
        self._waiting = Waiting(shop.store)
        self.orders = OrderListModel(shop.store, self, self._waiting)
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

    def choose(self, asked: Asked) -> None:
        """List what is asked for; it stays so for this person."""
        self.asked = self._chosen[self.person_id] = asked
        self._show()

    def become(self, person_id: str, asked: Asked | None = None) -> None:
        """Let another person work here, who sees what they chose last, or what they see first.

        ``asked`` is what this machine remembers of them.
        """
        self.person_id = person_id
        if asked is not None:
            self._chosen.setdefault(person_id, asked)
        self.asked = self._chosen.get(person_id) or first_for(self.person())
        self._show()

    def person(self) -> Person | None:
        """Return who works here; None while nobody said so, or after a trouble."""
        try:
            return next((one for one in self._shop.store.people() if one.id == self.person_id), None)
        except Refusal:
            return None

    def has_orders(self) -> bool:
        """Tell whether the shop has any order; after a trouble it is taken to have some."""
        try:
            return bool(look_up(self._shop.store, limit=1))
        except Refusal:
            return True

    def asked_words(self) -> str:
        """Say what is listed."""
        return next(words for one, words in choices(self.person()) if one is self.asked)

    def look_for_changes(self) -> None:
        """Read the list again when something was written, here or in another window. A trouble is said once."""
        try:
            count = self._shop.store.change_count()
            if count == self._seen:
                self._said = ""
                return
            self._waiting.become(self.person())
            self.orders.refresh()
        except Refusal as refusal:
            if refusal.sentence != self._said:
                self.refused.emit(refusal.sentence)
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
            self.refused.emit(refusal.sentence)
            return None

    def plates(self, registration: str, position: EnginePosition) -> tuple[Plate, ...]:
        """Return the data plates of an engine as they were written when the aircraft came last; () for none."""
        try:
            lines = look_up(self._shop.store, registration, limit=MOST_VISITS)
            here = (line for line in lines if (line.registration, line.position) == (registration, position))
            orders = (self._shop.store.order(line.number) for line in here)
            return next((one.taken_in.intake.plates for one in orders if one and one.taken_in), ())
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return ()

    def open_order(self, new: NewOrder) -> Answer | None:
        """Open a work order; None after a refusal."""
        answer = self._ask(new, lambda request: open_order(self._shop, request, new), seen=0)
        if answer is not None:
            self.look_for_changes()
            self.order_opened.emit(answer)
        return answer

    def _show(self) -> None:
        try:
            self._waiting.become(self.person())
            self.orders.show_orders(self.find, self.asked)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return
        self.orders_changed.emit()

    def _ask(self, thing: object, verb: Callable[[Request], Answer], *, seen: int) -> Answer | None:
        if self._asked is None or self._asked[0] != thing:
            self._asked = (thing, self._new_id())
        try:
            answer = verb(Request(self._asked[1], self.person_id, seen))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None
        self._asked = None
        return answer
