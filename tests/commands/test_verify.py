"""``sparkwright verify``: what it prints, and its exit status."""

import json
import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from desktop.core.records.sealed.envelope import head_of
from desktop.usecases.records.checking.kept_besides import NOT_JUDGED
from tests.commands.test_commands import Ran, Runner, run
from tests.core.records.pens import SignedShop
from tests.storage.file_floor import copied, made, sql
from tests.storage.signed_file import signed_file

__all__ = ["run"]


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, SignedShop]:
    """A closed shop file and the pens of its people."""
    place = tmp_path_factory.mktemp("signed") / "mill.shop"
    return place, signed_file(place)


@pytest.fixture
def place(signed: tuple[Path, SignedShop], tmp_path: Path) -> Path:
    """A copy of it that a test may change."""
    return copied(signed[0], tmp_path)


@pytest.fixture
def shop(signed: tuple[Path, SignedShop]) -> SignedShop:
    """The records that stand in the file."""
    return signed[1]


def forge(place: Path) -> None:
    """Change a limit as somebody with a database tool would."""
    sql(
        place,
        "DROP TRIGGER envelope_stays",
        "UPDATE envelope SET content = CAST (replace (CAST (content AS TEXT), '23 to 25', '23 to 29') AS BLOB) "
        "WHERE number = 5",
    )


def test_that_a_sound_shop_is_said_in_its_last_line(run: Runner, place: Path, shop: SignedShop) -> None:
    head = shop.envelopes[-1].digest
    ran = run("verify", place)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == f"{NOT_JUDGED}\nMill Shop: 14 records, record seal {head[:16]}: sound.\n"
    ran = run("verify", place, "--json")
    assert (ran.status, ran.err) == (0, "")
    assert json.loads(ran.out) == {"shop": shop.shop_id, "count": 14, "head": head, "problems": []}


def test_that_a_changed_record_is_named(run: Runner, place: Path) -> None:
    forge(place)
    ran = run("verify", place)
    assert ran.status == 1
    lines = ran.out.splitlines()
    assert lines[0].endswith("another program: envelope_stays.")
    assert lines[1].startswith(
        "Record 5, card submitted, order 1 card 1, signed Mel Chan, does not fit its record seal"
    )
    assert lines[-1].endswith(": not sound, 3 problems.")
    ran = run("verify", place, "--json")
    assert ran.status == 1
    problems = json.loads(ran.out)["problems"]
    assert [set(problem) for problem in problems] == [{"number", "sentence", "names"}] * 3
    assert problems[1]["number"] == 5
    assert problems[1]["names"] == ["card submitted", "order 1 card 1", "Mel Chan"]


def test_that_a_papers_seal_is_looked_for(run: Runner, place: Path, shop: SignedShop) -> None:
    seal = shop.envelopes[4].digest[:16]
    ran = run("verify", place, "--head", seal.upper())
    assert ran.status == 0
    assert f"Note: The record seal {seal} of the paper is that of record 5." in ran.out
    ran = run("verify", place, "--head", seal, "--json")
    assert (ran.status, ran.err) == (0, f"The record seal {seal} of the paper is that of record 5.\n")
    assert json.loads(ran.out)["problems"] == []
    ran = run("verify", place, "--head", "0" * 16)
    assert ran.status == 1
    assert "set back, cut or replaced" in ran.out
    assert ran.out.splitlines()[-1].endswith("not sound, 1 problem.")


@pytest.mark.parametrize("seal", ["12", "0" * 17, "x" * 16])
def test_that_what_is_no_seal_is_refused_in_one_line(run: Runner, place: Path, seal: str) -> None:
    ran = run("verify", place, "--head", seal)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("sparkwright: This is no record seal")
    assert ran.err.count("\n") == 1


def test_that_an_empty_shop_is_sound(run: Runner, tmp_path: Path) -> None:
    with made(tmp_path / "new.shop") as file:
        seal = head_of(file.shop_id, None)[:16]
    ran = run("verify", tmp_path / "new.shop")
    assert (ran.status, ran.out) == (0, f"{NOT_JUDGED}\nMill Shop: 0 records, record seal {seal}: sound.\n")


