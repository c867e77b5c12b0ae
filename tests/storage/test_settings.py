"""The settings on which everything rests, and the traps of the database that they close."""

import ast
import sqlite3
import threading
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.storage.database import APPLICATION_ID, immediate, open_database, rows
from desktop.storage.steps.migrations import LATEST
from desktop.usecases.shop.cards.take_reading import take_reading
from tests.storage.file_floor import LIGHT, FileFloor, made, opened, sql

ROOM = Path(__file__).parents[2] / "desktop" / "storage"
HOLDS = {"journal_mode": "delete", "synchronous": 3, "foreign_keys": 1, "recursive_triggers": 1}


def test_that_every_setting_holds_on_a_new_file_and_on_one_that_is_opened(tmp_path: Path) -> None:
    new = made(tmp_path / "new.shop")
    with new, opened(new.place) as again:
        for file in (new, again):
            assert {name: rows(file._db, f"PRAGMA {name}")[0][0] for name in HOLDS} == HOLDS  # noqa: SLF001
            assert file._db.conn.isolation_level is None  # noqa: SLF001 - the setting of the connection itself


def test_that_the_header_says_whose_file_it_is_and_which_form_it_has(place: Path) -> None:
    assert sql(place, "PRAGMA application_id") == [(APPLICATION_ID,)]
    assert sql(place, "PRAGMA user_version") == [(LATEST,)]


def test_that_a_journal_of_another_kind_is_set_back_and_refused_while_it_is_used(place: Path) -> None:
    other = sqlite3.connect(place, isolation_level=None)
    other.execute("PRAGMA journal_mode = WAL").fetchall()
    other.execute("BEGIN")
    other.execute("SELECT count(*) FROM person").fetchall()
    with pytest.raises(Refusal, match=r"Another program has .*copy.shop-wal"):
        opened(place)
    other.close()
    opened(place).close()
    assert sql(place, "PRAGMA journal_mode") == [("delete",)]


class Deaf(sqlite3.Connection):
    """A library in which a setting does not hold."""

    ignored = ""

    def execute(self, sql: str, *values: object) -> sqlite3.Cursor:
        return super().execute("SELECT 1" if sql == self.ignored else sql, *values)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("PRAGMA journal_mode = DELETE", "journal mode is wal, not DELETE"),
        ("PRAGMA synchronous = EXTRA", "synchronous is 2, not EXTRA"),
        ("PRAGMA foreign_keys = ON", "foreign keys is 0, not ON"),
        ("PRAGMA synchronous = FULL", None),
    ],
)
def test_that_a_setting_that_does_not_hold_is_refused(
    place: Path, monkeypatch: pytest.MonkeyPatch, statement: str, words: str | None
) -> None:
    sql(place, "PRAGMA journal_mode = WAL")
    connect = sqlite3.connect
    monkeypatch.setattr(Deaf, "ignored", statement)
    monkeypatch.setattr(sqlite3, "connect", lambda *args, **kwargs: connect(*args, factory=Deaf, **kwargs))
    if words is None:
        opened(place).close()
        return
    with pytest.raises(Refusal, match=words):
        opened(place)


