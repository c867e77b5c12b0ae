"""Steps from an old file to the present form: all of a step or nothing, and never a step that was changed later."""

import ast
import gzip
import sqlite3
import threading
from pathlib import Path

import pytest
from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.storage.database import immediate, open_database, rows
from desktop.storage.steps import migrations
from desktop.storage.steps.migrations import LATEST, STEPS, migrate, version_of
from desktop.usecases.shop.cards.take_reading import take_reading
from tests.storage.file_floor import FileFloor, made, opened, sql

STORED = Path(__file__).parents[1] / "old_files"
SCHEMA = "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name"


def old_file(version: int, folder: Path) -> Path:
    """Unpack a stored file of a version."""
    place = folder / "old.shop"
    place.write_bytes(gzip.decompress((STORED / f"version_{version}.shop.gz").read_bytes()))
    return place


def test_that_there_is_a_stored_file_of_every_version() -> None:
    assert [f"version_{number + 1}.shop.gz" for number in range(LATEST)] == sorted(
        place.name for place in STORED.glob("*.gz")
    )


@pytest.mark.parametrize("version", range(1, LATEST + 1))
def test_that_an_old_file_opens_whole_and_goes_on(version: int, tmp_path: Path) -> None:
    place = old_file(version, tmp_path)
    assert sql(place, "PRAGMA user_version") == [(version,)]
    with opened(place) as file:
        floor = FileFloor(file)
        assert file.faults() == ()
        assert (file.name, len(file.people()), len(file.tools())) == ("Mill Shop", 6, 3)
        assert [(line.number, line.customer) for line in file.orders(["mill", "x"])] == [(1, "Mill Flying Club")]
        assert floor.light() == "337.50"
        before = file.version(1)
        assert len(file.changes_since(1, 0)) == before
        assert take_reading(floor.shop, floor.by("MECH"), 1, 1, ("limits.left_btdc", "21")).version == before + 1
    assert sql(place, "PRAGMA user_version") == [(LATEST,)]


def test_that_no_step_was_changed_since_its_file_was_stored(tmp_path: Path) -> None:
    new = made(tmp_path / "new.shop")
    new.close()
    old = old_file(LATEST, tmp_path)
    assert sql(old, SCHEMA) == sql(new.place, SCHEMA)


def test_that_the_triggers_stand_after_all_steps(tmp_path: Path) -> None:
    place = old_file(1, tmp_path)
    opened(place).close()
    found = {name for (name,) in sql(place, "SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    assert found >= {
        *(
            f"{table}_{ending}"
            for table in ("journal", "request", "task_card")
            for ending in ("stays", "is_kept", "once")
        ),
        *("journal_in_order", "work_order_in_order", "work_order_versions", "work_order_is_kept"),
        *("shop_once", "shop_stays", "shop_is_kept", "person_is_kept", "tool_is_kept", "person_once", "tool_once"),
        *("order_word_new", "order_word_gone", "order_word_changed"),
        *("envelope_stays", "envelope_is_kept", "envelope_in_order"),
    }


def test_that_the_steps_import_nothing_of_ours() -> None:
    here = Path(migrations.__file__)
    steps = {f"desktop.storage.steps.{place.stem}": place for place in here.parent.glob("*_tables.py")}
    assert imports_of(here) == {"collections.abc", "sqlite_utils", *steps}
    for place in steps.values():
        assert imports_of(place) <= {"collections.abc", "sqlite_utils"}, place.name


def imports_of(place: Path) -> set[str | None]:
    """Return the modules that a file imports."""
    tree = ast.parse(place.read_text("utf-8"))
    taken = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    return taken | {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}


def add_table(db: Database) -> None:
    db.execute("CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT")


def break_off(db: Database) -> None:
    db.execute("CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT")
    db.execute("INSERT INTO nowhere VALUES (1)")


def test_that_a_step_that_breaks_off_leaves_the_file_as_it_was(place: Path) -> None:
    before = place.read_bytes()
    db = open_database(place)
    with pytest.raises(sqlite3.OperationalError, match="nowhere"), immediate(db):
        migrate(db, (*STEPS, break_off))
    assert (version_of(db), rows(db, "SELECT name FROM sqlite_master WHERE name = 'later'")) == (LATEST, [])
    with immediate(db):
        migrate(db, (*STEPS, add_table))
    assert (version_of(db), rows(db, "SELECT count(*) FROM later")) == (LATEST + 1, [(0,)])
    db.close()
    assert place.read_bytes() != before


def test_that_two_windows_that_open_an_old_file_at_once_take_a_step_once(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A newer program, in which the file is an old one.
    monkeypatch.setattr("desktop.storage.database.LATEST", LATEST + 1)
    monkeypatch.setattr("desktop.storage.database.migrate", lambda db: migrate(db, (*STEPS, add_table)))
    barrier, troubles = threading.Barrier(4), []

    def window() -> None:
        barrier.wait()
        try:
            open_database(place, 10).close()
        except Exception as trouble:  # noqa: BLE001 - whatever it was
            troubles.append(trouble)

    threads = [threading.Thread(target=window) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert troubles == []
    assert sql(place, "PRAGMA user_version") == [(LATEST + 1,)]


def test_that_a_newer_file_is_refused_and_left_as_it_is(place: Path) -> None:
    sql(place, f"PRAGMA user_version = {LATEST + 1}")
    before = place.read_bytes()
    with pytest.raises(Refusal, match=f"newer Sparkwright .form {LATEST + 1}; this one knows {LATEST}"):
        opened(place)
    assert place.read_bytes() == before
    sql(place, f"PRAGMA user_version = {LATEST}")
    opened(place).close()
