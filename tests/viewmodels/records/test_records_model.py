"""The list of records: found by every word that names one, the newest first, a page at a time, and checked beside."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from threading import Event, Thread, current_thread, main_thread
from threading import enumerate as running

import pytest
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.records.sealed.chain import Problem
from desktop.core.records.sealed.record_line import RecordLine
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import ShopFile
from desktop.usecases.records.checking.check_pace import verify_at_pace
from desktop.usecases.records.checking.verify import Verified
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.records.records_model import (
    ALL_SOUND,
    FOUND_COLUMNS,
    STOPPED,
    PagedLines,
    RecordSearchDesk,
    said_of,
    time_words,
)
from desktop.viewmodels.records.records_search import found_in
from tests.core.records.pens import RealVerifier
from tests.storage.file_floor import TEXT, opened
from tests.storage.signed_file import signed_file

SOUND = Verified("c0ffee", "Mill Shop", 2, "9a" * 32, ())


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("records") / "mill.shop"
    signed_file(made)
    return made


@pytest.fixture
def file(place: Path) -> Iterator[ShopFile]:
    with opened(place) as store:
        yield store


@pytest.fixture
def desk(qtbot: QtBot, file: ShopFile) -> Iterator[RecordSearchDesk]:
    made = RecordSearchDesk(file)
    made.look()
    qtbot.waitUntil(lambda: not made._orders.is_busy)  # noqa: SLF001 - registrations come piece by piece
    yield made
    made.end()


def _numbers(desk: RecordSearchDesk) -> list[int]:
    return [desk.line(row).number for row in range(desk.model.rowCount())]


def test_that_every_record_stands_in_the_list_the_newest_first(desk: RecordSearchDesk) -> None:
    assert _numbers(desk) == list(range(14, 0, -1))
    assert desk.notice() == "14 records"


@pytest.mark.parametrize(
    ("typed", "numbers"),
    [
        ("W-0002", [11, 10]),
        ("order 2", [11, 10]),
        ("x-abcd", [11, 10, 8, 7, 6, 5]),
        ("XABCD", [11, 10, 8, 7, 6, 5]),
        ("Ines", [11, 6]),
        ("insp card", [11, 6]),
        ("approved", [7]),
        ("correction", [8]),
        ("13", [13]),
        ("W-3", [14]),
        ("sheet ms", [13]),
        ("...", []),
        ("nobody", []),
    ],
)
def test_that_records_are_found_by_order_registration_person_kind_and_number(
    desk: RecordSearchDesk, typed: str, numbers: list[int]
) -> None:
    desk.search(typed)
    assert _numbers(desk) == numbers
    assert desk.notice() == f"{len(numbers)} of 14 records"
    desk.search("")
    assert desk.notice() == "14 records"


def test_that_the_list_is_a_sound_model(desk: RecordSearchDesk, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(desk.model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays and watches


def test_that_a_line_says_what_it_is_about_and_what_it_names(desk: RecordSearchDesk) -> None:
    desk.search("correction")
    said = [str(desk.model.index(0, place).data()) for place in range(len(FOUND_COLUMNS))]
    assert said[:5] == ["8", "correction", "W-0001, card 1, X-ABCD", "Mel Chan (MECH)", "5"]
    assert said[5].startswith("4 Mar 2031 ")


def test_that_a_time_that_was_changed_is_shown_as_it_stands() -> None:
    assert time_words("soon\u202e") == "soon[U+202E]"


def test_that_pages_follow_when_the_list_is_gone_down(qtbot: QtBot, qtmodeltester: ModelTester) -> None:
    line = RecordLine(1, "void", "order 1", 1, 0, "LO", "Lena Ode", "2031-03-04T09:00:00+01:00", ())
    found = tuple((replace(line, number=number), "") for number in range(25, 0, -1))
    model = PagedLines(FOUND_COLUMNS, lambda one: one[0].number, page=10)
    model.begin_again(found)
    counts = [model.rowCount()]
    while model.canFetchMore(model.index(-1, -1)):
        model.fetchMore(model.index(-1, -1))
        counts.append(model.rowCount())
    assert counts == [10, 20, 25]
    model.fetchMore(model.index(-1, -1))
    assert model.rowCount() == 25
    model.show_lines(found)
    assert model.rowCount() == 25
    model.begin_again(found)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays and watches


def test_that_words_beyond_the_eighth_do_not_count() -> None:
    line = RecordLine(1, "void", "order 1", 1, 0, "LO", "Lena Ode", "", ())
    assert found_in((line,), {}, "void order 1 lo lena ode void order nothing") == ((line, ""),)
    assert found_in((line,), {}, "void nothing") == ()


def test_that_a_desk_without_records_shows_none(qtbot: QtBot, tmp_path: Path) -> None:
    desk = RecordSearchDesk(None)
    desk.look()
    desk.begin_check()
    desk.begin_export(tmp_path)
    assert not desk.is_busy
    assert desk.notice() == "0 records"
    assert desk.paper(1)(size="a4", blank=False) is None
    assert (desk.can_check, desk.can_export, desk.can_print) == (False, False, False)


def test_that_a_file_that_does_not_answer_is_said_and_the_list_stays(
    desk: RecordSearchDesk, file: ShopFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    desk.refused.connect(said.append)

    def refuse() -> object:
        raise Refusal("The shop file does not answer.")

    monkeypatch.setattr(file, "records", refuse)
    desk.look()
    assert said == ["The shop file does not answer."]
    assert desk.model.rowCount() == 14


def test_that_the_check_runs_beside_the_window_on_the_file_itself(qtbot: QtBot, file: ShopFile, place: Path) -> None:
    threads: list[Thread] = []

    def check(pace: Pace) -> Verified | None:
        threads.append(current_thread())
        with shop_to_check(place, TEXT) as own:
            return verify_at_pace(own, RealVerifier(), pace)

    desk = RecordSearchDesk(file, check)
    paces: list[tuple[int, int]] = []
    desk.went_on.connect(lambda done, of: paces.append((done, of)))
    with qtbot.waitSignal(desk.checked) as seen:
        desk.begin_check()
        desk.begin_check()
    assert [thread is main_thread() for thread in threads] == [False]
    assert paces == [(0, 16)]
    assert seen.args is not None
    said, is_sound = seen.args
    assert is_sound is True
    assert said[0].startswith("Sound: 14 records, record seal ")
    desk.end()


def test_that_a_check_that_is_stopped_says_so(qtbot: QtBot, file: ShopFile) -> None:
    go_on = Event()

    def check(pace: Pace) -> Verified | None:
        while pace(0, 1):
            go_on.wait(10)
        return None

    desk = RecordSearchDesk(file, check)
    with qtbot.waitSignal(desk.went_on):
        desk.begin_check()
    with qtbot.waitSignal(desk.checked) as seen:
        desk.stop()
        go_on.set()
    assert seen.args == [(STOPPED,), False]
    desk.end()


def test_that_closing_waits_for_the_check_and_leaves_no_thread(qtbot: QtBot, file: ShopFile) -> None:
    go_on = Event()

    def check(pace: Pace) -> Verified | None:
        while pace(0, 1):
            go_on.wait(10)
        return None

    desk = RecordSearchDesk(file, check)
    desk.begin_check()
    desk.stop()
    go_on.set()
    desk.end()
    assert [thread.name for thread in running() if thread.name == "errand"] == []


def test_that_a_check_that_is_refused_says_why(qtbot: QtBot, file: ShopFile) -> None:
    def check(_pace: Pace) -> Verified | None:
        raise Refusal("The shop file cannot be read.")

    desk = RecordSearchDesk(file, check)
    with qtbot.waitSignal(desk.refused) as seen:
        desk.begin_check()
    assert seen.args == ["The shop file cannot be read."]


def test_that_an_export_says_what_it_wrote(qtbot: QtBot, file: ShopFile, tmp_path: Path) -> None:
    desk = RecordSearchDesk(file, export=lambda folder: lambda _pace: f"{folder.name} holds 14 records.")
    with qtbot.waitSignal(desk.exported) as seen:
        desk.begin_export(tmp_path / "records")
    assert seen.args == ["records holds 14 records."]


def test_that_a_record_that_cannot_be_printed_is_refused_once(qtbot: QtBot, file: ShopFile) -> None:
    def printer(number: int, size: str) -> bytes:
        if number == 1:
            raise Refusal("No record is printed while the check finds something wrong.")
        return f"{number} {size}".encode()

    desk = RecordSearchDesk(file, printer=printer)
    said: list[str] = []
    desk.refused.connect(said.append)
    assert desk.paper(2)(size="a4", blank=False) == b"2 a4"
    assert desk.paper(1)(size="letter", blank=False) is None
    assert said == ["No record is printed while the check finds something wrong."]


def test_that_the_result_of_a_check_is_said_in_sentences() -> None:
    bad = replace(
        SOUND,
        count=1,
        problems=(Problem(1, "Record 1 is missing."), Problem(0, "Odd \u202e sign.")),
        notes=(Problem(0, "The clock jumped back."),),
    )
    assert said_of(SOUND) == ("Sound: 2 records, record seal 9a9a9a9a9a9a9a9a.", ALL_SOUND)
    assert said_of(bad) == (
        "Not sound, 2 problems: 1 record, record seal 9a9a9a9a9a9a9a9a.",
        "Record 1 is missing.",
        "Odd [U+202E] sign.",
        "Note: The clock jumped back.",
    )
    assert said_of(replace(bad, problems=bad.problems[:1]))[0].startswith("Not sound, 1 problem: ")
