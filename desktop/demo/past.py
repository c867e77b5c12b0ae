"""Three years of the demo's shop: visits, a magneto inspected off the engine, people who come and go."""

from dataclasses import replace
from datetime import date, timedelta

from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.timing.readings import Side
from desktop.demo.begin import calibrate, calibrations, come, leave, new_revisions
from desktop.demo.crew import Crew
from desktop.demo.desk_work import (
    DESK,
    Coming,
    card_of,
    issue_cards,
    issue_whole_job,
    search_directives,
    take_in_aircraft,
)
from desktop.demo.engines import usual_plan
from desktop.demo.plans import Plan
from desktop.demo.working import work_card
from desktop.files.demo_shop import DemoShop, DemoVisit
from desktop.usecases.records.signing.correct import Correction
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.orders.record_directive import record_directive

INSPECTOR, APPROVER = "IS", "AV"
BENCH_DAY = date(2025, 12, 2)
CORRECTED_ON = date(2025, 10, 3)
EXCHANGED = ("1130.7", "1103.7")
"""The tachometer of the visit before that day as it was typed, and as it stood."""
POINTS = Directive(
    "QV 28-11",
    date(2025, 9, 30),
    "inspection of the points",
    amendment="2",
    dated=date(2024, 2, 19),
    subject=Subject.MAGNETO,
    serial="7741",
    recurring=True,
    next_due_hours="1695.1",
    next_due_on=date(2026, 9, 30),
)


def live_through(crew: Crew, demo: DemoShop, sheets: tuple[Sheet, ...]) -> None:
    """Let the years pass: what happened on each day, the oldest first."""
    keeper = demo.person[0].id
    newcomers = {person.since: person for person in demo.person if person.since > demo.begins}
    calibrated = [one for tool in demo.tool for one in calibrations(demo, tool)[1:]]
    days = {visit.on for visit in demo.visit} | set(newcomers) | {demo.left.until, BENCH_DAY}
    for day in sorted(days | {CORRECTED_ON} | {day for day, _ in calibrated}):
        crew.clock.go_to(day)
        for tool in [tool for on, tool in calibrated if on == day]:
            calibrate(crew, tool, keeper)
        new_revisions(crew, sheets if day in days else (), keeper, day)
        if day in newcomers:
            come(crew, demo, newcomers[day], keeper)
        if day == demo.left.until:
            leave(crew, demo, keeper)
        for visit in [visit for visit in demo.visit if visit.on == day]:
            visited(crew, demo, visit)
        if day == CORRECTED_ON:
            digits_exchanged(crew)
        if day == BENCH_DAY:
            on_the_bench(crew, demo)


def visited(crew: Crew, demo: DemoShop, visit: DemoVisit) -> None:
    """Take an aircraft in, time both magnetos, and let it leave: everything is signed and the order closed."""
    coming = Coming(
        visit.registration,
        "time both magnetos",
        visit.total_time,
        visit.tachometer,
        since={Side.LEFT: visit.left.since, Side.RIGHT: visit.right.since},
    )
    number = take_in_aircraft(crew, demo, coming)
    engine = crew.order(number).engine.type
    second = "MC" if visit.hands != "MC" else "TR"
    plan = usual_plan(
        engine, visit.hands, second, (visit.left.found, visit.left.left), (visit.right.found, visit.right.left)
    )
    issue_cards(crew, number, [card_of("T4")], visit.hands)
    search_directives(crew, number)
    work_card(crew, number, 1, plan)
    if (visit.registration, visit.on) == ("XQ-TBK", POINTS.done_on):
        record_directive(crew.shop, crew.on(INSPECTOR, number), number, POINTS)
    finish(crew, number, plan)


def digits_exchanged(crew: Crew) -> None:
    """Correct the newest record, an approval: at the intake two digits of the tachometer were exchanged."""
    approval = crew.store.records().last_envelope()
    if approval is None or approval.kind != RecordKind.APPROVED:
        raise ValueError("the newest record approves an order")
    typed, stood = EXCHANGED
    correction = Correction(
        approval.number,
        f"Tachometer, hours: {typed}",
        f"Tachometer, hours: {stood}",
        "Two digits were exchanged at the intake. The owner's log and the photograph of the instrument say so.",
    )
    crew.correct(APPROVER, correction)


def on_the_bench(crew: Crew, demo: DemoShop) -> None:
    """Inspect a magneto of the twin's right engine that was brought in by itself."""
    coming = Coming(
        "XQ-WEN",
        "500-hour inspection of the left magneto, no. 7805",
        "2941.7",
        position=EnginePosition.RIGHT,
        since={Side.LEFT: "498.0", Side.RIGHT: "498.0"},
    )
    number = take_in_aircraft(crew, demo, coming)
    reason = "Only the left magneto was brought in; the right one stays on the aircraft."
    leave_out(crew.shop, crew.on(DESK, number), number, Side.RIGHT, reason)
    issue_whole_job(crew, number, "off-engine-inspection", "MC", (Side.RIGHT,))
    search_directives(crew, number)
    plan = replace(
        usual_plan("Marrow Six", "MC", "TR"),
        says={"case-seen": "Dry, no cracks; 498 hours since overhaul.", "bench-tagged": "T2-L, no. 7805, inspected."},
    )
    for card in crew.order(number).cards:
        work_card(crew, number, card.number, plan)
    finish(crew, number, plan, what="inspection on the bench")


def finish(crew: Crew, number: int, plan: Plan, *, closed: bool = True, what: str = "timing") -> None:
    """Submit, accept and approve everything of an order, and close it; the time since it came in is booked."""
    for card in crew.order(number).cards:
        crew.submit(plan.hands, number, card.number)
    for card in crew.order(number).cards:
        crew.accept(INSPECTOR, number, card.number)
    book_hours(crew, number, plan.hands, what)
    crew.approve(APPROVER, number)
    if closed:
        crew.close(DESK, number)


def book_hours(crew: Crew, number: int, person: str, what: str, part: int = 1) -> None:
    """Book the time since an aircraft came in, or a part of it, in whole five minutes; nobody was there longer."""
    since = crew.clock.now() - crew.order(number).opened.at
    minutes = max(since // timedelta(minutes=5) // part * 5, 5)
    book_time(crew.shop, crew.on(person, number), number, person, minutes, what)
