"""An invented shop of visits: one magneto that drifts late, one that is steady, directives, tools and people."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.tools import Care, Lamp, Tool
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import (
    TypedApproach,
    TypedCard,
    TypedEngine,
    TypedLimits,
    TypedMagneto,
    TypedMeasure,
)
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.lists.keep_lists import keep_person, keep_tool
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.record_directive import record_directive
from desktop.usecases.shop.ports import Request, Shop

NOMINAL = 22
DRIFTING, STEADY = "M-4471", "M-4472"


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit: the day, hours since overhaul, the aircraft's total time, and both magnetos found and left."""

    on: date
    hours: str
    total: str
    left: tuple[str | None, str | None]
    right: tuple[str | None, str | None]


VISITS = (
    Visit(date(2028, 5, 9), "12", "1208", (None, "22"), (None, "22")),
    Visit(date(2029, 4, 17), "171.5", "1367.5", ("21.5", "22"), ("22", "22")),
    Visit(date(2030, 5, 6), "322", "1518", ("21", "22.5"), ("22", "22")),
    Visit(date(2031, 2, 25), "431", "1627", ("22", "22"), ("22.5", "22")),
)
TOOLS = (
    Tool("L-01", "Timing light", Care.CHECKED, serial="8812", lamp=Lamp.OFF),
    Tool("L-02", "Timing light with two lamps", Care.CHECKED, serial="8840", lamp=Lamp.ON),
    Tool("D-01", "Timing disc, 360 degrees", Care.CHECKED),
    Tool("S-02", "Piston stop, 18 mm", Care.CHECKED),
    Tool("W-03", "Torque wrench, 5 to 50 N m", Care.CALIBRATED, date(2031, 12, 31), "T-1190"),
    Tool("W-07", "Torque wrench, 20 to 200 lbf in", Care.CALIBRATED, date(2031, 3, 3), "T-0866"),
    Tool("G-01", "Differential pressure tester", Care.CALIBRATED, date(2031, 9, 15), "0042"),
)
SINCE = date(2026, 2, 2)
PEOPLE = (
    Person("TR", "Tom Rill", (Right.MECHANIC,), SINCE, None, "5550118", "mechanic", "airframe and powerplant"),
    Person("IS", "Ines Spohr", (Right.INSPECTOR, Right.AUTHORISED), SINCE, None, "5550127", "mechanic", "inspection"),
    Person("DE", "Dora Esk", (Right.FRONT_DESK,), date(2027, 8, 16)),
    Person("GO", "Gil Ortega", (Right.MECHANIC,), SINCE, date(2030, 6, 28), "5550093", "mechanic", "powerplant"),
    Person("HE", "Hal Elpman", (Right.HELPER,), date(2031, 3, 3), supervisor="TR"),
)


def fill_lists(shop: Shop, who: str, new_id: Callable[[], str]) -> None:
    """Put the people and the tools into a shop, as its records keeper does."""
    for person in PEOPLE:
        keep_person(shop, Request(new_id(), who), person)
    for tool in TOOLS:
        keep_tool(shop, Request(new_id(), who), tool)


def readings(visit: Visit) -> TypedCard:
    """Return a card by the engine's marks with what a visit found and left."""
    return TypedCard(
        format=1,
        engine=TypedEngine(cylinders=4, firing_order=(1, 3, 2, 4), rotation="clockwise"),
        limits=TypedLimits(str(NOMINAL), str(NOMINAL), "1", "1.5", "1"),
        measure=TypedMeasure(by="marks", read_to="0.5"),
        left=_magneto(*visit.left),
        right=_magneto(*visit.right),
    )


def _magneto(found: str | None, left: str | None) -> TypedMagneto:
    taken = ((found, "as found"), (left, "as left"))
    approaches = tuple(
        TypedApproach(when=when, began="60 before", light=f"{light} before", back=f"{float(light) + 2:g} before")
        for light, when in taken
        if light is not None
    )
    return TypedMagneto(rotation="right", poles=2, seen_from="back", approach=approaches)


def new_order(visit: Visit, registration: str = "XQ-TBK", serials: tuple[str, str] = (DRIFTING, STEADY)) -> NewOrder:
    """Return the order of a visit."""
    fitted = tuple(MagnetoFitted(side, "T2", serial) for side, serial in zip(Side, serials, strict=True))
    engine = EngineFitted(EnginePosition.SINGLE, "Marrow Six", "M6-0118", fitted)
    plates = tuple(
        Plate(side, "T2", serial, since_overhaul=visit.hours) for side, serial in zip(Side, serials, strict=True)
    )
    return NewOrder(
        Customer("Ada Brook"),
        Aircraft(registration, "Tarnbeck 4", "31", (engine,)),
        EnginePosition.SINGLE,
        "time both magnetos",
        intake=Intake(logs_seen=True, total_time=visit.total, plates=plates),
    )


def add_visits(
    shop: Shop, who: str, task: TaskCard, new_id: Callable[[], str], set_clock: Callable[[datetime], None]
) -> None:
    """Bring the aircraft in at each visit; recurring directives are written on the last one."""
    for visit in VISITS:
        set_clock(datetime.combine(visit.on, datetime.min.time(), UTC) + timedelta(hours=9))
        number = open_order(shop, Request(new_id(), who), new_order(visit)).number
        issue_card(shop, _seen(shop, who, number, new_id), number, NewCard(task, readings(visit)))
    for directive in DIRECTIVES:
        record_directive(shop, _seen(shop, who, number, new_id), number, directive)


def _seen(shop: Shop, who: str, number: int, new_id: Callable[[], str]) -> Request:
    return Request(new_id(), who, see_order(shop.store, number).version)


_DONE = Directive("28-11", date(2031, 2, 25), "inspected", recurring=True)
DIRECTIVES = (
    replace(_DONE, serial=DRIFTING, next_due_hours="2127", next_due_on=date(2032, 2, 25)),
    replace(_DONE, number="30-02", serial=STEADY, next_due_hours="1640"),
    replace(_DONE, number="27-19", subject=Subject.ENGINE, serial="M6-0118", next_due_on=date(2031, 3, 1)),
    replace(_DONE, number="29-05", subject=Subject.HARNESS, next_due_hours="1727"),
)
