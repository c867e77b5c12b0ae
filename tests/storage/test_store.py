"""The store against the one in memory: the same answers; whole transactions; numbers without gaps."""

import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.core.errors import ChangedElsewhere, Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import search_words, words_of
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.stamp import Stamp
from desktop.storage.order_index import question
from desktop.storage.shop_store import ShopFile
from desktop.usecases.shop import ports
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.submit_card import submit_card
from desktop.usecases.shop.lists.keep_lists import keep_person, keep_tool
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.ports import Answer, Change
from tests.core.shop.some_orders import BY, EMPTY, NOW
from tests.files.shop_values import orders
from tests.storage.file_floor import FileFloor, made, opened, sql
from tests.usecases.shop.fake_store import FakeStore
from tests.usecases.shop.shop_floor import NEW, PEOPLE, SOUND, TOOLS
from tests.usecases.shop.test_two_windows import VERBS, Verb


def put(store: ports.ShopStore, order: WorkOrder) -> WorkOrder:
    """Keep an order as the next version of its number, or as a new one, and return it as it was kept."""
    with store.changing() as work:
        order = replace(order, version=store.version(order.number) + 1)
        work.put_order(order, Change(order.number, order.version, Stamp("AB", NOW), (f"version {order.version}",)))
    return order


@given(st.lists(st.tuples(orders(), st.booleans()), min_size=1, max_size=6), st.data())
@settings(max_examples=60)
def test_that_the_file_answers_as_the_store_in_memory_does(
    tmp_path_factory: pytest.TempPathFactory, drawn: list[tuple[WorkOrder, bool]], data: st.DataObject
) -> None:
    memory = FakeStore()
    with made(tmp_path_factory.mktemp("same") / "mill.shop") as file:
        last = 0
        for order, again in drawn:
            last += not (again and last)
            number = data.draw(st.integers(1, last)) if again else last
            put(memory, replace(order, number=number))
            kept = put(file, replace(order, number=number))
            assert file.order(number) == kept == memory.order(number)
        words = sorted({word for order in memory.file.orders.values() for word in search_words(order)})
        begins = st.sampled_from(words).flatmap(lambda word: st.integers(1, len(word)).map(lambda end: word[:end]))
        for _ in range(8):
            find = data.draw(st.lists(begins | st.sampled_from(["", "a-b", "MILL", '"', "or", "*"]), max_size=3))
            state = data.draw(st.none() | st.sampled_from(OrderState))
            before = data.draw(st.none() | st.integers(-1, last + 1) | st.just(10**30))
            limit = data.draw(st.sampled_from([1, 2, 50, 10**30]))
            assert file.orders(find, state, limit, before) == memory.orders(find, state, limit, before)
        for number in (-1, 0, *memory.file.orders, last + 1, 10**30):
            assert file.version(number) == memory.version(number)
            assert (file.order(number) is None) == (memory.order(number) is None)
            for version in (-(10**30), 0, 1, 10**30):
                assert file.changes_since(number, version) == memory.changes_since(number, version)
        assert file.change_count() == memory.change_count()
        for registration in {order.aircraft.registration for order in memory.file.orders.values()} | {"none"}:
            assert file.aircraft(registration) == memory.aircraft(registration)
        lines = file.orders()
        sql(file.place, "UPDATE order_line SET customer = 'x'", "UPDATE order_word SET words = 'x'")
        assert file.orders() != lines
        file.rebuild_index()
        assert file.orders() == lines == memory.orders()
        assert file.orders(words[:1]) == memory.orders(words[:1])
        sql(file.place, "INSERT INTO order_find (order_find, rank) VALUES ('integrity-check', 1)")
        assert file.faults() == ()


def test_that_the_lists_come_back_in_their_order(floor: FileFloor) -> None:
    assert floor.file.people() == tuple(sorted(PEOPLE, key=lambda one: one.id))
    assert floor.file.tools() == tuple(sorted(TOOLS, key=lambda one: one.id))
    keep_person(floor.shop, replace_seen(floor, 1), replace(PEOPLE[0], name="Dora Esk-Lund"))
    keep_tool(floor.shop, replace_seen(floor, 1), replace(TOOLS[0], name="lamp"))
    with opened(floor.file.place) as other:
        assert [one.name for one in other.people() if one.id == "DESK"] == ["Dora Esk-Lund"]
        assert other.tools()[0].name == "lamp"


