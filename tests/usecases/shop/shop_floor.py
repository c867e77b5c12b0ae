"""An invented shop with its people, and the hands that do the work in the tests."""

from datetime import date
from itertools import count
from pathlib import Path

from desktop.core.rules.paper_rulebook import Paperwork
from desktop.core.rules.rulebook import TIMING_RULES, Rulebook
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.tools import Care, Tool
from desktop.core.timing.typed_card import TypedCard
from desktop.files.readings import read_readings
from desktop.files.sentences import finding_sentences, paperwork_sentences
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.ports import Request, Shop
from tests.usecases.shop.fake_store import FakeClock, FakeStore

RULEBOOK = Rulebook(TIMING_RULES, finding_sentences())
PAPERWORK = Paperwork(paperwork_sentences())
STEPS = (
    ("data-current", (), "text", True),
    ("tools-ready", (), "tool", True),
    ("switch-off", (), "confirm", True),
    ("disc-fit", ("disc",), "confirm", False),
    ("read-left", ("left",), "as left left", False),
    ("torque-set", ("torque",), "torque", True),
    ("run-up", ("run-up",), "run-up", True),
)
TIMING = TaskCard(
    "T9",
    1,
    "Time the trial magnetos",
    "As said.",
    "Everywhere.",
    tuple(
        Step(name, only, (), f"Do {name}.", "", capture, initials, inspector=False)
        for name, only, capture, initials in STEPS
    ),
)
SOUND = read_readings((Path(__file__).parents[2] / "samples" / "sound.toml").read_bytes())
SINCE = date(2030, 1, 1)
PEOPLE = (
    Person("DESK", "Dora Esk", (Right.FRONT_DESK,), SINCE),
    Person("MECH", "Mel Chan", (Right.MECHANIC,), SINCE, certificate_number="1234", certificate_kind="mechanic"),
    Person("INSP", "Ines Spohr", (Right.INSPECTOR,), SINCE),
    Person("KEEP", "Kit Eeper", (Right.RECORDS,), SINCE),
    Person("HELP", "Hal Elpman", (Right.HELPER,), SINCE, supervisor="MECH"),
    Person("GONE", "Gil One", tuple(Right)[:5], SINCE, until=date(2030, 6, 1)),
)
TOOLS = (
    Tool("L-1", "timing light", Care.CHECKED),
    Tool("W-3", "torque wrench", Care.CALIBRATED, date(2031, 12, 31)),
    Tool("W-9", "old wrench", Care.CALIBRATED, date(2031, 3, 3)),
)
NEW = NewOrder(
    Customer("Mill Flying Club"),
    Aircraft("X-ABCD", "Trainer 2", "A-5", (EngineFitted(EnginePosition.SINGLE, "Fourbanger 360", "E-77"),)),
    EnginePosition.SINGLE,
    "Time both magnetos",
)


class Floor:
    """A shop in memory; every request gets an id of its own and names the version that stands there."""

    def __init__(self) -> None:
        self.store = FakeStore()
        self.ids = count()
        self.shop = Shop(self.store, FakeClock(), RULEBOOK, PAPERWORK)
        for person in PEOPLE:
            self.store.file.put_person(person)
        for tool in TOOLS:
            self.store.file.put_tool(tool)

    def by(self, person: str, number: int = 1) -> Request:
        """Return a new request of a person who sees an order as it is now."""
        return Request(f"r{next(self.ids)}", person, self.store.version(number))

    def new(self, person: str) -> Request:
        """Return a new request for something new."""
        return Request(f"r{next(self.ids)}", person)

    def order(self, number: int = 1) -> WorkOrder:
        """Return an order as it is now."""
        return see_order(self.store, number)

    def card(self, number: int = 1, card: int = 1) -> OrderCard:
        """Return a card as it is now."""
        found = self.order(number).card(card)
        assert found is not None
        return found

    def with_order(self) -> "Floor":
        """Open an order."""
        open_order(self.shop, self.new("DESK"), NEW)
        return self

    def with_card(self, readings: TypedCard = SOUND) -> "Floor":
        """Open an order if there is none, and issue the timing card on it."""
        if not self.store.version(1):
            self.with_order()
        issue_card(self.shop, self.by("DESK"), 1, NewCard(TIMING, readings, "MECH"))
        return self

    def with_initials(self, card: int = 1) -> "Floor":
        """Confirm every step that needs initials."""
        one = self.card(1, card)
        for step in look_at_card(self.shop, self.store, self.order(), one, date(2031, 3, 4)).steps:
            if step.initials:
                tools = ("L-1",) if step.capture == "tool" else ()
                confirm_step(self.shop, self.by("MECH"), 1, card, step.id, text="manual M-360, revision 9", tools=tools)
        return self
