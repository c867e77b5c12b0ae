"""An order with one card that a mechanic filled, in a shop whose people sign."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.people.people import Person, Right
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.signed_acts import Proposal, propose, sign_act
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.keep_lists import keep_person, keep_tool
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.record_directive import record_search
from desktop.usecases.shop.ports import Answer, Request
from tests.usecases.records.signing_floor import SINCE, SigningFloor
from tests.usecases.shop.shop_floor import SOUND, TIMING, TOOLS

PEOPLE = (
    Person("KEEP", "Kit Eeper", (Right.RECORDS,), SINCE),
    Person("MECH", "Mel Chan", (Right.MECHANIC, Right.INSPECTOR), SINCE, None, "1234", "mechanic"),
    Person("DESK", "Dora Esk", (Right.FRONT_DESK,), SINCE),
    Person("ROLF", "Rolf Aar", (Right.INSPECTOR, Right.AUTHORISED), SINCE, None, "5678", "mechanic"),
)
NEW = NewOrder(
    Customer("Mill Flying Club"),
    Aircraft("X-ABCD", "Trainer 2", "A-5", (EngineFitted(EnginePosition.SINGLE, "Fourbanger 360", "E-77"),)),
    EnginePosition.SINGLE,
    "Time both magnetos",
    intake=Intake(logs_seen=True, total_time="1234.5", tachometer="987.6"),
)


class ActingFloor(SigningFloor):
    """The hands of four people on one order, or of one who stands in for all."""

    hands: Mapping[str, str] = MappingProxyType({})

    def by(self, person: str, seen_version: int = 0) -> Request:
        """Return a new request of a person, or of the one who stands in for them."""
        return super().by(self.hands.get(person, person), seen_version)

    def staffed(self) -> "ActingFloor":
        """Put everybody on the roster and enrol them."""
        for person in PEOPLE:
            keep_person(self.shop, self.by("KEEP"), person)
        for tool in TOOLS:
            keep_tool(self.shop, self.by("KEEP"), tool)
        self.enrol(*(person.id for person in PEOPLE))
        return self

    def on(self, person: str) -> Request:
        """Return a request of a person who sees the order as it is now."""
        return self.by(person, self.file.version(1))

    def order(self) -> WorkOrder:
        """Return the order as it is now."""
        found = self.file.order(1)
        assert found is not None
        return found

    def alone(self, person: Person) -> "ActingFloor":
        """Enrol one person who does everything, and have them fill the card."""
        keep_person(self.shop, self.by(person.id), person)
        self.hands = dict.fromkeys(("MECH", "DESK", "ROLF"), person.id)
        for tool in TOOLS:
            keep_tool(self.shop, self.by(person.id), tool)
        self.enrol(person.id)
        return self.filled()

    def filled(self) -> "ActingFloor":
        """Open the order, issue its card, and fill it."""
        open_order(self.shop, self.by("DESK"), NEW)
        record_search(self.shop, self.on("MECH"), 1, "the list of 1 March", (Subject.ENGINE, Subject.MAGNETO))
        issue_card(self.shop, self.on("DESK"), 1, NewCard(TIMING, SOUND, documents=("M-360, revision 9",)))
        card = self.order().cards[0]
        for step in look_at_card(self.shop, self.file, self.order(), card, date(2031, 3, 4)).steps:
            if step.initials:
                tools = ("L-1",) if step.capture == "tool" else ()
                confirm_step(self.shop, self.on("MECH"), 1, 1, step.id, text="as the data say", tools=tools)
        take_reading(self.shop, self.on("MECH"), 1, 1, ("left.approach[3].from", "310"))
        take_reading(self.shop, self.on("MECH"), 1, 1, ("left.approach[3].light", "338"))
        take_reading(self.shop, self.on("MECH"), 1, 1, ("left.approach[3].click_passed", True))
        return self

    def propose(self, person: str, kind: RecordKind, reason: str = "", **more: object) -> Proposal:
        """Look at what would be signed."""
        card = 1 if kind.value.startswith("card") else 0
        return propose(self.desk, self.file, person, Act(kind, 1, card, reason, **more))  # type: ignore[arg-type]

    def act(self, person: str, kind: RecordKind, reason: str = "", **more: object) -> Answer:
        """Look at an act and sign it."""
        proposal = self.propose(person, kind, reason, **more)
        return self.sign_shown(proposal)

    def sign_shown(self, proposal: Proposal, secret: str = "") -> Answer:
        """Sign what was shown."""
        request = self.by(proposal.person)
        return sign_act(self.desk, self.file, request.request_id, proposal, secret or PHRASES[proposal.person])


PHRASES = {
    "KEEP": "tansy ladder 7 oboe",
    "MECH": "Zwölf Eulen im Kamin",
    "DESK": "violet anchor nine",
    "ROLF": "ferry quilt under moss",
}