def replace_seen(floor: FileFloor, version: int) -> ports.Request:
    return replace(floor.new("KEEP"), seen_version=version)


@pytest.mark.parametrize(("person", "verb"), VERBS.values(), ids=VERBS)
def test_that_a_request_twice_does_nothing_twice_even_after_reopening(
    floor: FileFloor, person: str, verb: Verb
) -> None:
    floor.with_card(SOUND).with_initials(2)
    submit_card(floor.shop, floor.by("MECH"), 1, 2)
    VERBS["found"][1](floor, floor.by("MECH"))
    request = floor.by(person)
    answer = verb(floor, request)
    after = floor.order()
    with opened(floor.file.place) as other:
        assert verb(FileFloor(other), request) == answer
        assert other.order(1) == after
        assert other.change_count() == floor.file.change_count() == after.version


def test_that_what_an_exception_leaves_behind_stands_nowhere(floor: FileFloor) -> None:
    before = (floor.order(), floor.file.orders(), floor.file.change_count(), floor.file.people())
    request = floor.new("DESK")
    with pytest.raises(ZeroDivisionError), floor.file.changing() as work:  # noqa: PT012 - what it leaves behind
        work.put_order(replace(EMPTY, number=work.next_order_number()), Change(2, 1, BY, ("opened",)))
        work.put_person(replace(PEOPLE[0], name="nobody"))
        work.done(request.request_id, Answer("open", "2", 1))
        assert floor.file.order(2) is not None
        _ = 1 / 0
    assert (floor.order(), floor.file.orders(), floor.file.change_count(), floor.file.people()) == before
    assert open_order(floor.shop, request, NEW).number == 2


def test_that_numbers_have_no_gaps_whatever_is_rolled_back(floor: FileFloor) -> None:
    for turn in range(12):
        if turn % 3 == 0:
            with pytest.raises(Refusal):
                open_order(floor.shop, floor.new("MECH"), NEW)
        elif turn % 3 == 1:
            with pytest.raises(KeyboardInterrupt), floor.file.changing() as work:  # noqa: PT012 - the same
                number = work.next_order_number()
                work.put_order(replace(EMPTY, number=number), Change(number, 1, BY, ()))
                raise KeyboardInterrupt
        else:
            open_order(floor.shop, floor.new("DESK"), NEW)
    assert [line.number for line in floor.file.orders()] == [5, 4, 3, 2, 1]


@pytest.mark.parametrize(("number", "version"), [(3, 1), (2, 2), (1, 1), (1, 99)])
def test_that_a_number_or_a_version_that_is_left_out_is_an_error(floor: FileFloor, number: int, version: int) -> None:
    order = replace(EMPTY, number=number, version=version)
    with pytest.raises(ValueError, match="left out"), floor.file.changing() as work:
        work.put_order(order, Change(number, version, BY, ()))
    with pytest.raises(ValueError, match="another version's"), floor.file.changing() as work:
        work.put_order(replace(EMPTY, number=2), Change(2, 2, BY, ()))
    assert floor.file.version(2) == 0


def test_that_nothing_is_asked_or_kept_after_the_end_of_a_transaction(floor: FileFloor) -> None:
    with floor.file.changing() as work:
        assert work.tool("L-1") == TOOLS[0]
        assert (work.tool("none"), work.person("none"), work.order(9)) == (None, None, None)
    calls: tuple[Any, ...] = (
        lambda: work.order(1),
        lambda: work.put_person(PEOPLE[0]),
        lambda: work.put_tool(TOOLS[0]),
        lambda: work.done("late", Answer("v", "1", 1)),
        lambda: work.already_done("late"),
        lambda: work.put_order(replace(EMPTY, number=2), Change(2, 1, BY, ())),
    )
    for call in calls:
        with pytest.raises(ValueError, match="is over"):
            call()