def test_that_a_shop_can_be_checked_while_it_is_open_and_where_nothing_may_be_written(
    run: Runner, place: Path, tmp_path: Path
) -> None:
    before = place.read_bytes()
    place.chmod(0o400)
    other = sqlite3.connect(f"file:{place}?mode=ro", uri=True, isolation_level=None)
    other.execute("BEGIN")
    other.execute("SELECT count(*) FROM envelope").fetchall()
    assert run("verify", place).status == 0
    other.close()
    assert place.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [place.name]


@pytest.mark.skipif(sys.platform == "win32", reason="such a pipe is there only on other systems")
def test_that_nobody_waits_for_a_pipe(run: Runner, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.shop"
    os.mkfifo(pipe)
    assert "is no file that can be read whole" in refused(run("verify", pipe))


@pytest.mark.parametrize("seal", ["", " ", "\t"])
def test_that_a_seal_that_is_not_there_is_no_seal_that_was_found(run: Runner, place: Path, seal: str) -> None:
    assert "--head names no record seal" in refused(run("verify", place, "--head", seal))


def refused(ran: Ran) -> str:
    assert (ran.status, ran.out) == (2, ""), ran
    assert ran.err.startswith("sparkwright: ")
    assert ran.err.count("\n") == 1
    return ran.err


def test_that_what_cannot_be_read_is_refused_in_one_line(run: Runner, place: Path, tmp_path: Path) -> None:
    assert "cannot be opened" in refused(run("verify", tmp_path / "missing.shop"))
    assert f"{tmp_path / 'missing.shop'} cannot be opened" in refused(run("verify", tmp_path / "missing.shop"))
    assert "is a folder. Name the shop file" in refused(run("verify", tmp_path))
    odd = tmp_path / "odd.shop"
    for data in (b"", b"format = 1\n", b"SQLite format 3\0" + b"x" * 5000, place.read_bytes()[:5000]):
        odd.write_bytes(data)
        refused(run("verify", odd))
    sql(place, "PRAGMA user_version = 99")
    assert "newer Sparkwright" in refused(run("verify", place))


def test_that_a_file_with_a_damaged_middle_is_refused_or_not_sound(run: Runner, place: Path) -> None:
    [(page,)] = sql(place, "SELECT rootpage FROM sqlite_master WHERE name = 'envelope'")
    [(size,)] = sql(place, "PRAGMA page_size")
    data = bytearray(place.read_bytes())
    data[(page - 1) * size : (page - 1) * size + 200] = b"\xff" * 200
    place.write_bytes(data)
    assert "damaged" in refused(run("verify", place))


@pytest.mark.parametrize(
    "statement",
    [
        "DROP TABLE work_order",
        "DROP TABLE person",
        "DROP TABLE shop",
        "DELETE FROM shop",
        "UPDATE person SET text = CAST (x'ff' AS TEXT)",
    ],
)
def test_that_a_file_without_what_every_shop_has_is_refused(run: Runner, place: Path, statement: str) -> None:
    sql(place, "DROP TRIGGER shop_is_kept", statement)
    refused(run("verify", place))


def test_that_signs_that_steer_a_terminal_are_shown_as_codes(run: Runner, place: Path) -> None:
    sql(
        place,
        "UPDATE record_line SET name = 'x' || char (27) || '[2J' WHERE number = 14",
        "DROP TRIGGER envelope_is_kept",
        "DELETE FROM envelope WHERE number = 14",
    )
    ran = run("verify", place)
    assert ran.status == 1
    assert "signed x[U+001B][2J, is missing" in ran.out
    assert "\x1b" not in ran.out + run("verify", place, "--json").out


def test_that_a_file_that_was_left_unfinished_is_said(run: Runner, place: Path) -> None:
    # A process that dies with a page written and its journal beside it.
    code = (
        "import os, sqlite3, sys; db = sqlite3.connect(sys.argv[1], isolation_level=None); "
        "db.execute('PRAGMA cache_size = 1'); db.execute('BEGIN'); "
        "db.execute(\"UPDATE order_line SET asked = 'x'\"); "
        "db.execute('CREATE TABLE big (x)'); "
        "db.executemany('INSERT INTO big VALUES (?)', [('y' * 3000,)] * 50); os._exit(0)"
    )
    subprocess.run([sys.executable, "-c", code, place], check=True)
    journal = Path(f"{place}-journal")
    assert journal.exists()
    os.sync()
    assert "left unfinished" in refused(run("verify", place))
    with sqlite3.connect(place) as db:
        db.execute("SELECT count(*) FROM envelope").fetchall()
    db.close()
    assert run("verify", place).status == 0
