"""The lists of a shop file, made again from what they list: whatever became of them, and nothing else with them."""

from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.storage.copies.doctor import look_over
from desktop.storage.records.remade_lists import remake_lists
from desktop.usecases.records.checking.health import Line, Word
from tests.commands.test_commands import Runner, run
from tests.core.records.pens import BEGAN, RealVerifier
from tests.storage.file_floor import QUIET, TEXT, copied, opened, sql
from tests.storage.signed_file import signed_file
from tests.storage.test_insider_edits import checked, past_guards, sentences

__all__ = ["run"]
SCHEMA = "SELECT type, name, tbl_name, sql FROM sqlite_master WHERE name NOT LIKE 'order_find_%' ORDER BY type, name"
HARM = {
    "rows taken out": ("DELETE FROM record_about WHERE number = 8", "DELETE FROM record_line WHERE number = 5"),
    "rows changed": ("UPDATE record_line SET name = 'Mal Chan', order_number = 9 WHERE number = 5",),
    "the lists of records dropped": ("DROP TABLE record_line", "DROP TABLE record_about"),
    "the list of orders dropped": ("DROP TABLE order_line",),
    "the words dropped": ("DROP TABLE order_word",),
    "the search dropped": ("DROP TABLE order_find",),
    "the search emptied": ("DELETE FROM order_line", "UPDATE order_word SET words = 'nothing'"),
    "another table in its place": ("DROP TABLE record_line", "CREATE TABLE record_line (number)"),
    "an index dropped": ("DROP INDEX record_line_by_kind",),
}


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file."""
    place = tmp_path_factory.mktemp("signed") / "mill.shop"
    signed_file(place)
    return place


@pytest.fixture
def place(signed: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may change."""
    return copied(signed, tmp_path)


@pytest.mark.parametrize("statements", HARM.values(), ids=HARM)
def test_that_lists_are_made_again_from_what_they_list(place: Path, statements: tuple[str, ...]) -> None:
    schema = sql(place, SCHEMA)
    sql(place, *statements)
    assert not checked(place).is_sound
    assert remake_lists(place, TEXT, QUIET) == (14, 2)
    assert sentences(checked(place)) == []
    assert sql(place, SCHEMA) == schema
    with opened(place) as file:
        assert [line.number for line in file.orders(["mill"])] == [2, 1]
        assert [one.number for one in file.envelopes_about(1)] == [5, 6, 7, 8]


def test_that_a_record_that_only_the_list_still_names_stays_named(place: Path) -> None:
    past_guards(place, "DELETE FROM envelope WHERE number = 14")
    before = place.read_bytes()
    with pytest.raises(Refusal, match="Record 14 is missing, and only the list still names it"):
        remake_lists(place, TEXT, QUIET)
    assert place.read_bytes() == before


def test_that_nothing_is_made_from_records_that_are_not_sound(place: Path) -> None:
    past_guards(place, "UPDATE envelope SET kind = 'void' WHERE number = 5", "DELETE FROM record_about")
    with pytest.raises(Refusal, match="Record 5 does not fit its record seal"):
        remake_lists(place, TEXT, QUIET)
    assert sql(place, "SELECT count(*) FROM record_about") == [(0,)]


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("DROP TRIGGER envelope_stays", "more than a list was changed"),
        ("DROP TABLE key_event", "more than a list was changed"),
        ("PRAGMA user_version = 6", "has an older form"),
        ("PRAGMA application_id = 5", "another program wrote it"),
    ],
)
def test_that_more_than_a_list_is_not_mended(place: Path, statement: str, words: str) -> None:
    sql(place, statement)
    with pytest.raises(Refusal, match=words):
        remake_lists(place, TEXT, QUIET)


def looked(place: Path) -> Line:
    """Return what the doctor says of the list of records."""
    lines = look_over(place, QUIET, BEGAN, RealVerifier())
    return next(line for line in lines if line.what == "list of records")


def test_that_the_doctor_sees_what_the_check_sees(place: Path) -> None:
    assert looked(place) == Line(Word.OK, "list of records", "14 lines, as the records say")
    sql(place, "DELETE FROM record_about WHERE number = 8")
    found = looked(place)
    assert found.word is Word.WRONG
    assert found.says.endswith(
        "does not agree with the records themselves. Make the lists again from the records: "
        "sparkwright doctor SHOP --remake-lists"
    )
    sql(place, "DROP TABLE record_about")
    assert looked(place) == found


def test_that_the_command_that_the_check_names_is_there(run: Runner, place: Path) -> None:
    sql(place, "DROP TABLE record_line", "DROP TABLE record_about")
    assert "sparkwright doctor SHOP --remake-lists" in run("verify", place).out
    ran = run("doctor", place, "--remake-lists")
    assert ran.out.splitlines()[0] == "The lists were made again: 14 records, 2 work orders."
    assert run("verify", place).status == 0
