"""Two windows on one card, a card that is handed in, and what is taken over from the card before."""

from typing import Any, cast

import pytest
from pytestqt.qtbot import QtBot

from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.demo.working import work_card
from desktop.usecases.shop.cards.issue_job import NewJob, issue_job
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.viewmodels.card.same_way import is_empty
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.viewmodels.pieces.fields import Field
from tests.journeys.job_floor import DESK, HANDS, INSPECTOR, SECOND, JobFloor, plan_of
from tests.windows.card.mechanic import COUPLED, T4, issued


class Window:
    """One window on a card, and everything that it says."""

    def __init__(self, floor: JobFloor, person: str, card: int = 1) -> None:
        ids = iter(f"{person}-{card}-{number}" for number in range(1000))
        self.session = OrderSession(cast("Any", floor.shop), person, (1, card), ids.__next__)
        self.said: list[str] = []
        self.changed: list[str] = []
        self.session.refused.connect(self.said.append)
        self.session.changed_elsewhere.connect(self.changed.extend)

    def field(self, path: str) -> Field:
        """Return the first field of a path."""
        fields = (one for place in self.session.places for group in place.groups for one in group.fields)
        return next(one for one in fields if one.path == path)

    def card(self) -> OrderCard:
        """Return the card as the window sees it."""
        return self.session.card


@pytest.fixture
def floor() -> JobFloor:
    floor = issued()
    work_card(floor.crew, 1, 1, plan_of(COUPLED), stop_before="light-on")
    return floor


def test_that_nobody_takes_the_place_of_initials_that_stand_there_already(floor: JobFloor, qtbot: QtBot) -> None:
    first, second = Window(floor, HANDS), Window(floor, SECOND)
    step = second.field("@step.light-on")
    second.session.began(step)
    first.session.commit(first.field("@step.light-on"), True)
    second.session.commit(step, True)
    done = floor.crew.card(1, 1).done("light-on")
    assert done is not None
    assert done.by.person == HANDS
    assert floor.crew.card(1, 1).earlier == ()
    assert second.said == ["Tom Rill (TR), in another window, initialled this step before you. It stands as it is."]
    assert any("is confirmed" in words for words in second.changed)


def test_that_a_step_that_another_window_took_back_is_not_taken_back_twice(floor: JobFloor, qtbot: QtBot) -> None:
    first, second = Window(floor, HANDS), Window(floor, SECOND)
    step = first.field("@step.switch-off")
    second.session.began(step)
    first.session.commit(step, False)
    second.session.commit(step, False)
    assert second.said == ["Another window took this back before you. It stands as it is."]
    assert len(floor.crew.card(1, 1).earlier) == 1


def test_that_what_another_window_changed_stays_said_beside_the_field_that_is_kept(
    floor: JobFloor, qtbot: QtBot
) -> None:
    first, second = Window(floor, HANDS), Window(floor, SECOND)
    told: list[str] = []
    second.session.told.connect(lambda words: told.append(words or "hide"))
    second.session.changed_elsewhere.connect(lambda _: told.append("changed"))
    first.session.commit(first.field("@step.light-on"), True)
    second.session.commit(second.field("@step.off-proved-first"), True)
    assert told == ["hide", "changed"]


def test_that_the_one_who_may_not_submit_reads_whose_card_it_is(floor: JobFloor, qtbot: QtBot) -> None:
    other = Window(floor, SECOND)
    lines = other.session.last_lines()
    assert any(
        line.startswith("This card was given to Tom Rill (TR), and none of its work is yours.") for line in lines
    )
    assert not any("given to" in line for line in Window(floor, HANDS).session.last_lines())
    assert any("It takes the right of mechanic" in line for line in Window(floor, INSPECTOR).session.last_lines())
    assert Window(floor, HANDS).session.head_words() == "Card in work"


def test_that_a_card_that_ended_offers_nothing_to_submit(floor: JobFloor, qtbot: QtBot) -> None:
    work_card(floor.crew, 1, 1, plan_of(COUPLED))
    floor.submits(1)
    window = Window(floor, HANDS)
    assert window.session.last_act() == "Return to the mechanic"
    order = floor.crew.order(1)
    for ending in (OrderState.VOID, OrderState.APPROVED, OrderState.NOT_APPROVED):
        window.session.order = _ended(order, ending)
        assert window.session.last_act() == ""
        assert window.session.last_lines() == (f"The card is {ending}. Nothing more is written on it.",)
        assert not window.session.act()
        assert not window.session.is_writable(window.field("@step.light-on"))
        place = window.session.places_now(window.session.state)[-1]
        assert (place.title, place.groups) == ("How the card stands", ())


def _ended(order: Any, ending: OrderState) -> Any:  # noqa: ANN401 - an order as it would be shown
    ended = object.__new__(type(order))
    for name in type(order).__slots__:
        object.__setattr__(ended, name, ending if name == "ending" else getattr(order, name))
    return ended


def test_that_the_way_of_measuring_is_taken_from_the_newest_card_of_the_engine_and_marked(
    floor: JobFloor, qtbot: QtBot
) -> None:
    sheets = (("engine", COUPLED.engine.id), *zip(("left", "right"), COUPLED.magnetos, strict=True))
    issue_job(floor.shop, floor.by(DESK), 1, NewJob((T4,), "", sheets, is_current=True, mechanic=HANDS))
    window = Window(floor, HANDS, 2)
    place = next(one for one in window.session.places if one.id == "measure")
    assert "Card T4 of W-0001: timing disc, 0 to 360, rises with rotation" in place.more
    tick = window.field("@same.measure")
    first = window.session.next_open(None)
    assert first is not None
    assert first.field == tick
    window.session.commit(tick, True)
    measure, before = window.card().readings.measure, floor.crew.card(1, 1).readings.measure
    assert measure is not None
    assert before is not None
    assert (measure.by, measure.marking, measure.counts) == (before.by, before.marking, before.counts)
    assert (measure.on, measure.zeroed, measure.read_to) == (before.on, before.zeroed, before.read_to)
    place = next(one for one in window.session.places if one.id == "measure")
    assert place.more == "Taken from card T4 of W-0001. See that it is so."
    assert window.session.value(tick) is True
    window.session.commit(tick, False)
    assert is_empty(window.card().readings.measure)
    window.session.commit(window.field("measure.by"), "marks")
    assert "@same.measure" not in [
        one.path for place in window.session.places for group in place.groups for one in group.fields
    ]


def test_that_a_step_left_out_asks_for_no_readings(floor: JobFloor, qtbot: QtBot) -> None:
    work_card(floor.crew, 1, 1, plan_of(COUPLED), stop_before="as-found-left")
    window = Window(floor, HANDS)
    began = window.field("left.approach[1].from")
    assert window.session.is_open(began)
    window.session.commit(window.field("@left-out.as-found-left"), "It could not be read; the lead was broken.")
    assert not window.session.is_open(began)


def test_that_a_torque_that_was_begun_is_needed_whole(floor: JobFloor, qtbot: QtBot) -> None:
    take_reading(floor.shop, floor.by(HANDS), 1, 1, ("torque[1].wrench", None))
    window = Window(floor, HANDS)
    assert window.session.is_open(window.field("torque[1].wrench"))
    assert not window.session.is_open(window.field("torque[2].wrench"))