def test_that_a_connection_that_begins_by_itself_is_refused(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    connect = sqlite3.connect
    monkeypatch.setattr(
        sqlite3, "connect", lambda *args, **kwargs: connect(*args, **{**kwargs, "isolation_level": "DEFERRED"})
    )
    with pytest.raises(Refusal, match="begin by themselves"):
        opened(place)


def test_that_a_change_waits_for_another_writer_where_a_deferred_one_fails_at_once(place: Path) -> None:
    first = open_database(place, 10)
    started, done = threading.Event(), []

    def second() -> None:
        db = open_database(place, 10)
        started.set()
        with immediate(db):
            [(count,)] = rows(db, "SELECT count(*) FROM request")
            db.execute("INSERT INTO request (id, answer) VALUES (?, '')", (f"second after {count}",))
        done.append(True)
        db.close()

    count = rows(first, "SELECT count(*) FROM request")[0][0]
    with immediate(first):
        first.execute("INSERT INTO request (id, answer) VALUES ('first', '')")
        thread = threading.Thread(target=second)
        thread.start()
        assert started.wait(5)
        thread.join(0.1)
        assert not done
    thread.join(5)
    assert rows(first, "SELECT id FROM request WHERE id LIKE 'second%'") == [(f"second after {count + 1}",)]
    # The control: read first, then write, while another one writes.
    other = open_database(place, 10)
    with immediate(first), pytest.raises(sqlite3.OperationalError, match="locked"), other.atomic():  # noqa: PT012
        rows(other, "SELECT count(*) FROM request")
        first.execute("INSERT INTO request (id, answer) VALUES ('third', '')")
        other.execute("INSERT INTO request (id, answer) VALUES ('fourth', '')")
    first.close()
    other.close()


GUARDED = {
    "a line of the journal changed": "UPDATE journal SET text = ''",
    "a line of the journal erased": "DELETE FROM journal",
    "a line of the journal replaced": "INSERT OR REPLACE INTO journal SELECT id, number, version, '' FROM journal",
    "a version left out": "INSERT INTO journal (number, version, text) VALUES (1, 99, '')",
    "a task card changed": "UPDATE task_card SET text = ''",
    "a task card erased": "DELETE FROM task_card",
    "a task card replaced": "INSERT OR REPLACE INTO task_card SELECT digest, '' FROM task_card",
    "a request changed": "UPDATE request SET answer = ''",
    "a request erased": "DELETE FROM request",
    "a request replaced": "INSERT OR REPLACE INTO request SELECT id, '' FROM request",
    "an order erased": "DELETE FROM work_order",
    "an order replaced": "INSERT OR REPLACE INTO work_order SELECT number, 1, '' FROM work_order",
    "an order set back": "UPDATE work_order SET version = 1",
    "an order number left out": "INSERT INTO work_order VALUES (3, 1, '')",
    "a person erased": "DELETE FROM person",
    "a person replaced": "INSERT OR REPLACE INTO person SELECT id, '' FROM person",
    "a tool erased": "DELETE FROM tool",
    "a tool replaced": "INSERT OR REPLACE INTO tool SELECT id, '' FROM tool",
    "another shop's id": "UPDATE shop SET shop_id = 'other'",
    "a second shop": "INSERT OR REPLACE INTO shop VALUES (1, 'other', '')",
    "the shop erased": "DELETE FROM shop",
}


@pytest.mark.parametrize("recursive", ["ON", "OFF"])
@pytest.mark.parametrize("statement", GUARDED.values(), ids=GUARDED)
def test_that_the_tables_refuse_an_accident_even_without_recursive_triggers(
    place: Path, statement: str, recursive: str
) -> None:
    with pytest.raises(
        sqlite3.IntegrityError, match=r"only grows|no gaps|never erased|one shop|keeps its id|off|twice"
    ):
        sql(place, f"PRAGMA recursive_triggers = {recursive}", statement)


def test_that_an_index_row_without_an_order_is_refused(place: Path) -> None:
    db = open_database(place)
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        db.execute("INSERT INTO order_word VALUES (7, 'loose')")
    db.close()


def test_that_readings_stay_as_they_were_typed(floor: FileFloor) -> None:
    for typed in ("1.50", "0007", "3e2", "12,5"):
        take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, typed))
        assert floor.light() == typed
    kinds = sql(floor.file.place, "SELECT DISTINCT typeof(text) FROM work_order")
    assert kinds == [("text",)]


def test_that_no_column_holds_a_measured_number_and_every_table_is_strict(place: Path) -> None:
    tables = sql(place, "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'")
    assert all(strict for name, strict in tables if not name.startswith("sqlite_"))
    kinds = sql(
        place,
        "SELECT DISTINCT c.type FROM pragma_table_list t JOIN pragma_table_info(t.name) c "
        "WHERE t.type = 'table' AND t.schema = 'main' AND t.name NOT LIKE 'sqlite%'",
    )
    assert set(kinds) == {("INTEGER",), ("TEXT",), ("BLOB",)}


def test_that_the_room_writes_plain_statements_only() -> None:
    # A misspelt name in db["..."].insert makes a table, transform() drops triggers, query() may be left half read.
    for path in ROOM.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Attribute):
                assert node.attr not in {"insert", "insert_all", "upsert", "transform", "query", "table"}, path
            if isinstance(node, ast.Subscript):
                assert ast.unparse(node.value) not in {"db", "self._db"}, path


def test_that_no_question_is_left_half_read(floor: FileFloor) -> None:
    # An open one would hold the file: another connection could not finish a change.
    with opened(floor.file.place) as other:
        for ask in (other.orders, other.people, other.tools, other.change_count, other.faults):
            ask()
        other.orders(["mill"], limit=1)
        other.order(1)
        other.changes_since(1, 0)
        other.aircraft("X-ABCD")
        floor.with_order()
        assert not other._db.conn.in_transaction  # noqa: SLF001
