"""One window at a shop: who sits at it, which order is open, and the issue of its card."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_moves import NewCard
from desktop.core.shop.people import Person
from desktop.core.shop.task_card import TaskCard
from desktop.core.timing.typed_card import TypedCard, TypedMagneto
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop.issue_card import issue_card
from desktop.usecases.shop.look_up import see_order
from desktop.usecases.shop.ports import Request, Shop
from desktop.viewmodels.drift_desk import DriftDesk
from desktop.viewmodels.due_model import DueDesk
from desktop.viewmodels.order_session import CardPrinter, OrderSession
from desktop.viewmodels.people_model import PeopleDesk
from desktop.viewmodels.tools_model import ToolsDesk

SavePaper = Callable[[Path, bytes], None]
"""Writes a paper into a file; raises Refusal when the place cannot be used."""


class ShopDesk(QObject):
    """What the shop's window works with. ``refused`` carries a sentence that is shown once."""

    refused = Signal(str)

    def __init__(
        self,
        shop: Shop,
        task: TaskCard,
        printer: CardPrinter,
        new_id: Callable[[], str],
        save: SavePaper,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.task = task
        self.new_id = new_id
        self._printer = printer
        self._save = save
        people = self.people()
        self.person_id = people[0].id if people else ""
        self.roster = PeopleDesk(shop, self.present_person, new_id, self)
        self.tools = ToolsDesk(shop, self.present_person, new_id, self)
        self.due = DueDesk(shop, dict, self)
        self.drift = DriftDesk(shop, self)

    def present_person(self) -> str:
        """Return the id of who sits at the window now."""
        return self.person_id

    def people(self) -> tuple[Person, ...]:
        """Return who is with the shop today."""
        today = self.shop.clock.now().date()
        return tuple(person for person in self.shop.store.people() if person.is_here(today))

    def order(self, number: int) -> WorkOrder | None:
        """Return an order, None after a refusal."""
        try:
            return see_order(self.shop.store, number)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def issue(self, order: WorkOrder) -> bool:
        """Issue the timing card on an order, with what its data plates say already filled in."""
        request = Request(self.new_id(), self.person_id, order.version)
        try:
            issue_card(self.shop, request, order.number, NewCard(self.task, readings_of(order)))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        return True

    def save_paper(self, place: Path, pdf: bytes) -> bool:
        """Write a paper into a file."""
        try:
            self._save(place, pdf)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        return True

    def session(self, order: WorkOrder) -> OrderSession:
        """Return the session of an order's newest card."""
        place = (order.number, len(order.cards))
        return OrderSession(self.shop, self.person_id, place, self.new_id, self._printer)


def readings_of(order: WorkOrder) -> TypedCard:
    """Return an empty card with the hand and the lag of each data plate of the intake."""
    card = empty_card()
    if order.taken_in is None:
        return card
    plates = {plate.side.value: plate for plate in order.taken_in.intake.plates}
    magnetos = {
        side: TypedMagneto(rotation=plate.hand.value if plate.hand else None, impulse_lag=plate.lag or None)
        for side, plate in plates.items()
    }
    return TypedCard(
        format=card.format,
        engine=card.engine,
        limits=card.limits,
        measure=card.measure,
        left=magnetos.get("left", card.left),
        right=magnetos.get("right", card.right),
    )
