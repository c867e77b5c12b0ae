"""When the disk fails: what was entered is kept or is not, and the refusal says which."""

import os
import re
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person
from desktop.storage.troubles import KEPT, NOT_KEPT, sentence_of
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.take_reading import take_reading
from tests.storage.file_floor import LIGHT, FileFloor, opened, sql
from tests.usecases.shop.shop_floor import PEOPLE, TOOLS


class Frail(sqlite3.Connection):
    """A disk that reports an error at one statement, before or after it did what it should."""

    at = ""
    is_after = False
    code = sqlite3.SQLITE_IOERR_FSYNC
    then: Callable[[], object] | None = None

    def execute(self, sql: str, *values: object) -> sqlite3.Cursor:
        if not (Frail.at and sql.startswith(Frail.at)):
            return super().execute(sql, *values)  # type: ignore[arg-type]
        if Frail.is_after:
            super().execute(sql, *values)  # type: ignore[arg-type]
        Frail.at = ""
        if Frail.then:
            Frail.then()
        trouble = sqlite3.OperationalError("disk I/O error")
        trouble.sqlite_errorcode = Frail.code
        raise trouble


@pytest.fixture
def frail(place: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[FileFloor]:
    """The hands on a file whose disk may fail."""
    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *args, **kwargs: connect(*args, factory=Frail, **kwargs))
    with opened(place) as file:
        yield FileFloor(file)


@contextmanager
def failing(
    at: str,
    *,
    is_after: bool = False,
    code: int = sqlite3.SQLITE_IOERR_FSYNC,
    then: Callable[[], object] | None = None,
) -> Iterator[None]:
    Frail.at, Frail.is_after, Frail.code, Frail.then = at, is_after, code, then
    try:
        yield
    finally:
        Frail.at, Frail.then = "", None


@pytest.mark.parametrize("is_after", [False, True])
def test_that_an_error_at_the_end_says_what_the_file_holds(frail: FileFloor, is_after: bool) -> None:
    request = frail.by("MECH")
    before = frail.order()
    with failing("COMMIT", is_after=is_after), pytest.raises(Refusal, match="The disk reported an error") as refused:
        book_time(frail.shop, request, 1, "MECH", 5, "")
    assert refused.value.sentence.endswith(KEPT if is_after else NOT_KEPT)
    with opened(frail.file.place) as other:
        assert (other.version(1) == before.version + 1) is is_after
    # The same request again does it if it was not done, and nothing if it was.
    assert book_time(frail.shop, request, 1, "MECH", 5, "").version == before.version + 1
    assert sum(one.minutes for one in frail.order().time) == 5


@pytest.mark.parametrize("is_after", [False, True])
def test_that_work_without_a_request_is_looked_for_by_what_it_wrote(frail: FileFloor, is_after: bool) -> None:
    person: Person = replace(PEOPLE[0], name="Dora Newname")
    words = "was kept" if is_after else "was not kept"
    with failing("COMMIT", is_after=is_after), pytest.raises(Refusal, match=words), frail.file.changing() as work:
        work.put_person(person)
    assert (person in frail.file.people()) is is_after
    with failing("COMMIT", is_after=is_after), pytest.raises(Refusal, match=words), frail.file.changing() as work:
        work.put_tool(replace(TOOLS[0], name="new lamp"))
    with failing("COMMIT"), pytest.raises(Refusal, match="was not kept"), frail.file.changing() as work:
        work.people()


def test_that_an_error_in_the_middle_keeps_nothing(frail: FileFloor) -> None:
    before = frail.order()
    for at in ("UPDATE work_order", "INSERT INTO journal", "INSERT INTO request", "BEGIN IMMEDIATE"):
        with failing(at), pytest.raises(Refusal, match=f"disk reported an error.*{NOT_KEPT}"):
            book_time(frail.shop, frail.by("MECH"), 1, "MECH", 5, "")
        assert frail.order() == before
    with failing("SELECT text FROM work_order"), pytest.raises(Refusal, match=r"The disk reported an error\."):
        frail.order()


def test_that_an_error_of_the_program_stays_one(frail: FileFloor, monkeypatch: pytest.MonkeyPatch) -> None:
    for at in ("BEGIN IMMEDIATE", "UPDATE work_order", "COMMIT", "SELECT version FROM work_order", "INSERT INTO req"):
        with failing(at, code=sqlite3.SQLITE_ERROR), pytest.raises(sqlite3.OperationalError):
            book_time(frail.shop, frail.by("MECH"), 1, "MECH", 5, "")
    assert frail.order().time == ()

    def unknown(*_args: object, **_more: object) -> None:
        raise sqlite3.OperationalError("made by the language, not by the library")

    monkeypatch.setattr(sqlite3, "connect", unknown)
    with pytest.raises(sqlite3.OperationalError):
        opened(frail.file.place)
    assert sentence_of(sqlite3.OperationalError("made by the language, not by the library")) is None


def test_that_a_disk_that_does_not_come_back_says_that_nobody_knows(frail: FileFloor) -> None:
    place = frail.file.place
    away = place.with_suffix(".away")
    request = frail.by("MECH")
    lost = failing("COMMIT", is_after=True, then=lambda: place.rename(away))
    with lost, pytest.raises(Refusal, match="nobody can say yet whether"):
        book_time(frail.shop, request, 1, "MECH", 5, "")
    with pytest.raises(Refusal, match="no such file"):
        frail.file.order(1)
    away.rename(place)
    assert sum(one.minutes for one in frail.order().time) == 5


