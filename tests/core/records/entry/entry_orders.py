"""An invented order on the left engine of a twin, with everything that a maintenance entry speaks of."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from desktop.core.records.entry.discrepancy_list import list_of_discrepancies
from desktop.core.records.entry.entry_parts import EntryKind
from desktop.core.records.entry.maintenance_entry import EntrySource
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.aircraft.directives import Directive, DirectiveDone, DirectiveSearch, Subject
from desktop.core.shop.aircraft.intake import Intake, Plate, TakenIn
from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.cards.task_card import Step, TaskCard
from desktop.core.shop.orders.discrepancies import CustomerWord, Discrepancy, Outcome, Settled
from desktop.core.shop.orders.order import LeftOut, WorkOrder
from desktop.core.shop.orders.order_card import DataConfirmed, OrderCard, ReadingTaken, Remark, StepDone
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard
from desktop.files.readings import read_readings
from tests.core.shop.some_orders import EMPTY

SOUND = read_readings((Path(__file__).parents[3] / "samples" / "sound.toml").read_bytes())
SINCE = date(2030, 1, 1)
MEL = Person("MC", "Mel Chan", (Right.MECHANIC,), SINCE, certificate_number="1234", certificate_kind="mechanic")
HAL = Person("HE", "Hal Elpman", (Right.HELPER,), SINCE, supervisor="MC")
ANN = Person("AP", "Ann Prover", (Right.AUTHORISED,), SINCE, certificate_number="77", certificate_kind="repairman")
PEOPLE = (MEL, HAL, ANN)
STATION = ShopDetails(
    name="Mill Magneto Works",
    is_station=True,
    station_certificate="ZZ9R001",
    address="Mill Lane 4",
    airworthy="The inspection was done and the aircraft was found airworthy.",
    not_airworthy="The inspection was done; the list of discrepancies was given to the owner.",
)
INDEPENDENT = ShopDetails("Mel Chan, mechanic")
DAY = date(2031, 3, 5)


def at(hour: int, day: int = 4) -> datetime:
    """Return a time of March 2031."""
    return datetime(2031, 3, day, hour, 0, tzinfo=UTC)


STEPS = (
    Step("light", (), (), "Read the light.", "", "as left left", initials=True, inspector=False),
    Step("run", (), (), "Run the engine up.", "", "run-up", initials=True, inspector=False),
)
TASK = TaskCard("T1", 2, "Time the magnetos to the engine", "As said.", "Everywhere.", STEPS)


def card(readings: TypedCard = SOUND, number: int = 1) -> OrderCard:
    """Return an accepted card with its work done."""
    return OrderCard(
        number,
        TASK,
        Stamp("DE", at(8)),
        readings,
        OrderState.ACCEPTED,
        "MC",
        taken=(ReadingTaken("left.approach[1].light", Stamp("HE", at(10), "MC"), "L-1"),),
        steps=(StepDone("light", Stamp("MC", at(11)), tools=("L-1",)), StepDone("run", Stamp("MC", at(9, 5)))),
        remarks=(Remark("The lamp was weak at first.", Stamp("MC", at(12))),),
        data_confirmed=DataConfirmed(("Magneto manual MM-7, revision 3, 2 Jan 2031",), Stamp("DE", at(8))),
        earlier=(StepDone("light", Stamp("XX", at(9))),),
    )


DIRECTIVE = Directive(
    "D-31-02", date(2031, 3, 4), "inspection of the rotor", "2", date(2031, 1, 4), Subject.MAGNETO, "S-11",
    recurring=True, next_due_hours="1734.5", next_due_on=date(2032, 3, 4),
)  # fmt: skip
ORDER: WorkOrder = replace(
    EMPTY,
    cards=(card(),),
    taken_in=TakenIn(
        Intake(
            logs_seen=True,
            total_time="1234.5",
            tachometer="987.6",
            complaint="Rough on left",
            plates=(Plate(Side.LEFT, "M-1", "S-11"),),
        ),
        Stamp("DE", at(8)),
    ),
    parts=(
        PartMoved(Part(Way.OFF, "H-9", "harness", "H-1", tag="T-5"), Stamp("MC", at(9))),
        PartMoved(Part(Way.ON, "H-9", "harness", "H-2", "1", "release R-8"), Stamp("MC", at(10))),
    ),
    searches=(DirectiveSearch("the list of 1 Mar 2031", (Subject.ENGINE, Subject.MAGNETO), Stamp("MC", at(8))),),
    directives=(DirectiveDone(DIRECTIVE, Stamp("MC", at(9))),),
    left_out=(LeftOut(Side.RIGHT, "timed last month elsewhere", Stamp("DE", at(8))),),
    discrepancies=(
        Discrepancy(1, "Oil on the harness", Stamp("MC", at(9))),
        Discrepancy(
            2,
            "Worn plug",
            Stamp("MC", at(9)),
            Settled(Outcome.DECLINED, "next visit", Stamp("DE", at(10)), CustomerWord("Mr Owner", at(10), "nothing")),
        ),
        Discrepancy(3, "Loose clamp", Stamp("MC", at(9)), Settled(Outcome.CLOSED, "tightened", Stamp("MC", at(9)))),
        Discrepancy(4, "Faded placard", Stamp("MC", at(9)), Settled(Outcome.DEFERRED, "", Stamp("MC", at(9)))),
    ),
)
STOPS = SaidFinding("advanced", Severity.STOPS, "left.approach[2]", "The left magneto is 3° advanced.", "Limits.")
NOTES = SaidFinding("one-approach", Severity.NOTE, "left.approach", "One approach only.", "Common practice.")
LIST = list_of_discrepancies(ORDER, (STOPS, NOTES, STOPS), DAY, "The magneto cannot be set within its slots.")


def source(kind: EntryKind, *, approves: bool, shop: ShopDetails = STATION) -> EntrySource:
    """Return what a whole entry of a kind is proposed from."""
    return EntrySource(
        ORDER,
        shop,
        PEOPLE,
        ANN,
        approves,
        kind,
        inspection_type="100-hour" if kind is EntryKind.INSPECTION else "",
        discrepancies=None if approves else LIST,
    )