def test_that_two_writers_at_once_lose_nothing_and_leave_no_gap(place: Path) -> None:
    troubles: list[BaseException] = []

    def window(_number: int) -> None:
        try:
            with opened(place) as file:
                floor = FileFloor(file)
                for _ in range(10):
                    open_order(floor.shop, floor.new("DESK"), NEW)
                    while True:
                        try:
                            book_time(floor.shop, floor.by("MECH"), 1, "MECH", 1, "")
                            break
                        except ChangedElsewhere:
                            pass
        except BaseException as trouble:  # noqa: BLE001 - whatever it was
            troubles.append(trouble)

    threads = [threading.Thread(target=window, args=(number,)) for number in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert troubles == []
    with opened(place) as file:
        assert [line.number for line in file.orders(limit=100)] == list(range(31, 0, -1))
        order = file.order(1)
        assert order is not None
        assert sum(one.minutes for one in order.time) == 30
        assert [one.version for one in file.changes_since(1, 0)] == list(range(1, order.version + 1))


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ShopFile]:
    """A shop with 60 orders of two aircraft; every third is void."""
    with made(tmp_path_factory.mktemp("many") / "many.shop") as file:
        with file.changing() as work:
            for number in range(1, 61):
                aircraft = replace(EMPTY.aircraft, registration="X-Q" if number % 2 else "X-P")
                ending = OrderState.VOID if number % 3 == 0 else None
                order = replace(EMPTY, number=number, aircraft=aircraft, ending=ending)
                work.put_order(order, Change(number, 1, BY, ("opened",)))
        yield file


@pytest.mark.parametrize("find", ["", "x q", "aero"])
@pytest.mark.parametrize("state", [None, OrderState.VOID])
def test_that_pages_go_on_where_the_last_one_ended(many: ShopFile, find: str, state: OrderState | None) -> None:
    whole = [line.number for line in look_up(many, find, state, 500)]
    paged: list[int] = []
    while page := look_up(many, find, state, 7, paged[-1] if paged else None):
        paged += [line.number for line in page]
    assert paged == whole
    assert len(whole) == 60 / (3 if state else 1) / (2 if "q" in find else 1)


@pytest.mark.parametrize("find", [(), ("aero",)])
@pytest.mark.parametrize("state", [None, OrderState.VOID])
@pytest.mark.parametrize("before", [None, 30])
def test_that_no_page_is_sorted_or_counted_off(
    many: ShopFile, find: tuple[str, ...], state: OrderState | None, before: int | None
) -> None:
    text, values = question(find, state, 7, before)
    plan = many._db.execute(f"EXPLAIN QUERY PLAN {text}", values).fetchall()  # noqa: SLF001
    said = " / ".join(str(row[3]) for row in plan)
    assert "TEMP B-TREE" not in said
    assert "OFFSET" not in text
    assert ("order_line_by_state" in said) is (state is not None and not find)


@pytest.mark.parametrize(
    "find", ['"', "aero OR nothing", "aero*", "NEAR(aero x)", "words:aero", "-aero", "a'b", "^aero"]
)
def test_that_signs_of_the_search_language_mean_nothing(many: ShopFile, find: str) -> None:
    memory = FakeStore()
    put(memory, replace(EMPTY, number=1))
    assert bool(look_up(many, find)) == bool(look_up(memory, find))
    assert many.orders([find]) == memory.orders([find])


def test_that_every_sign_of_every_script_makes_words_that_the_index_takes() -> None:
    for code in range(0x110000):
        for word in words_of(chr(code)):
            assert word.isalnum()
            assert word == word.casefold()


def test_that_a_second_window_sees_a_change_at_once(floor: FileFloor) -> None:
    with opened(floor.file.place) as other:
        count = other.change_count()
        book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
        assert other.change_count() == count + 1
        assert [change.said for change in other.changes_since(1, count)] != []


def test_that_a_missing_task_card_is_refused_in_plain_words(place: Path) -> None:
    guard = sql(place, "SELECT sql FROM sqlite_master WHERE name = 'task_card_is_kept'")[0][0]
    sql(place, "DROP TRIGGER task_card_is_kept", "DELETE FROM task_card", guard)
    with opened(place) as file, pytest.raises(Refusal, match="its task card is missing"):
        file.order(1)


def test_that_a_row_that_refers_to_nothing_is_a_fault(place: Path) -> None:
    sql(place, "INSERT INTO order_word VALUES (9, 'loose')")
    with opened(place) as file:
        assert file.faults() == ("order_word: a row refers to nothing",)
