"""Two windows on one shop: no update is lost, and a request that is repeated does nothing twice."""

from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.intake import Intake
from desktop.core.shop.aircraft.parts import Part, Way
from desktop.core.shop.orders.discrepancies import Outcome
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedMagneto
from desktop.core.timing.typed_paths import value_at
from desktop.usecases.fill_card import empty_card
from desktop.usecases.shop import change
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.cards.confirm_step import confirm_step, take_back_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.cards.take_reading import put_magneto, take_reading
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.orders.record_directive import record_directive, record_search
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.orders.take_in import take_in
from desktop.usecases.shop.orders.void_order import void_order
from desktop.usecases.shop.ports import Answer, Request
from tests.usecases.shop.shop_floor import NEW, SOUND, TIMING, Floor

LIGHT = "left.approach[1].light"
Verb = Callable[[Floor, Request], Answer]
VERBS: dict[str, tuple[str, Verb]] = {
    "take in": ("DESK", lambda floor, by: take_in(floor.shop, by, 1, Intake(complaint="rough"))),
    "issue": ("DESK", lambda floor, by: issue_card(floor.shop, by, 1, NewCard(TIMING, empty_card()))),
    "reading": ("MECH", lambda floor, by: take_reading(floor.shop, by, 1, 1, (LIGHT, "300"))),
    "magneto": ("MECH", lambda floor, by: put_magneto(floor.shop, by, 1, 1, Side.RIGHT, TypedMagneto())),
    "step": ("MECH", lambda floor, by: confirm_step(floor.shop, by, 1, 1, "disc-fit")),
    "step back": ("MECH", lambda floor, by: take_back_step(floor.shop, by, 1, 1, "switch-off")),
    "remark": ("MECH", lambda floor, by: write_remark(floor.shop, by, 1, 1, "late")),
    "board": ("MECH", lambda floor, by: set_safe_state(floor.shop, by, 1, SafeItem.PLUGS, is_normal=False)),
    "time": ("MECH", lambda floor, by: book_time(floor.shop, by, 1, "MECH", 5, "")),
    "part": ("MECH", lambda floor, by: add_part(floor.shop, by, 1, Part(Way.OFF, "K-500"))),
    "found": ("MECH", lambda floor, by: add_discrepancy(floor.shop, by, 1, "crack")),
    "settled": ("MECH", lambda floor, by: settle_discrepancy(floor.shop, by, 1, 1, Outcome.DEFERRED, "later")),
    "search": ("DESK", lambda floor, by: record_search(floor.shop, by, 1, "a list", (Subject.ENGINE,))),
    "directive": (
        "DESK",
        lambda floor, by: record_directive(floor.shop, by, 1, Directive("D-1", date(2031, 3, 4), "inspected")),
    ),
    "submit": ("MECH", lambda floor, by: submit_card(floor.shop, by, 1, 1)),
    "return": ("INSP", lambda floor, by: return_card(floor.shop, by, 1, 2, "overrun")),
    "void": ("DESK", lambda floor, by: void_order(floor.shop, by, 1, "sold")),
}


def ready_floor() -> Floor:
    """Return a shop in which every verb can be done: card 1 ready to submit, card 2 submitted, one discrepancy."""
    floor = Floor().with_card(SOUND).with_initials().with_card(SOUND).with_initials(2)
    submit_card(floor.shop, floor.by("MECH"), 1, 2)
    add_discrepancy(floor.shop, floor.by("MECH"), 1, "oil")
    return floor


@pytest.mark.parametrize(("person", "verb"), VERBS.values(), ids=VERBS)
def test_that_a_repeated_request_does_nothing_twice_and_answers_the_same(person: str, verb: Verb) -> None:
    floor = ready_floor()
    request = floor.by(person)
    answer = verb(floor, request)
    after = floor.order()
    assert answer.version == after.version == request.seen_version + 1
    assert (answer.number, verb(floor, request)) == (1, answer)
    assert floor.order() == after
    write_again = floor.by("MECH")
    set_safe_state(floor.shop, write_again, 1, SafeItem.ROTOR_PIN, is_normal=False)
    assert verb(floor, request) == answer
    assert floor.order().version == after.version + 1


