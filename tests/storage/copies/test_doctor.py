"""The doctor's page: a line for each thing, sound, worth a look, or wrong."""

import shutil
import sqlite3
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.copy_desk import CopyDesk
from desktop.storage.copies.doctor import OLDEST_COPY, look_over
from desktop.storage.library import sqlite_version
from desktop.storage.places import LEAST_FREE, Surroundings
from desktop.storage.steps.migrations import LATEST
from desktop.usecases.records.checking.health import Line, Word
from desktop.usecases.records.copies.copy_ports import never_stops
from desktop.usecases.shop.book import book_time
from tests.storage.file_floor import QUIET, FileFloor, opened, sql
from tests.storage.steps.test_migrations import old_file

NOW = datetime(2031, 3, 4, 9, 30, tzinfo=UTC)


def looked(place: Path, around: Surroundings = QUIET, now: datetime = NOW, free: int = LEAST_FREE) -> dict[str, Line]:
    return {line.what: line for line in look_over(place, around, now, Ed25519Verifier(), lambda _folder: free)}


def words(lines: dict[str, Line]) -> dict[str, str]:
    """Return what is not sound."""
    return {line.what: line.word.value for line in lines.values() if line.word is not Word.OK}


def test_that_a_sound_file_has_a_page_without_a_fault(place: Path, tmp_path: Path) -> None:
    around = Surroundings(patience=10, state=tmp_path / "state")
    assert words(looked(place, around)) == {"newest copy": "look"}
    made = CopyDesk(around, Ed25519Verifier()).make(place, tmp_path / "copy", NOW, never_stops)
    lines = looked(place, around)
    assert words(lines) == {}
    assert [lines[what].says for what in ("journal mode", "synchronous", "foreign keys", "recursive triggers")] == [
        "delete",
        "extra",
        "on",
        "on",
    ]
    assert lines["form of the file"].says == f"{LATEST}, the newest"
    assert lines["newest copy"].says.endswith("0 days old; nothing was done since")
    assert made.holds.chain.seal[:16] in lines["signed records"].says
    assert lines["free space"].says == "200 MB"


def test_that_the_doctor_changes_nothing(place: Path) -> None:
    before = place.read_bytes()
    looked(place)
    assert place.read_bytes() == before
    assert [one.name for one in place.parent.iterdir()] == [place.name]


def test_that_little_room_is_worth_a_look(place: Path) -> None:
    assert looked(place, free=LEAST_FREE - 1)["free space"].word is Word.LOOK
    assert looked(place, free=LEAST_FREE)["free space"].word is Word.OK
    assert look_over(place, QUIET, NOW, Ed25519Verifier())


def test_that_a_place_that_is_none_is_wrong(place: Path) -> None:
    (place.parent / ".sync-mark").touch()
    line = looked(place)["place"]
    assert line.word is Word.WRONG
    assert "copied to other machines" in line.says


def test_that_missing_guards_and_damaged_pages_are_wrong(place: Path) -> None:
    sql(
        place,
        "DROP TRIGGER journal_stays",
        "DROP TRIGGER journal_is_kept",
        "DROP TRIGGER journal_once",
        "DROP TRIGGER request_stays",
        "PRAGMA foreign_keys = OFF",
        "UPDATE journal SET number = 99 WHERE id = 1",
    )
    lines = looked(place)
    assert lines["tables and guards"].word is Word.WRONG
    assert "the guard journal_is_kept is missing; " in lines["tables and guards"].says
    assert "and 1 more" in lines["tables and guards"].says
    assert lines["quick check"].says.startswith("journal: a row refers to nothing")
    assert lines["settings"].word is Word.WRONG


def test_that_a_changed_record_is_wrong(place: Path) -> None:
    sql(place, "INSERT INTO envelope VALUES (1, 'void', x'00', 'a', 'b', 'c')")
    line = looked(place)["signed records"]
    assert line.word is Word.WRONG
    assert "Record 1" in line.says


def test_that_an_older_form_is_worth_a_look_and_stays_as_it_is(tmp_path: Path) -> None:
    old = old_file(1, tmp_path)
    lines = looked(old)
    assert lines["form of the file"].word is lines["settings"].word is Word.LOOK
    assert sql(old, "PRAGMA user_version") == [(1,)]
    assert lines["signed records"].says.startswith("0 records, sound")


def test_that_an_old_copy_is_worth_a_look_once_it_lacks_something(floor: FileFloor, tmp_path: Path) -> None:
    place = floor.file.place
    around = Surroundings(patience=10, state=tmp_path / "state")
    copy = CopyDesk(around, Ed25519Verifier()).make(place, tmp_path / "copy", NOW, never_stops)
    later = NOW + OLDEST_COPY + timedelta(days=1)
    assert looked(place, around, later)["newest copy"].word is Word.OK
    book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
    assert looked(place, around)["newest copy"].says.endswith("1 changes and 0 records were made since")
    assert looked(place, around)["newest copy"].word is Word.OK
    assert looked(place, around, later)["newest copy"].word is Word.LOOK
    assert "made after now" in looked(place, around, NOW - timedelta(days=1))["newest copy"].says
    copy.place.unlink()
    assert "it is not there now" in looked(place, around)["newest copy"].says


def test_that_what_cannot_be_read_is_refused(place: Path, tmp_path: Path) -> None:
    empty = tmp_path / "empty.shop"
    empty.touch()
    text = tmp_path / "letter.txt"
    text.write_text("Dear sir, " * 200)
    newer = Path(shutil.copy(place, tmp_path / "newer.shop"))
    sql(newer, "PRAGMA user_version = 999")
    strange = tmp_path / "strange.db"
    sql(strange, "CREATE TABLE t (a)")
    bare = Path(shutil.copy(place, tmp_path / "bare.shop"))
    sql(bare, "DROP TRIGGER shop_is_kept", "DELETE FROM shop")
    for wrong, said in (
        (tmp_path / "missing", "no such file"),
        (tmp_path, "is a folder"),
        (empty, "is empty"),
        (text, "damaged"),
        (newer, "newer Sparkwright"),
        (strange, "another program wrote it"),
        (bare, "holds no shop"),
    ):
        with pytest.raises(Refusal, match=said):
            looked(wrong)


def test_that_a_setting_that_does_not_hold_is_wrong(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    settings = (("foreign keys", "foreign_keys", 7, "seven"),)
    monkeypatch.setattr("desktop.storage.copies.doctor._SETTINGS", settings)
    assert looked(place)["foreign keys"] == Line(Word.WRONG, "foreign keys", "1, and should be seven")


def test_that_the_library_says_its_version() -> None:
    assert sqlite_version() == sqlite3.sqlite_version


def test_that_the_page_is_the_same_whoever_looks(place: Path) -> None:
    with opened(place):
        assert looked(place) == looked(place, replace(QUIET))
