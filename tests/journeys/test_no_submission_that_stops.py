"""The law of submissions: no sequence of moves reaches one with a finding that stops, or one that nobody explained."""

from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.timing.typed_paths import value_at
from desktop.demo.answers import words_for
from desktop.demo.working import work_card
from desktop.usecases.records.signing import acts
from desktop.usecases.shop.cards import submit_card as submitting
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from tests.journeys.job_floor import HANDS, SECOND, VARIANTS, JobFloor, plan_of
from tests.usecases.shop.fake_store import FakeWork

VARIANT = VARIANTS["opposed, impulse coupling, full disc"]
PLAN = plan_of(VARIANT)
CARDS = {"T4": 3, "P1": 5, "R2": 8}
"""The cards that the moves are about: timing, readings of steps, a run-up; by their places in the job."""
PATHS = (
    "stop[1].with",
    "stop[2].against",
    "left.approach[3].light",
    "left.approach[3].from",
    "right.approach[2].light",
    "right.approach[3].from",
    "right.approach[3].back",
    "left.approach[3].click_passed",
    "run_up.left_rpm",
    "torque[1].wrench",
    "left.seen_from",
    "measure.read_to",
)
VALUES = ("337", "336.5", "320", "300", "12", "1640", "1700", "back", "8", "0.5", "", "lost")
REASONS = ("", "n/a", "Not fitted on this aircraft at all.")
RUNS = settings(
    max_examples=300,
    deadline=None,
    database=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)

some_step = st.integers(0, 60)
Move = tuple[object, ...]
MOVES = st.one_of(
    st.tuples(
        st.just("confirm"), some_step, st.sampled_from(("right", "", "0.5", "999")), st.sampled_from((HANDS, SECOND))
    ),
    st.tuples(st.just("take back"), some_step),
    st.tuples(st.just("skip"), some_step, st.sampled_from(REASONS)),
    st.tuples(st.just("put right"), some_step),
    st.tuples(st.just("read"), st.sampled_from(PATHS), st.sampled_from(VALUES)),
    st.tuples(st.just("read as before"), st.sampled_from(PATHS)),
    st.tuples(st.just("remark"), st.sampled_from(REASONS)),
    st.tuples(st.just("explain"), st.sampled_from(REASONS)),
    st.tuples(st.just("tools"), st.sampled_from(((), ("L-1",), ("W-3",), ("W-9", "L-1"), ("X-1",)))),
    st.tuples(st.just("board"), st.sampled_from(tuple(SafeItem)), st.booleans()),
    st.tuples(st.just("submit")),
)


@cache
def worked_job() -> FakeWork:
    """Return a shop whose job is worked to its last step, with nothing submitted."""
    floor = JobFloor()
    floor.takes_in(VARIANT)
    floor.issues(VARIANT, "periodic-timing")
    for card in floor.crew.order(1).cards:
        work_card(floor.crew, 1, card.number, PLAN)
    return floor.store.file


class Hands:
    """Somebody who does anything at all with one card; what is refused changes nothing."""

    def __init__(self, card: int) -> None:
        self.floor = JobFloor()
        self.floor.store.file = worked_job().copied()
        self.floor.crew.clock.go_on(600)
        self.floor.crew.ids._count = 100_000  # noqa: SLF001 - ids that the worked job did not have
        self.card = card
        self.begun = self.floor.crew.card(1, card).readings
        self.submitted = self.refused = 0

    def do(self, move: Move) -> None:
        """Make a move, and look at the card whenever it was submitted."""
        verbs: dict[object, Callable[..., None]] = {
            "confirm": self.confirm,
            "take back": self.take_back,
            "skip": self.skip,
            "put right": lambda step: self.confirm(step, "right", HANDS),
            "read": self.read,
            "read as before": lambda path: self.read(path, value_at(self.begun, path)),
            "remark": lambda text: self.remark(text, ""),
            "explain": self.explain,
            "tools": self.tools,
            "board": self.board,
            "submit": self.submit,
        }
        try:
            verbs[move[0]](*move[1:])
        except (Refusal, KeyError):
            self.refused += move[0] == "submit"

    def confirm(self, number: int, text: str, person: str) -> None:
        step = self.step(number)
        look = self.floor.crew.look(1, self.card)
        allowed = look.seen.sheets.limit_for(step.limit, step.side)
        right = words_for(step, PLAN, allowed, "337")
        who = SECOND if step.second and text == "right" else person
        tools = PLAN.tools if step.capture == "tool" else ()
        text = right if text == "right" else text
        confirm_step(self.floor.shop, self.floor.by(who), 1, self.card, step.id, text=text, tools=tools)

    def take_back(self, number: int) -> None:
        take_back_step(self.floor.shop, self.floor.by(HANDS), 1, self.card, self.step(number).id)

    def skip(self, number: int, reason: str) -> None:
        step = self.step(number).id
        confirm_step(self.floor.shop, self.floor.by(HANDS), 1, self.card, step, text=reason, skipped=True)

    def read(self, path: str, value: str | bool | None) -> None:
        take_reading(self.floor.shop, self.floor.by(HANDS), 1, self.card, (path, value), tool="L-1")

    def remark(self, text: str, about: str) -> None:
        write_remark(self.floor.shop, self.floor.by(HANDS), 1, self.card, text, about=about)

    def explain(self, text: str) -> None:
        for finding in self.floor.crew.look(1, self.card).unexplained:
            self.remark(text, finding_key(finding.rule, finding.where))

    def tools(self, tools: tuple[str, ...]) -> None:
        for step in self.floor.crew.look(1, self.card).steps:
            if step.capture == "tool":
                confirm_step(self.floor.shop, self.floor.by(HANDS), 1, self.card, step.id, tools=tools)

    def board(self, item: SafeItem, is_normal: bool) -> None:
        set_safe_state(self.floor.shop, self.floor.by(HANDS), 1, item, is_normal=is_normal)

    def submit(self) -> None:
        self.floor.submits(self.card)
        self.submitted += 1
        look = self.floor.crew.look(1, self.card)
        assert look.card.state is OrderState.FOR_INSPECTION
        assert (look.faults, look.stopping, look.unexplained) == ((), (), ())
        self.floor.returns(self.card, "Look at it again, please.")

    def step(self, number: int) -> Step:
        steps = self.floor.crew.card(1, self.card).task.steps
        return steps[number % len(steps)]


def ran(card: int, moves: list[Move]) -> Hands:
    """Make the moves and submit at the end."""
    hands = Hands(card)
    for move in (*moves, ("submit",)):
        hands.do(move)
    return hands


def test_that_no_sequence_of_moves_reaches_a_submission_that_stops() -> None:
    submitted = refused = 0

    @RUNS
    @given(st.sampled_from(sorted(CARDS.values())), st.lists(MOVES, max_size=8))
    def law(card: int, moves: list[Move]) -> None:
        nonlocal submitted, refused
        hands = ran(card, moves)
        submitted += hands.submitted
        refused += hands.refused

    law()
    assert submitted > 50
    assert refused > 50


def test_that_the_law_fails_when_nothing_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(submitting, "what_stops", lambda _look: ())

    @settings(RUNS, phases=[Phase.generate])
    @given(st.sampled_from(sorted(CARDS.values())), st.lists(MOVES, max_size=8))
    def law(card: int, moves: list[Move]) -> None:
        ran(card, moves)

    with pytest.raises(AssertionError):
        law()


def test_that_signing_asks_the_same_question() -> None:
    assert vars(acts)["what_stops"] is vars(submitting)["what_stops"] is what_stops
