"""One window at a shop: who sits at it, and what each of its pages works with."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.orders.around_form import AroundForm
from desktop.viewmodels.orders.around_forms import LeaveOutForm, PartForm, TimeForm, VoidForm
from desktop.viewmodels.orders.directive_forms import DirectiveForm, SearchForm
from desktop.viewmodels.orders.discrepancy_forms import DiscrepancyForm, SettleForm
from desktop.viewmodels.orders.intake_form import IntakeForm
from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.viewmodels.paper.paper_needs import PaperNeeds
from desktop.viewmodels.pieces.begun import Begun
from desktop.viewmodels.pieces.bench import Bench
from desktop.viewmodels.records.records_desk import RecordsDesk
from desktop.viewmodels.records.records_model import RecordSearchDesk
from desktop.viewmodels.shop.copies_desk import CopiesDesk, CopiesNeeds
from desktop.viewmodels.shop.drift_desk import DriftDesk
from desktop.viewmodels.shop.due_model import DueDesk
from desktop.viewmodels.shop.people_model import PeopleDesk
from desktop.viewmodels.shop.settings_form import SettingsDesk
from desktop.viewmodels.shop.sheets_desk import SheetsDesk
from desktop.viewmodels.shop.tools_model import ToolsDesk
from desktop.viewmodels.signing.approval import ApprovalSession
from desktop.viewmodels.signing.enrol_desk import EnrolDesk
from desktop.viewmodels.signing.inspection import InspectionSession

NOBODY = "Nobody is at work"


class ShopDesk(QObject):
    """What the shop's window works with. ``refused`` carries a sentence that is shown once."""

    refused = Signal(str)

    def __init__(
        self,
        shop: Shop,
        task: TaskCard,
        new_id: Callable[[], str],
        parent: QObject | None = None,
        bench: Bench | None = None,
        copies: CopiesNeeds | None = None,
        papers: PaperNeeds | None = None,
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.task = task
        self.bench = bench or Bench((task,))
        self.new_id = new_id
        people = self.people()
        self.person_id = people[0].id if len(people) == 1 else ""
        self.roster = PeopleDesk(shop, self.present_person, new_id, self, bench=bench)
        self.tools = ToolsDesk(shop, self.present_person, new_id, self, bench=bench)
        self.settings = SettingsDesk(shop, self.present_person, new_id, self)
        self.due = DueDesk(shop, self)
        self.drift = DriftDesk(shop, self)
        self.enrolment = EnrolDesk(shop, self.bench.signing, self.present_person, new_id, self)
        self.sheets = SheetsDesk(shop, self.bench, self.present_person, new_id, self)
        self.signed = RecordsDesk(self.bench.signing, self.present_person, new_id, self)
        self.found = self._record_search()
        self.copies = CopiesDesk(copies, self)
        self.begun = Begun()
        self.papers = papers

    def present_person(self) -> str:
        """Return the id of who sits at the window now; empty while nobody said so."""
        return self.person_id

    def present_words(self) -> str:
        """Say who is at work by name, as it stands on every page."""
        name = next((one.name for one in self.people() if one.id == self.person_id), "")
        return f"At work: {name} ({self.person_id})" if name else NOBODY

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

    def hub(self, number: int) -> OrderHub | None:
        """Return an order as a whole, None after a refusal."""
        try:
            return OrderHub(self.shop, self.bench, number, self.present_person, self.new_id)
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return None

    def card_session(self, number: int, card: int) -> OrderSession:
        """Return the session of a card. Raise Refusal when there is none."""
        place = (number, card)
        session = OrderSession(self.shop, self.person_id, place, self.new_id, signing=self.bench.signing)
        session.units = self.shop.store.settings().units
        return session

    def inspection(self, number: int, card: int) -> InspectionSession | None:
        """Return the inspection of a card that is for inspection, in a shop that signs its records."""
        one, signing = see_order(self.shop.store, number).card(card), self.bench.signs
        if signing is None or one is None or one.state is not OrderState.FOR_INSPECTION:
            return None
        return InspectionSession(self.shop, signing, (number, card), self.present_person, self.new_id)

    def approval(self, number: int) -> ApprovalSession:
        """Return the approval of an order. Raise Refusal when it cannot be looked at."""
        return ApprovalSession(self.shop, self.bench.signing, number, self.present_person, self.new_id)

    def records(self, order: int = 0) -> RecordsDesk:
        """Return the signed records of an order, or of the whole shop."""
        return RecordsDesk(self.bench.signing, self.present_person, self.new_id, order=order)

    def _record_search(self) -> RecordSearchDesk:
        bench = self.bench
        store = bench.signing.store if bench.signing is not None else None
        return RecordSearchDesk(store, bench.check, bench.export, bench.print_record, self)

    def around_form(self, name: str, order: WorkOrder) -> AroundForm:
        """Return a form of what stands around the cards, by its name."""
        today = self.shop.clock.now().date()
        forms: dict[str, Callable[[], AroundForm]] = {
            "intake": lambda: IntakeForm(order),
            "discrepancy": DiscrepancyForm,
            "part": PartForm,
            "search": SearchForm,
            "directive": lambda: DirectiveForm(today),
            "time": lambda: TimeForm(self.people(), self.person_id),
            "leave-out": lambda: LeaveOutForm(order),
            "void": lambda: VoidForm(order_name(order.number)),
        }
        return forms[name]()

    def settle_form(self, order: WorkOrder, number: int) -> AroundForm:
        """Return the form that settles a discrepancy."""
        return SettleForm(order.discrepancies[number - 1])
