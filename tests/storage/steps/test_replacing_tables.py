"""No row goes by an insert or a change that replaces it, by whichever of its keys, with the settings of any program."""

import sqlite3
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from tests.storage.file_floor import opened, sql
from tests.storage.signed_file import signed_file
from tests.storage.steps.test_migrations import old_file


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with a row in every table that the step guards."""
    place = tmp_path_factory.mktemp("signed") / "mill.shop"
    signed_file(place)
    sql(
        place,
        "INSERT INTO request VALUES ('first', 'x')",
        f"INSERT INTO scan VALUES ('{'0' * 64}', 'image/png', x'00')",  # noqa: S608 - what an insider writes
        "INSERT INTO printed VALUES ('7KQM-X2RT', 1, 1, 'card', 1)",
        "INSERT INTO sheet VALUES ('MS-7', 1, 'x')",
        "INSERT INTO sheet_revision VALUES ('MS-7', 1, 'x', 'y', 'z')",
        "INSERT INTO key_tries VALUES ('ab', 1, 0, 'now')",
        "INSERT INTO signed_seen VALUES ('MECH', 3)",
        "INSERT INTO shop_text VALUES ('settings', 'x')",
    )
    return place


@pytest.fixture
def place(signed: Path, tmp_path: Path) -> Path:
    """A copy of it."""
    copy = tmp_path / "copy.shop"
    copy.write_bytes(signed.read_bytes())
    return copy


BY_PLACE = {
    "request": "(rowid, id, answer) VALUES (1, 'x', 'y')",
    "scan": f"(rowid, digest, kind, bytes) VALUES (1, '{'1' * 64}', 'x', x'00')",
    "printed": "(rowid, code, number, card, kind, version) VALUES (1, 'x', 1, 1, 'card', 1)",
    "person": "(rowid, id, text) VALUES (1, 'QQ', 'x')",
    "tool": "(rowid, id, text) VALUES (1, 'QQ', 'x')",
    "task_card": "(rowid, digest, text) VALUES (1, 'abc', 'x')",
    "sheet": "(rowid, id, version, text) VALUES (1, 'abc', 1, 'x')",
    "sheet_revision": "(rowid, id, revision, digest, kind, text) VALUES (1, 'MS-7', 2, 'x', 'y', 'z')",
    "key_tries": "(rowid, public_key, begun, forgiven, last) VALUES (1, 'zz', 0, 0, 'x')",
    "signed_seen": "(rowid, person, number) VALUES (1, 'INSP', 0)",
    "shop_text": "(rowid, name, text) VALUES (1, 'x', 'y')",
}
RENAMED = {
    "person": "id = 'MECH' WHERE id = 'INSP'",
    "tool": "id = 'W-3' WHERE id <> 'W-3'",
    "sheet": "id = 'MS-8', version = version + 1",
    "shop_text": "name = 'details' WHERE name = 'settings'",
    "key_tries": "rowid = rowid + 1",
    "signed_seen": "rowid = rowid + 1",
}
STATEMENTS = {
    **{f"{table} by its place": f"INSERT OR REPLACE INTO {table} {rest}" for table, rest in BY_PLACE.items()},
    **{f"{table} renamed": f"UPDATE OR REPLACE {table} SET {rest}" for table, rest in RENAMED.items()},  # noqa: S608 - the same
    "person moved": "UPDATE OR REPLACE person SET rowid = 1 WHERE rowid = 2",
    "a row without a number": "INSERT INTO request (rowid, id, answer) VALUES (-1, 'x', 'y')",
}


def counts(place: Path) -> list[int]:
    return [sql(place, f"SELECT count(*) FROM {table}")[0][0] for table in BY_PLACE]  # noqa: S608 - names from here


@pytest.mark.parametrize("statement", STATEMENTS.values(), ids=STATEMENTS)
def test_that_no_row_is_replaced(place: Path, statement: str) -> None:
    before = counts(place)
    assert min(before) > 0
    words = "no row is replaced|keeps its name and its place|rows count from 1|versions have no gaps|a count of tries"
    for recursive in ("OFF", "ON"):
        with pytest.raises(sqlite3.IntegrityError, match=words):
            sql(place, "PRAGMA foreign_keys = OFF", f"PRAGMA recursive_triggers = {recursive}", statement)
    assert counts(place) == before


def test_that_a_file_of_the_form_before_lets_rows_go(tmp_path: Path) -> None:
    old = old_file(6, tmp_path)
    people = sql(old, "SELECT count(*) FROM person")
    sql(old, f"INSERT OR REPLACE INTO person {BY_PLACE['person']}")
    assert sql(old, "SELECT count(*), sum(id = 'QQ') FROM person") == [(people[0][0], 1)]  # one went for it


@pytest.mark.parametrize("name", ["request_in_no_other_place", "person_keeps_its_name", "scan_has_a_number"])
def test_that_a_file_without_such_a_guard_is_not_opened(place: Path, name: str) -> None:
    sql(place, f"DROP TRIGGER {name}")
    with pytest.raises(Refusal, match=f"was itself changed with another program .{name}"):
        opened(place)
