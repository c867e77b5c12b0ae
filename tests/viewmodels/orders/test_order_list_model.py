"""The list of orders: read page by page, found by words, by state, and kept up with the shop."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

import pytest
from PySide6.QtCore import QModelIndex, Qt
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order_line import OrderLine, find_text, order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.orders.open_order import open_order
from desktop.viewmodels.orders.listed import Listed
from desktop.viewmodels.orders.order_list_model import OrderListModel
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.order_words import RINGS, day_words
from tests.usecases.shop.fake_store import FakeStore, FakeWork
from tests.usecases.shop.shop_floor import Floor
from tests.viewmodels.shop_orders import desk_at, new_order, shop_with


@pytest.fixture(scope="module")
def thousand() -> Floor:
    return shop_with(1000)


def _cells(model: OrderListModel, row: int) -> list[object]:
    return [model.index(row, column).data() for column in range(model.columnCount())]


def _numbers(model: OrderListModel) -> list[int]:
    return [model.line(row).number for row in range(model.rowCount())]


def test_that_the_model_keeps_its_promises_to_views(thousand: Floor, qtmodeltester: ModelTester) -> None:
    model = OrderListModel(thousand.store)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays and watches
    model.show_orders("", Listed.EVERY)
    model.show_orders("x-a0", OrderState.OPEN)
    model.show_orders("", Listed.EVERY)
    while model.canFetchMore(QModelIndex()):
        model.fetchMore(QModelIndex())
    model.refresh()
    assert model.rowCount() == 1000


def test_that_a_thousand_orders_come_page_by_page_without_gaps(thousand: Floor) -> None:
    model = OrderListModel(thousand.store)
    model.show_orders("", Listed.EVERY)
    assert model.rowCount() == 50
    pages = 0
    while model.canFetchMore(QModelIndex()):
        model.fetchMore(QModelIndex())
        pages += 1
    assert _numbers(model) == list(range(1000, 0, -1))
    assert pages == 20
    model.fetchMore(QModelIndex())
    assert model.rowCount() == 1000


def test_that_a_line_says_each_thing_in_its_column(thousand: Floor) -> None:
    model = OrderListModel(thousand.store)
    model.show_orders("X-A015", Listed.EVERY)
    assert _cells(model, 0) == [
        "W-0015",
        "not approved",
        "X-A015",
        "Trainer 2, left engine",
        "Hill School",
        "Time both magnetos",
        "16 Mar 2031",
    ]
    named = model.index(0, 4).data(Qt.ItemDataRole.AccessibleTextRole)
    assert named == "Customer: Hill School"
    assert [model.headerData(column, Qt.Orientation.Horizontal) for column in range(model.columnCount())] == [
        "Order",
        "State",
        "Aircraft",
        "Type",
        "Customer",
        "Asked",
        "Promised",
    ]


def test_that_words_find_by_their_beginnings_and_the_state_narrows(thousand: Floor) -> None:
    model = OrderListModel(thousand.store)
    model.show_orders("cafe x-a04", Listed.EVERY)
    assert _numbers(model) == [46, 42]
    model.show_orders("cafe x-a04", OrderState.CLOSED)
    assert _numbers(model) == []
    model.show_orders("", OrderState.VOID)
    assert {model.line(row).state for row in range(model.rowCount())} == {OrderState.VOID}


@pytest.mark.parametrize("typed", ["W-0417", "w-417", "w-00417", "417"])
def test_that_an_order_is_found_by_the_name_that_the_list_shows(thousand: Floor, typed: str) -> None:
    model = OrderListModel(thousand.store)
    model.show_orders(typed, Listed.EVERY)
    assert 417 in _numbers(model)


def test_that_the_beginning_of_an_order_name_takes_no_order_away(thousand: Floor) -> None:
    assert [find_text(text) for text in ("w-", "W-00", "mill w-", "window W-", "x-w1")] == [
        "",
        "",
        "mill ",
        "window ",
        "x-w1",
    ]


def test_that_a_new_order_comes_on_top_and_what_was_read_stays(thousand: Floor) -> None:
    floor = shop_with(60)
    model = OrderListModel(floor.store)
    model.show_orders("", Listed.EVERY)
    model.fetchMore(QModelIndex())
    assert model.rowCount() == 60
    open_order(floor.shop, floor.new("DESK"), new_order(61))
    model.refresh()
    assert _numbers(model)[:2] == [61, 60]
    assert model.rowCount() == 60
    model.fetchMore(QModelIndex())
    assert _numbers(model) == list(range(61, 0, -1))


def test_that_a_change_within_a_line_changes_that_line_only(qtbot: QtBot) -> None:
    floor = shop_with(5)
    model = OrderListModel(floor.store)
    model.show_orders("", Listed.EVERY)
    changed: list[tuple[int, int]] = []
    model.dataChanged.connect(lambda first, last: changed.append((first.row(), last.row())))
    with qtbot.assertNotEmitted(model.modelReset):
        book_time(floor.shop, floor.by("MECH", 2), 2, "MECH", 30, "timing")
        model.refresh()
    assert changed == [(3, 3)]
    assert model.line(3).version == 2


def test_that_a_desk_looks_again_only_when_something_was_written(qtbot: QtBot) -> None:
    floor = shop_with(3)
    desk = desk_at(floor)
    desk.choose(Listed.EVERY)
    desk.look_for_changes()
    with qtbot.assertNotEmitted(desk.orders_changed):
        desk.look_for_changes()
    other = desk_at(floor)
    with qtbot.waitSignal(other.order_opened) as opened:
        other.open_order(new_order(4))
    assert opened.args is not None
    assert opened.args[0].number == 4
    with qtbot.waitSignal(desk.orders_changed):
        desk.look_for_changes()
    assert _numbers(desk.orders) == [4, 3, 2, 1]


def test_that_a_person_without_the_right_is_refused_in_a_sentence(qtbot: QtBot) -> None:
    floor = shop_with(0)
    desk = desk_at(floor, "INSP")
    with qtbot.waitSignal(desk.refused) as refused:
        assert desk.open_order(new_order(1)) is None
    assert refused.args == ["Ines Spohr may not do this: open a work order. It takes the right of front desk."]
    assert floor.store.change_count() == 0


class BrokenStore(FakeStore):
    """A store that breaks where it is told to: before anything is written, or after."""

    def __init__(self) -> None:
        super().__init__()
        self.breaks_when_read = False
        self.breaks_after_writing = False

    @contextmanager
    def changing(self) -> Iterator[FakeWork]:
        with super().changing() as work:
            yield work
        if self.breaks_after_writing:
            raise Refusal("It is not known whether this was written. Do it again.")

    def change_count(self) -> int:
        if self.breaks_when_read:
            raise Refusal("The shop file does not answer. Look whether its disk is there.")
        return super().change_count()

    def orders(
        self, find: Sequence[str] = (), state: OrderState | None = None, limit: int = 50, before: int | None = None
    ) -> tuple[OrderLine, ...]:
        if self.breaks_when_read:
            raise Refusal("The shop file does not answer. Look whether its disk is there.")
        return super().orders(find, state, limit, before)


def _desk_at_broken() -> tuple[BrokenStore, Floor]:
    floor, store = shop_with(2), BrokenStore()
    store.file = floor.store.file
    floor.shop = replace(floor.shop, store=store)
    return store, floor


def test_that_an_order_asked_for_again_after_a_trouble_is_opened_once(qtbot: QtBot) -> None:
    store, floor = _desk_at_broken()
    desk = desk_at(floor)
    store.breaks_after_writing = True
    with qtbot.waitSignal(desk.refused):
        desk.open_order(new_order(3))
    store.breaks_after_writing = False
    answer = desk.open_order(new_order(3))
    assert answer is not None
    assert (answer.number, len(store.file.orders)) == (3, 3)
    again = desk.open_order(new_order(3))
    assert again is not None
    assert again.number == 4


def test_that_a_store_that_does_not_answer_is_said_once_and_the_lines_stay(qtbot: QtBot) -> None:
    store, floor = _desk_at_broken()
    desk = desk_at(floor)
    desk.look_for_changes()
    said: list[str] = []
    desk.refused.connect(said.append)
    store.breaks_when_read = True
    desk.look_for_changes()
    desk.look_for_changes()
    assert said == ["The shop file does not answer. Look whether its disk is there."]
    desk.search("mill")
    desk.choose(OrderState.OPEN)
    assert len(said) == 3
    assert _numbers(desk.orders) == [2, 1]
    store.breaks_when_read = False
    desk.look_for_changes()
    store.breaks_when_read = True
    desk.look_for_changes()
    assert len(said) == 4


def test_that_every_state_has_a_ring_and_only_good_ends_are_closed() -> None:
    assert set(RINGS) == set(OrderState)
    assert {state for state, ring in RINGS.items() if ring is Progress.DONE} == {
        OrderState.APPROVED,
        OrderState.CLOSED,
    }
    assert (order_name(7), order_name(12345), day_words(None)) == ("W-0007", "W-12345", "")
