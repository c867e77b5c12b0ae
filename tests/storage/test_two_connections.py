"""Two windows with a connection each on one shop file, against a dictionary of what was acknowledged.

60 runs of 20 steps by default; ``SPARKWRIGHT_EXAMPLES=2000 python -m pytest tests/storage/test_two_connections.py``
takes 2,000.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test

from desktop.core.errors import ChangedElsewhere, NotReady, Refusal
from desktop.core.shop.orders.order_line import line_of
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.timing.typed_paths import value_at
from desktop.usecases.shop import change
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.submit_card import return_card, submit_card
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.orders.void_order import void_order
from desktop.usecases.shop.ports import Answer, Request, Shop
from tests.storage.file_floor import FileFloor, copied, opened
from tests.usecases.shop.shop_floor import NEW, SOUND, TIMING

EXAMPLES = int(os.environ.get("SPARKWRIGHT_EXAMPLES", "60"))
MOST_ORDERS = 3
# Fields whose values may differ without stopping the card.
PATHS = {"run_up.both_rpm": ("1700", "1705", "1710"), "run_up.left_rpm": ("1620", "1625", "1630")}
SOUND_VALUES = {path: str(value_at(SOUND, path)) for path in PATHS}
WINDOWS = st.sampled_from(["one", "two"])
# Most of the work is on one order: two windows meet there.
NUMBERS = st.sampled_from([1, 1, 1, 2, 3])
Deed = Callable[[Shop], Answer]


@dataclass
class Told:
    """What was acknowledged about an order: version, state, values, minutes, and whether its steps have initials."""

    version: int
    state: OrderState
    ready: bool
    values: dict[str, str] = field(default_factory=lambda: dict(SOUND_VALUES))
    minutes: int = 0


@dataclass
class Window:
    """A window: its connection, and of each order the version that it saw and the values that it showed then."""

    floor: FileFloor
    seen: dict[int, int] = field(default_factory=dict)
    shown: dict[int, dict[str, str]] = field(default_factory=dict)


class TwoConnections(RuleBasedStateMachine):
    """Each step is one verb through one of the connections; the file must then hold what was acknowledged."""

    ready_file: Path

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.place = copied(self.ready_file, Path(self.folder.name))
        self.windows = {name: Window(FileFloor(opened(self.place))) for name in ("one", "two")}
        first = self.windows["one"].floor.order()
        self.told = {1: Told(first.version, OrderState.IN_WORK, ready=True)}
        for name in self.windows:
            self.look_at(name, 1)
        self.last: tuple[Deed, Answer] | None = None

    def teardown(self) -> None:
        for window in self.windows.values():
            window.floor.file.close()
        self.folder.cleanup()

    def do(self, window: str, number: int, person: str, deed: Callable[[Shop, Request], Answer]) -> Answer | None:
        """Ask for a change of an order as the window saw it; None when it is refused."""
        here = self.windows[window]
        request = Request(here.floor.new(person).request_id, person, here.seen.get(number, 0))
        told = self.told[number]
        try:
            answer = deed(here.floor.shop, request)
        except ChangedElsewhere as refused:
            seen_is_old = request.seen_version < told.version == refused.version
            assert seen_is_old, "a view was refused that was not old"
            return None
        except Refusal:
            return None
        self.last = (lambda shop: deed(shop, request)), answer
        told.version = answer.version
        here.seen[number] = answer.version
        return answer

    @rule(window=WINDOWS, number=NUMBERS)
    def look(self, window: str, number: int) -> None:
        if number in self.told:
            self.look_at(window, number)

    def look_at(self, window: str, number: int) -> None:
        self.windows[window].seen[number] = self.told[number].version
        self.windows[window].shown[number] = dict(self.told[number].values)

    @precondition(lambda self: len(self.told) < MOST_ORDERS)
    @rule(window=WINDOWS)
    def open(self, window: str) -> None:
        here = self.windows[window]
        answer = open_order(here.floor.shop, here.floor.new("DESK"), NEW)
        number = answer.number
        assert number == len(self.told) + 1, "an order number was left out or given twice"
        issue = issue_card(here.floor.shop, here.floor.by("DESK", number), number, NewCard(TIMING, SOUND, "MECH"))
        self.told[number] = Told(issue.version, OrderState.ISSUED, ready=False)
        self.look_at(window, number)

    @rule(window=WINDOWS, number=NUMBERS, path=st.sampled_from([*PATHS]), choice=st.integers(0, 1))
    def type_over_what_is_shown(self, window: str, number: int, path: str, choice: int) -> None:
        told, shown = self.told.get(number), self.windows[window].shown.get(number)
        if told is None or shown is None:
            return
        # A person types because the field shows something else.
        value = [one for one in PATHS[path] if one != shown[path]][choice]
        if self.do(window, number, "MECH", lambda shop, by: take_reading(shop, by, number, 1, (path, value))):
            assert told.values[path] == shown[path], "an update of the other window was lost"
            assert told.state in (OrderState.ISSUED, OrderState.IN_WORK)
            told.state = OrderState.IN_WORK
            told.values[path] = shown[path] = value

    @rule(
        windows=st.permutations(["one", "two"]),
        path=st.sampled_from([*PATHS]),
        choices=st.tuples(*[st.integers(0, 1)] * 2),
    )
    def both_type_into_one_field(self, windows: list[str], path: str, choices: tuple[int, int]) -> None:
        for window, choice in zip(windows, choices, strict=True):
            self.type_over_what_is_shown(window, 1, path, choice)

    @rule(window=WINDOWS, number=NUMBERS, minutes=st.integers(1, 90))
    def book(self, window: str, number: int, minutes: int) -> None:
        told = self.told.get(number)
        if told and self.do(window, number, "MECH", lambda shop, by: book_time(shop, by, number, "MECH", minutes, "")):
            told.minutes += minutes

    @rule(window=WINDOWS, number=NUMBERS)
    def submit(self, window: str, number: int) -> None:
        told = self.told.get(number)
        if told and self.do(window, number, "MECH", lambda shop, by: submit_card(shop, by, number, 1)):
            assert told.state is OrderState.IN_WORK
            assert told.ready
            told.state = OrderState.FOR_INSPECTION

    @precondition(lambda self: any(told.state is OrderState.FOR_INSPECTION for told in self.told.values()))
    @rule(window=WINDOWS, looks=st.sampled_from([True, True, False]))
    def return_it(self, window: str, looks: bool) -> None:
        number = next(number for number, told in self.told.items() if told.state is OrderState.FOR_INSPECTION)
        told = self.told[number]
        if looks:
            self.look_at(window, number)
        if self.do(window, number, "INSP", lambda shop, by: return_card(shop, by, number, 1, "look again")):
            assert told.state is OrderState.FOR_INSPECTION
            told.state = OrderState.IN_WORK

    @precondition(lambda self: len(self.told) > 1)
    @rule(window=WINDOWS, number=st.integers(2, MOST_ORDERS))
    def void(self, window: str, number: int) -> None:
        told = self.told.get(number)
        if told and self.do(window, number, "DESK", lambda shop, by: void_order(shop, by, number, "sold")):
            told.state = OrderState.VOID

    @rule(window=WINDOWS)
    def ask_again(self, window: str) -> None:
        if self.last:
            deed, answer = self.last
            assert deed(self.windows[window].floor.shop) == answer

    @rule(window=WINDOWS)
    def reopen(self, window: str) -> None:
        here = self.windows[window]
        here.floor.file.close()
        here.floor = FileFloor(opened(self.place))

    @invariant()
    def agrees_with_the_dictionary(self) -> None:
        one, two = (self.windows[name].floor.file for name in ("one", "two"))
        assert one.orders() == two.orders()
        assert [line.number for line in one.orders()] == sorted(self.told, reverse=True)
        assert one.change_count() == sum(told.version for told in self.told.values())
        for number, told in self.told.items():
            order = two.order(number)
            assert order is not None
            assert (order.version, order.state) == (told.version, told.state)
            assert sum(booked.minutes for booked in order.time) == told.minutes
            assert {path: value_at(order.cards[0].readings, path) for path in PATHS} == told.values
            assert one.orders(before=number + 1, limit=1) == (line_of(order),)
            assert [line.number for line in two.orders([str(number)], told.state)].count(number) == 1
            assert [change.version for change in one.changes_since(number, 0)] == list(range(1, told.version + 1))


QUICK = settings(
    max_examples=EXAMPLES,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@pytest.fixture
def machine(ready_file: Path) -> type[TwoConnections]:
    return type("OnTheFile", (TwoConnections,), {"ready_file": ready_file})


def test_that_no_update_is_lost_between_two_connections(machine: type[TwoConnections]) -> None:
    run_state_machine_as_test(machine, settings=QUICK)


def test_that_without_the_check_of_the_version_an_update_is_lost(
    machine: type[TwoConnections], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(change, "refuse_old_view", lambda _work, _order, _seen: None)
    once = settings(QUICK, phases=[Phase.generate])
    with pytest.raises(AssertionError, match="an update of the other window was lost"):
        run_state_machine_as_test(machine, settings=once)


def test_that_a_card_that_is_not_ready_is_refused_and_one_that_is_goes_there_and_back(place: Path) -> None:
    # The machine above relies on it: submitting is refused for missing initials, not for something else.
    with opened(place) as file:
        floor = FileFloor(file)
        submit_card(floor.shop, floor.by("MECH"), 1, 1)
        return_card(floor.shop, floor.by("INSP"), 1, 1, "look again")
        open_order(floor.shop, floor.new("DESK"), NEW)
        issue_card(floor.shop, floor.by("DESK", 2), 2, NewCard(TIMING, SOUND, "MECH"))
        take_reading(floor.shop, floor.by("MECH", 2), 2, 1, ("run_up.both_rpm", "1705"))
        with pytest.raises(NotReady):
            submit_card(floor.shop, floor.by("MECH", 2), 2, 1)
