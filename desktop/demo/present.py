"""The demo's shop this autumn: an order in every state, and the cases that stop."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Directive
from desktop.core.shop.aircraft.parts import Part, Way
from desktop.core.shop.orders.discrepancies import CustomerWord, Outcome
from desktop.core.shop.orders.order_line import order_name
from desktop.core.timing.readings import Side
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
from desktop.demo.past import APPROVER, INSPECTOR, POINTS, book_hours, finish
from desktop.demo.working import work_card
from desktop.files.demo_shop import DemoShop
from desktop.usecases.shop.book import add_part
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.record_directive import record_directive


@dataclass(frozen=True, slots=True)
class Shown:
    """An order of the demo, and what it shows, in a line."""

    number: int
    words: str


def this_autumn(crew: Crew, demo: DemoShop) -> tuple[Shown, ...]:
    """Work through the days of this autumn and return what each order shows."""
    scenes: tuple[tuple[date, Callable[[Crew, DemoShop], Shown]], ...] = (
        (date(2026, 9, 28), geared_for_inspection),
        (date(2026, 9, 29), magneto_replaced),
        (date(2026, 9, 30), disc_that_moved),
        (date(2026, 10, 1), against_rotation),
        (date(2026, 10, 2), approved),
        (date(2026, 10, 5), not_approved),
        (date(2026, 10, 6), returned),
        (date(2026, 10, 7), accepted),
        (date(2026, 10, 8), issued),
        (date(2026, 10, 9), voided),
        (date(2026, 10, 12), opened),
    )
    shown = []
    for day, scene in scenes:
        crew.clock.go_to(day)
        shown.append(scene(crew, demo))
    return tuple(shown)


def geared_for_inspection(crew: Crew, demo: DemoShop) -> Shown:
    """Show a geared engine: its cards are submitted, and the first is accepted."""
    number = take_in_aircraft(crew, demo, Coming("XQ-GAR", "time both magnetos, and run it up", "1544.0", "1544.0"))
    issue_cards(crew, number, [card_of("T4"), card_of("R2")], "MC")
    search_directives(crew, number)
    plan = usual_plan("Marrow Six G", "MC", "TR", left=("-0.75", "0"))
    for card in crew.order(number).cards:
        work_card(crew, number, card.number, plan)
        crew.submit("MC", number, card.number)
    crew.accept(INSPECTOR, number, 1)
    return Shown(number, "XQ-GAR, geared: both cards submitted, the inspector is at the second")


def magneto_replaced(crew: Crew, demo: DemoShop) -> Shown:
    """Show the left engine of the twin as it gets another right magneto; a helper is at work, and it is loose."""
    coming = Coming(
        "XQ-WEN",
        "replace the right magneto of the left engine: oil at its flange",
        "3102.5",
        complaint="Oil on the cowling of the left engine.",
        position=EnginePosition.LEFT,
        since={Side.LEFT: "871.2", Side.RIGHT: "871.2"},
        authorised="Replace it; R. Vale, by telephone, 28 September.",
    )
    number = take_in_aircraft(crew, demo, coming)
    issue_whole_job(crew, number, "replace-magneto", "TR")
    search_directives(crew, number)
    plan = replace(
        usual_plan("Marrow Six", "TR", "HE"),
        says={
            "complaint": "Oil on the cowling of the left engine.",
            "seals-seen": "Right magneto: oil at the flange, seal paint broken. Left magneto dry.",
            "magneto-off-right": "T2, no. 7804, tag 0412.",
        },
    )
    cards = crew.order(number).cards
    for card in cards[:4]:
        work_card(crew, number, card.number, plan)
        crew.submit("TR", number, card.number)
    add_part(crew.shop, crew.on("TR", number), number, Part(Way.OFF, "T2", "Magneto", "7804", tag="0412"))
    release = "Release 2219 of the Ostrin works (invented)"
    add_part(crew.shop, crew.on("TR", number), number, Part(Way.ON, "T2", "Magneto", "7899", paper=release))
    work_card(crew, number, cards[4].number, plan, stop_before="cushions-left")
    book_hours(crew, number, "HE", "second person at the left engine", 2)
    return Shown(number, "XQ-WEN, left engine of a twin: a magneto is being replaced; the board says what is loose")


def disc_that_moved(crew: Crew, demo: DemoShop) -> Shown:
    """Show the right engine of the twin with a closing pair that is off: no reading counts, nothing is submitted."""
    coming = Coming("XQ-WEN", "time both magnetos", "3102.5", position=EnginePosition.RIGHT)
    number = take_in_aircraft(crew, demo, coming)
    issue_cards(crew, number, [card_of("T4")], "MC")
    plan = replace(usual_plan("Marrow Six", "MC", "TR"), disc_moves=Fraction(2))
    work_card(crew, number, 1, plan, stop_before="stop-off")
    return Shown(number, "XQ-WEN, right engine: the disc moved, so no reading counts; it stops")


def against_rotation(crew: Crew, demo: DemoShop) -> Shown:
    """Show a last approach of the right magneto that came against rotation: it establishes nothing."""
    number = take_in_aircraft(crew, demo, Coming("XQ-FEN", "time both magnetos", "3640.1", "1513.5"))
    issue_cards(crew, number, [card_of("T4")], "MC")
    plan = replace(usual_plan("Marrow Four", "MC", "TR", right=("0.5", "0")), against=Side.RIGHT)
    work_card(crew, number, 1, plan)
    return Shown(number, "XQ-FEN: the last approach came against rotation; it stops")


def approved(crew: Crew, demo: DemoShop) -> Shown:
    """Show a whole periodic job, approved: a magneto that drifts late, parts, a deferred discrepancy, a directive."""
    coming = Coming(
        "XQ-TBK",
        "periodic timing check",
        "1693.8",
        "1202.4",
        complaint="Starts well; a little slow to climb.",
        since={Side.LEFT: "503.6", Side.RIGHT: "503.6"},
        promised=date(2026, 10, 5),
    )
    number = take_in_aircraft(crew, demo, coming)
    issue_whole_job(crew, number, "periodic-timing", "TR")
    search_directives(crew, number)
    plan = usual_plan("Marrow Six", "TR", "MC", left=("-1", "0"))
    for card in crew.order(number).cards:
        work_card(crew, number, card.number, plan)
    done = Directive(
        POINTS.number,
        date(2026, 10, 2),
        POINTS.method,
        POINTS.amendment,
        POINTS.dated,
        POINTS.subject,
        POINTS.serial,
        recurring=True,
        next_due_hours="1793.8",
        next_due_on=date(2027, 10, 2),
    )
    record_directive(crew.shop, crew.on(INSPECTOR, number), number, done)
    gasket = Part(Way.ON, "GK-40", "Gasket", "lot 31", "2", "Certificate of conformity 3390 (invented)")
    add_part(crew.shop, crew.on("TR", number), number, gasket)
    add_discrepancy(crew.shop, crew.on("TR", number), number, "Lead of cylinder 3, lower plug: chafed at the clamp.")
    words = "Sleeved and clamped anew; tested, and passes."
    settle_discrepancy(crew.shop, crew.on("TR", number), number, 1, Outcome.CLOSED, words)
    add_discrepancy(crew.shop, crew.on("TR", number), number, "Cowling: one fastener worn.")
    customer = CustomerWord("Ada Brook", crew.clock.now(), "nothing now")
    words = "To the annual inspection; it holds."
    settle_discrepancy(crew.shop, crew.on(DESK, number), number, 2, Outcome.DEFERRED, words, customer)
    finish(crew, number, plan, closed=False)
    return Shown(number, "XQ-TBK: a whole periodic job, approved; its left magneto, no. 7741, drifts late")


def not_approved(crew: Crew, demo: DemoShop) -> Shown:
    """Show a radial that kicked back, found far late; the owner declines the work, and it is not approved."""
    coming = Coming(
        "XQ-KIT",
        "read the timing after a kick-back",
        "901.2",
        "901.2",
        complaint="It kicked back at the start, and runs rough since.",
        since={Side.LEFT: "209.0", Side.RIGHT: "209.0"},
    )
    number = take_in_aircraft(crew, demo, coming)
    issue_cards(crew, number, [card_of("T3")], "TR")
    search_directives(crew, number)
    plan = replace(
        usual_plan("Bracken Seven", "TR", "MC", left=("-6", "-6")),
        says={"found-judged": "left outside", "nothing-loose": "The nuts of the left magneto are not at torque."},
    )
    work_card(crew, number, 1, plan)
    write_remark(crew.shop, crew.on("TR", number), number, 1, "The left magneto moves on its pad by hand.")
    crew.submit("TR", number, 1)
    crew.accept(INSPECTOR, number, 1)
    words = "Left magneto 6 degrees late, and loose on its pad; its drive is not looked at."
    add_discrepancy(crew.shop, crew.on("TR", number), number, words)
    customer = CustomerWord("Oskar Kittle", crew.clock.now(), "no work; he takes it apart himself in the winter")
    settle_discrepancy(crew.shop, crew.on(DESK, number), number, 1, Outcome.DECLINED, "Nothing is done now.", customer)
    reason = "The left magneto is late by 6 degrees and loose; the owner declined the work."
    crew.not_approve(APPROVER, number, reason)
    return Shown(number, "XQ-KIT, a radial: not approved, with its list of discrepancies")


def returned(crew: Crew, demo: DemoShop) -> Shown:
    """Show a card that the inspector returned with a reason; the mechanic has it again."""
    number = take_in_aircraft(crew, demo, Coming("XQ-DUN", "time both magnetos", "2210.9", "987.0"))
    issue_cards(crew, number, [card_of("T4")], "MC")
    search_directives(crew, number)
    work_card(crew, number, 1, usual_plan("Marrow Four", "MC", "TR", left=("1", "0.5")))
    crew.submit("MC", number, 1)
    reason = "The right magneto has no clamp washer on the lower nut. Fit it, tighten, and read as left again."
    crew.give_back(INSPECTOR, number, 1, reason)
    return Shown(number, "XQ-DUN: returned by the inspector with a reason, and in work again")


def accepted(crew: Crew, demo: DemoShop) -> Shown:
    """Show an order that is accepted; the authorised person has not looked at it yet."""
    number = take_in_aircraft(crew, demo, Coming("XQ-HOL", "time both magnetos", "4120.3", "2301.8"))
    issue_cards(crew, number, [card_of("T4")], "TR")
    search_directives(crew, number)
    work_card(crew, number, 1, usual_plan("Marrow Six", "TR", "MC", right=("0.5", "0.5")))
    crew.submit("TR", number, 1)
    crew.accept(INSPECTOR, number, 1)
    return Shown(number, "XQ-HOL: accepted, and waiting for the approval")


def issued(crew: Crew, demo: DemoShop) -> Shown:
    """Show the cards of a periodic job issued; nobody has begun."""
    number = take_in_aircraft(crew, demo, Coming("XQ-LYN", "periodic timing check", "1120.0", "640.2"))
    issue_whole_job(crew, number, "periodic-timing", "MC")
    return Shown(number, "XQ-LYN: cards issued, nothing begun")


def voided(crew: Crew, demo: DemoShop) -> Shown:
    """Show an order that was opened twice by mistake; the second is void and keeps its number."""
    number = take_in_aircraft(crew, demo, Coming("XQ-LYN", "periodic timing check", "1120.0", "640.2"))
    crew.void(DESK, number, f"Opened twice by mistake; the work is on order {order_name(number - 1)}.")
    return Shown(number, "XQ-LYN: void, opened twice by mistake")


def opened(crew: Crew, demo: DemoShop) -> Shown:
    """Show an aircraft that has come in; no card is issued yet."""
    coming = Coming(
        "XQ-ARD", "after a suspected slip: it fired through the intake", "388.0", promised=date(2026, 10, 19)
    )
    number = take_in_aircraft(crew, demo, coming)
    return Shown(number, "XQ-ARD, a radial: open, no card issued yet")
