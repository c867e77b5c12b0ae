"""A shop in memory for whole jobs: the front desk, a mechanic with a second one, an inspector, and invented engines."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from typing import Any, cast

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet, SheetTurning
from desktop.core.shop.tools import Care, Tool
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_card import TypedMagnetos
from desktop.demo.crew import Crew
from desktop.demo.fixed import DemoClock, FixedIds
from desktop.demo.measuring import DISC, GAUGE, MARKS, MARKS_FORWARD, SPLIT_DISC, Way, geared
from desktop.demo.plans import Plan, Stands
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.ports import Request, Shop
from tests.usecases.shop.fake_store import FakeStore
from tests.usecases.shop.shop_floor import PAPERWORK, RULEBOOK

SINCE = date(2026, 1, 5)
DESK, HANDS, SECOND, INSPECTOR = "DP", "TR", "MC", "IS"
PEOPLE = (
    Person(DESK, "Dora Pell", (Right.FRONT_DESK,), SINCE),
    Person(HANDS, "Tom Rill", (Right.MECHANIC,), SINCE),
    Person(SECOND, "Mel Chan", (Right.MECHANIC,), SINCE),
    Person(INSPECTOR, "Ines Spohr", (Right.INSPECTOR,), SINCE),
)
TOOLS = (
    Tool("L-1", "Timing light", Care.CHECKED),
    Tool("W-3", "Torque wrench", Care.CALIBRATED, date(2027, 8, 31)),
    Tool("W-9", "Old wrench", Care.CALIBRATED, date(2026, 8, 31)),
)
SHEETS = {sheet.id: sheet for sheet in demo_sheets()}
JOBS = {job.id: job for job in builtin_jobs()}


def engine_sheet(name: str, **changes: Any) -> Sheet:  # noqa: ANN401 - any field of a sheet
    sheet = SHEETS[name]
    assert isinstance(sheet, EngineSheet)
    return replace(sheet, **changes)


@dataclass(frozen=True)
class Variant:
    """An engine with its magnetos and the way it is measured; ``out`` is a magneto that is no part of the job."""

    engine: Sheet
    magnetos: tuple[str, str]
    way: Way
    position: EnginePosition = EnginePosition.SINGLE
    out: Side | None = None
    stands: Mapping[Side, Stands] = field(default_factory=dict)


FOUR = SHEETS["marrow-four"]
SIX_WITH_COUPLING, FOURS, SEVENS = ("ostrin-t2-l", "ostrin-t2"), ("ostrin-f4", "ostrin-f4"), ("ostrin-r7", "ostrin-r7")
LATE = {Side.LEFT: Stands(Fraction(-2), Fraction(0))}
VARIANTS: dict[str, Variant] = {
    "opposed, impulse coupling, full disc": Variant(SHEETS["marrow-six"], SIX_WITH_COUPLING, DISC, stands=LATE),
    "opposed, no coupling, split disc": Variant(FOUR, FOURS, SPLIT_DISC, stands=LATE),
    "opposed, no coupling, gauge": Variant(FOUR, FOURS, GAUGE),
    "opposed, impulse coupling, marks": Variant(SHEETS["marrow-six"], SIX_WITH_COUPLING, MARKS, stands=LATE),
    "opposed, never turned back, marks": Variant(
        engine_sheet("marrow-four", turning=SheetTurning("no", "The ratchet of its starter.")), FOURS, MARKS_FORWARD
    ),
    "two breakers in one housing": Variant(
        engine_sheet("marrow-four", magnetos=TypedMagnetos(one_housing=True)), FOURS, SPLIT_DISC
    ),
    "radial": Variant(SHEETS["bracken-seven"], SEVENS, MARKS_FORWARD, stands=LATE),
    "geared, impulse coupling, gauge": Variant(
        SHEETS["marrow-six-g"], SIX_WITH_COUPLING, geared(GAUGE, Fraction(2, 3))
    ),
    "geared, impulse coupling, disc": Variant(SHEETS["marrow-six-g"], SIX_WITH_COUPLING, geared(DISC, Fraction(2, 3))),
    "the right engine of a twin": Variant(SHEETS["marrow-six"], SIX_WITH_COUPLING, DISC, EnginePosition.RIGHT),
    "the right magneto left out": Variant(SHEETS["marrow-six"], SIX_WITH_COUPLING, DISC, out=Side.RIGHT),
    "the left magneto left out": Variant(FOUR, FOURS, SPLIT_DISC, out=Side.LEFT),
}


class JobFloor:
    """Hands that do a job; every verb is a use case, and every request sees the order as it is."""

    def __init__(self) -> None:
        self.store = FakeStore()
        clock = DemoClock(date(2026, 10, 5))
        self.shop = Shop(cast("Any", self.store), clock, RULEBOOK, PAPERWORK, builtin_jobs())
        self.crew = Crew(self.shop, cast("Any", self.store), cast("Any", None), clock, FixedIds(), {})
        for person in PEOPLE:
            self.store.file.put_person(person)
        for tool in TOOLS:
            self.store.file.put_tool(tool)

    def by(self, person: str) -> Request:
        """Return a request of somebody who sees order 1 as it is now."""
        return self.crew.on(person, 1)

    def takes_in(self, variant: Variant) -> None:
        """Open the order with its data plates; the sheets of the variant are the current ones."""
        for sheet in (*SHEETS.values(), variant.engine):
            self.store.file.sheets[(sheet.id, 1)] = sheet
        fitted: list[MagnetoFitted] = []
        plates: list[Plate] = []
        for side, name in zip(Side, variant.magnetos, strict=True):
            part, hand, lag = _plate(SHEETS[name])
            fitted.append(MagnetoFitted(side, part, f"77{len(fitted)}"))
            plates.append(Plate(side, part, f"77{len(plates)}", hand, lag))
        kind = (variant.engine.types or ("",))[0] if isinstance(variant.engine, EngineSheet) else ""
        engine = EngineFitted(variant.position, kind, "M-1", tuple(fitted))
        new = NewOrder(
            Customer("Ada Brook"),
            Aircraft("XQ-TBK", "Tarnbeck 4", "31", (engine,)),
            variant.position,
            intake=Intake(logs_seen=True, total_time="1402.6", plates=tuple(plates)),
        )
        open_order(self.shop, self.crew.new(DESK), new)

    def issues(self, variant: Variant, job: str) -> None:
        """Issue the cards of a job; a magneto that is no part of it is left out with a reason."""
        out = (variant.out,) if variant.out else ()
        for side in out:
            leave_out(self.shop, self.by(DESK), 1, side, "It was timed last week at another shop.")
        sheets = (("engine", variant.engine.id), *zip(("left", "right"), variant.magnetos, strict=True))
        cards = cards_of(JOBS[job], builtin_cards())
        new = NewJob(cards, job, sheets, is_current=True, mechanic=HANDS, left_out=out)
        issue_job(self.shop, self.by(DESK), 1, new)

    def submits(self, card: int) -> None:
        """Submit a card."""
        submit_card(self.shop, self.by(HANDS), 1, card)

    def returns(self, card: int, reason: str) -> None:
        """Return a card to the mechanic."""
        return_card(self.shop, self.by(INSPECTOR), 1, card, reason)


def plan_of(variant: Variant) -> Plan:
    """Return how the job of a variant goes."""
    stands = {side: variant.stands.get(side, Stands()) for side in Side if side is not variant.out}
    return Plan(HANDS, SECOND, variant.way, stands, ("L-1", "W-3"))


def _plate(sheet: Sheet) -> tuple[str, Hand, str]:
    assert not isinstance(sheet, EngineSheet)
    assert sheet.magneto is not None
    part = (sheet.part_numbers or ("",))[0]
    return part, Hand(sheet.magneto.rotation or ""), sheet.magneto.impulse_lag or ""
