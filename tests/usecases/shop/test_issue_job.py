"""The cards of a job go out together, with their limits sheets, and only when the data plates fit them."""

from dataclasses import replace

import pytest

from desktop.core.errors import NotReady, Refusal
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.timing.readings import Hand, Side
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.orders.open_order import open_order
from tests.usecases.shop.fake_store import FakeWork
from tests.usecases.shop.shop_floor import NEW, Floor

PLATES = (Plate(Side.LEFT, "T2-L", "7741", Hand.LEFT, "30"), Plate(Side.RIGHT, "T2", "7796", Hand.LEFT))
SIX = Aircraft("XQ-TBK", "Tarnbeck 4", "31", (EngineFitted(EnginePosition.SINGLE, "Marrow Six", "M6-0118"),))
JOB = next(job for job in builtin_jobs() if job.id == "periodic-timing")
SHEETS = (("engine", "marrow-six"), ("left", "ostrin-t2-l"), ("right", "ostrin-t2"))
WHOLE = NewJob(cards_of(JOB, builtin_cards()), JOB.id, SHEETS, is_current=True, mechanic="MECH")


def keep(file: FakeWork) -> None:
    """Keep the invented sheets as compared ones."""
    for sheet in demo_sheets():
        file.sheets[(sheet.id, 1)] = sheet


def floor_with(*plates: Plate) -> Floor:
    floor = Floor()
    keep(floor.store.file)
    open_order(floor.shop, floor.new("DESK"), replace(NEW, aircraft=SIX, intake=Intake(plates=plates)))
    return floor


def test_that_the_cards_of_a_job_are_issued_in_the_order_of_the_work() -> None:
    floor = floor_with(*PLATES)
    issue_job(floor.shop, floor.by("DESK"), 1, WHOLE)
    order = floor.order()
    assert tuple(card.task.id for card in order.cards) == JOB.cards
    assert order.state is OrderState.ISSUED
    for card in order.cards:
        assert (card.job, card.mechanic) == ("periodic-timing", "MECH")
        assert [pin.place for pin in card.sheets] == ["engine", "left", "right"]
        assert card.data_confirmed is not None
        assert any("MM-6" in document for document in card.data_confirmed.documents)


def test_that_a_card_begins_with_the_data_of_plates_and_sheets() -> None:
    floor = floor_with(*PLATES)
    issue_job(floor.shop, floor.by("DESK"), 1, WHOLE)
    timing = next(card for card in floor.order().cards if card.task.id == "T4").readings
    assert timing.engine is not None
    assert timing.engine.firing_order == (1, 4, 5, 2, 3, 6)
    assert timing.limits is not None
    assert timing.limits.left_btdc == "23"
    assert timing.left is not None
    assert (timing.left.rotation, timing.left.impulse_lag, timing.left.impulse_lag_in) == ("left", "30", "magneto")
    assert timing.right is not None
    assert timing.right.impulse_lag is None
    assert timing.torque is not None
    assert {entry.what for entry in timing.torque} == {"clamp"}
    run_up = next(card for card in floor.order().cards if card.task.id == "R2").readings.run_up
    assert run_up is not None
    assert run_up.drop_most == "125"


def test_that_a_magneto_that_is_left_out_or_not_fitted_is_on_no_card() -> None:
    floor = floor_with(*PLATES)
    issue_job(floor.shop, floor.by("DESK"), 1, replace(WHOLE, left_out=(Side.LEFT,)))
    assert all(card.readings.left is None for card in floor.order().cards)
    other = floor_with(PLATES[1])
    issue_job(other.shop, other.by("DESK"), 1, replace(WHOLE, sheets=SHEETS[::2]))
    assert all(card.readings.left is None for card in other.order().cards)


def test_that_an_order_without_an_intake_gets_its_cards_with_what_is_known() -> None:
    floor = Floor().with_order()
    issue_job(floor.shop, floor.by("DESK"), 1, NewJob(WHOLE.cards))
    card = floor.order().cards[0]
    assert (card.sheets, card.data_confirmed, card.job) == ((), None, "")
    assert card.readings.left is not None


@pytest.mark.parametrize(
    ("plate", "words"),
    [
        (replace(PLATES[0], hand=Hand.RIGHT), "hand of rotation"),
        (replace(PLATES[0], lag="25"), "impulse lag"),
        (replace(PLATES[0], part_number="T2-X"), "part number T2-X"),
    ],
)
def test_that_a_plate_that_does_not_fit_stops_the_issue(plate: Plate, words: str) -> None:
    floor = floor_with(plate, PLATES[1])
    with pytest.raises(NotReady, match=words):
        issue_job(floor.shop, floor.by("DESK"), 1, WHOLE)
    assert floor.order().cards == ()


@pytest.mark.parametrize(
    ("new", "words"),
    [
        (replace(WHOLE, is_current=False), "Confirm first"),
        (replace(WHOLE, sheets=(("engine", "unknown"),)), "was not compared yet"),
        (replace(WHOLE, mechanic="INSP"), "cannot fill a card"),
        (replace(WHOLE, mechanic="GONE"), "cannot fill a card"),
    ],
)
def test_that_what_is_missing_at_the_issue_is_said(new: NewJob, words: str) -> None:
    floor = floor_with(*PLATES)
    with pytest.raises(Refusal, match=words):
        issue_job(floor.shop, floor.by("DESK"), 1, new)
    assert floor.order().cards == ()


def test_that_a_job_whose_card_is_not_there_is_refused() -> None:
    with pytest.raises(Refusal, match="not there: R1, S1, T4"):
        cards_of(JOB, tuple(card for card in builtin_cards() if card.id not in ("R1", "S1", "T4")))


def test_that_the_sheets_of_an_order_are_found_by_its_names() -> None:
    floor = floor_with(*PLATES)
    assert sheets_that_fit(demo_sheets(), floor.order()) == SHEETS
    assert sheets_that_fit(demo_sheets(), Floor().with_order().order()) == ()


def test_that_a_pin_is_of_the_newest_compared_revision() -> None:
    floor = floor_with(*PLATES)
    newer = replace(next(sheet for sheet in demo_sheets() if sheet.id == "marrow-six"), revision=2)
    floor.store.file.sheets[("marrow-six", 2)] = newer
    issue_job(floor.shop, floor.by("DESK"), 1, WHOLE)
    pins: tuple[SheetPin, ...] = floor.order().cards[0].sheets
    assert [pin.revision for pin in pins] == [2, 1, 1]
