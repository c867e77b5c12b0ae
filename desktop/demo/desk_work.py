"""The front desk of the demo: an aircraft is taken in with its data plates, and cards are issued with their sheets."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.cards.task_card import TaskCard
from desktop.core.timing.readings import Side
from desktop.core.words import day_words
from desktop.demo.crew import Crew
from desktop.files.cards import builtin_cards
from desktop.files.demo_shop import DemoShop
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.record_directive import record_search

DESK = "DP"
LIST = "the authority's list of directives"


@dataclass(frozen=True, slots=True)
class Coming:
    """An aircraft that comes in: what is asked, hours, and the hours of each magneto since its overhaul."""

    registration: str
    asked: str
    total_time: str
    tachometer: str = ""
    complaint: str = ""
    position: EnginePosition = EnginePosition.SINGLE
    since: dict[Side, str] = field(default_factory=dict)
    promised: date | None = None
    authorised: str = ""


def take_in_aircraft(crew: Crew, demo: DemoShop, coming: Coming) -> int:
    """Open an order with its intake and return its number."""
    found = demo.of(coming.registration)
    engine = next(one for one in found.engine if one.position is coming.position)
    plates = tuple(
        Plate(
            magneto.side,
            magneto.part_number,
            magneto.serial,
            demo.plates[magneto.part_number].hand,
            demo.plates[magneto.part_number].lag,
            coming.since.get(magneto.side, ""),
        )
        for magneto in engine.magnetos
    )
    intake = Intake(
        logs_seen=True,
        total_time=coming.total_time,
        tachometer=coming.tachometer,
        complaint=coming.complaint,
        plates=plates,
    )
    new = NewOrder(
        found.owner,
        found.aircraft,
        coming.position,
        coming.asked,
        coming.promised,
        intake=intake,
        authorised=coming.authorised,
    )
    return open_order(crew.shop, crew.new(DESK), new).number


def issue_cards(
    crew: Crew,
    number: int,
    cards: Sequence[TaskCard],
    mechanic: str = "",
    *,
    job: str = "",
    left_out: tuple[Side, ...] = (),
) -> None:
    """Issue cards with the current sheets that fit the order's engine and magnetos."""
    sheets = [life.sheet for life in crew.store.sheet_lives()]
    fitting = sheets_that_fit(sheets, crew.order(number))
    new = NewJob(tuple(cards), job, fitting, is_current=True, mechanic=mechanic, left_out=left_out)
    issue_job(crew.shop, crew.on(DESK, number), number, new)


def issue_whole_job(crew: Crew, number: int, job_id: str, mechanic: str = "", left_out: tuple[Side, ...] = ()) -> None:
    """Issue every card of a job."""
    job = next(one for one in crew.shop.jobs if one.id == job_id)
    issue_cards(crew, number, cards_of(job, builtin_cards()), mechanic, job=job_id, left_out=left_out)


def search_directives(crew: Crew, number: int) -> None:
    """Write that directives were searched for: for engine, magneto, coupling, harness and switch."""
    day = day_words(crew.clock.now().date())
    record_search(crew.shop, crew.on(DESK, number), number, f"{LIST} as of {day}", tuple(Subject))


def card_of(card_id: str) -> TaskCard:
    """Return a shipped task card by its id."""
    return next(card for card in builtin_cards() if card.id == card_id)