@pytest.mark.parametrize("code", [sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR])
def test_that_an_error_while_it_is_opened_leaves_nothing_open(place: Path, frail: FileFloor, code: int) -> None:
    kinds: tuple[type[Exception], ...] = (Refusal, sqlite3.OperationalError)
    for at in ("PRAGMA user_version", "PRAGMA journal_mode", "PRAGMA application_id", "SELECT shop_id"):
        with failing(at, code=code), pytest.raises(kinds):
            opened(place)
    book_time(frail.shop, frail.by("MECH"), 1, "MECH", 5, "")


def test_that_a_file_that_was_moved_away_or_replaced_takes_nothing_more(floor: FileFloor) -> None:
    place = floor.file.place
    request = floor.by("MECH")
    away = place.rename(place.with_suffix(".away"))
    for _ in range(2):
        with pytest.raises(Refusal, match=f"moved or replaced while it was open.*{NOT_KEPT}"):
            book_time(floor.shop, request, 1, "MECH", 5, "")
        shutil.copy(away, place)
    away.replace(place)
    assert book_time(floor.shop, request, 1, "MECH", 5, "").number == 1


def test_that_a_full_disk_keeps_nothing_of_a_change_and_all_before(floor: FileFloor) -> None:
    db = floor.file._db  # noqa: SLF001 - a limit on the pages is a full disk
    pages = db.execute("PRAGMA page_count").fetchall()[0][0]
    db.execute(f"PRAGMA max_page_count = {pages}").fetchall()
    kept = floor.file.version(1)

    def book_on() -> None:
        nonlocal kept
        for number in range(1000):
            kept = book_time(floor.shop, floor.by("MECH"), 1, "MECH", 1, f"n{number} " * 20).version

    with pytest.raises(Refusal, match=f"The disk is full.*{NOT_KEPT}"):
        book_on()
    assert floor.file.version(1) == kept
    assert floor.file.faults() == ()
    db.execute("PRAGMA max_page_count = 100000").fetchall()
    assert book_time(floor.shop, floor.by("MECH"), 1, "MECH", 1, "").version == kept + 1


def test_that_a_writer_that_does_not_end_is_waited_for_and_then_said(place: Path, floor: FileFloor) -> None:
    floor.file._db.execute("PRAGMA busy_timeout = 50").fetchall()  # noqa: SLF001
    refused = pytest.raises(Refusal, match=f"Another window is writing.*{NOT_KEPT}")
    with opened(place) as other, other.changing(), refused:
        book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
    assert book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "").number == 1


def test_that_a_reader_that_does_not_end_keeps_the_change_out(place: Path, floor: FileFloor) -> None:
    request = floor.by("MECH")
    floor.file._db.execute("PRAGMA busy_timeout = 50").fetchall()  # noqa: SLF001
    reader = sqlite3.connect(place, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM person").fetchall()
    with pytest.raises(Refusal, match=f"Another window .*{NOT_KEPT}"):
        book_time(floor.shop, request, 1, "MECH", 5, "")
    reader.close()
    assert sql(place, "SELECT version FROM work_order") == [(floor.file.version(1),)]
    assert book_time(floor.shop, request, 1, "MECH", 5, "").number == 1


ONE_READING = """
import sys
from pathlib import Path
from desktop.core.errors import Refusal
from desktop.usecases.shop.ports import Request
from desktop.usecases.shop.cards.take_reading import take_reading
from tests.storage.file_floor import FileFloor, opened
with opened(Path(sys.argv[1])) as file:
    floor = FileFloor(file)
    request = Request("the one", "MECH", file.version(1))
    try:
        take_reading(floor.shop, request, 1, 1, ("left.approach[1].light", "299"))
        print("done")
    except Refusal as refused:
        print(refused.sentence)
"""
FAULTS = [
    *(f"fdatasync:error=EIO:when={number}" for number in (1, 2, 3, 4, 5)),
    *(f"pwrite64:error={error}:when={number}" for number in (1, 7, 14) for error in ("EIO", "ENOSPC")),
    "unlink:error=EIO:when=1",
    "fdatasync:signal=SIGKILL:when=3",
]
# The folder is synced last: the journal is gone by then, and what was entered stands although the disk complained.
KEPT_ALTHOUGH = "fdatasync:error=EIO:when=5"


@pytest.mark.parametrize("fault", FAULTS)
def test_that_a_call_that_fails_is_told_as_the_file_then_is(place: Path, fault: str) -> None:
    strace = shutil.which("strace")
    if not strace:
        pytest.skip("NOT RUN: there is no strace on this machine")
    call = fault.split(":", 1)[0]
    command = [strace, "-f", "-qq", "-o", os.devnull, "-e", f"trace={call}", "-e", f"inject={fault}"]
    done = subprocess.run(
        [*command, sys.executable, "-c", ONE_READING, str(place)],
        check=False,
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )
    if "attach" in done.stderr or "PTRACE" in done.stderr:
        pytest.skip("NOT RUN: no process may be traced on this machine")
    with opened(place) as file:
        assert file.faults() == ()
        stands = sql(place, "SELECT count(*) FROM request WHERE id = 'the one'") == [(1,)]
        assert (FileFloor(file).light() == "299") is stands
    if "SIGKILL" in fault:
        assert done.stdout == ""
        return
    assert re.search(f"done|{re.escape(KEPT)}|{re.escape(NOT_KEPT)}", done.stdout), done.stderr
    assert (KEPT in done.stdout) is (fault == KEPT_ALTHOUGH)
    assert (("done" in done.stdout) or (KEPT in done.stdout)) is stands


def test_that_the_one_reading_is_taken_when_no_call_fails(floor: FileFloor) -> None:
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, "299"))
    with opened(floor.file.place) as file:
        assert FileFloor(file).light() == "299"