@pytest.mark.parametrize(("person", "verb"), VERBS.values(), ids=VERBS)
def test_that_every_verb_refuses_an_old_view_and_says_what_changed(person: str, verb: Verb) -> None:
    floor = ready_floor()
    request = floor.by(person)
    set_safe_state(floor.shop, floor.by("MECH"), 1, SafeItem.ROTOR_PIN, is_normal=False)
    before = floor.order()
    with pytest.raises(ChangedElsewhere) as refused:
        verb(floor, request)
    assert refused.value.changes == ("safe-state board: rotor pin is in",)
    assert floor.order() == before


def test_that_a_repeated_opening_makes_one_order() -> None:
    floor = Floor()
    request = floor.new("DESK")
    answers = {open_order(floor.shop, request, NEW) for _ in range(3)}
    assert len(answers) == len(look_up(floor.store)) == 1


def test_that_a_request_that_was_refused_can_be_made_again() -> None:
    floor = ready_floor()
    request = floor.by("MECH")
    with pytest.raises(Refusal):
        write_remark(floor.shop, request, 1, 1, "")
    assert write_remark(floor.shop, request, 1, 1, "late").version == request.seen_version + 1


class TwoWindows(RuleBasedStateMachine):
    """Two windows on one order, each with the version it saw last, against a dictionary of what was acknowledged."""

    WINDOWS = st.sampled_from(["one", "two"])
    PATHS = st.sampled_from(["limits.left_btdc", "limits.right_btdc", LIGHT])

    def __init__(self) -> None:
        super().__init__()
        self.floor = Floor().with_card(empty_card())
        self.seen = dict.fromkeys(("one", "two"), 2)
        self.shown: dict[str, dict[str, str]] = {"one": {}, "two": {}}
        self.told: dict[str, str] = {}
        self.is_void = False
        self.minutes = 0
        self.ids = 0
        self.last: tuple[Request, int] | None = None

    def request(self, window: str, person: str = "MECH") -> Request:
        self.ids += 1
        return Request(f"w{self.ids}", person, self.seen[window])

    @rule(window=WINDOWS)
    def look(self, window: str) -> None:
        order = self.floor.order()
        self.seen[window] = order.version
        self.shown[window] = dict(self.told)

    @rule(window=WINDOWS, path=PATHS, value=st.sampled_from(["20", "21", "x"]))
    def type_over_what_is_shown(self, window: str, path: str, value: str) -> None:
        # The person types only because the field shows something else: what they overwrite is what they saw.
        was = self.shown[window].get(path)
        try:
            answer = take_reading(self.floor.shop, self.request(window), 1, 1, (path, value))
        except ChangedElsewhere:
            assert self.seen[window] < self.floor.order().version
            return
        except Refusal:
            assert self.is_void
            return
        assert self.told.get(path) == was, "an update of the other window was lost"
        self.told[path] = value
        self.seen[window] = answer.version
        self.shown[window][path] = value

    @rule(window=WINDOWS, minutes=st.integers(1, 90), again=st.booleans())
    def book(self, window: str, minutes: int, again: bool) -> None:
        request = self.request(window)
        try:
            answer = book_time(self.floor.shop, request, 1, "MECH", minutes, "")
            assert not again or book_time(self.floor.shop, request, 1, "MECH", minutes, "") == answer
        except Refusal:
            return
        self.seen[window] = answer.version
        self.minutes += minutes

    @rule(window=WINDOWS)
    def void(self, window: str) -> None:
        if len(self.told) < 2:
            return
        try:
            self.seen[window] = void_order(self.floor.shop, self.request(window, "DESK"), 1, "sold").version
            self.is_void = True
        except (ChangedElsewhere, NotReady):
            pass

    @invariant()
    def agrees_with_the_dictionary(self) -> None:
        order = self.floor.order()
        card = order.card(1)
        assert card is not None
        assert {path: value_at(card.readings, path) for path in self.told} == self.told
        assert sum(one.minutes for one in order.time) == self.minutes
        assert (order.state is OrderState.VOID) is self.is_void
        assert [one.version for one in self.floor.store.changes_since(1, 0)] == list(range(1, order.version + 1))


STEPS = settings(max_examples=100, stateful_step_count=20, deadline=None)
TestTwoWindows = TwoWindows.TestCase
TestTwoWindows.settings = STEPS


def test_that_without_the_check_of_the_version_an_update_is_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(change, "refuse_old_view", lambda _work, _order, _seen: None)
    with pytest.raises(AssertionError, match="an update of the other window was lost"):
        run_state_machine_as_test(TwoWindows, settings=STEPS)
