"""What was being kept when the program did not end by itself: written down before, told once at the next start."""

import json
import os
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from shutil import copy

import pytest

from desktop.core.errors import Refusal
from desktop.files.sheets import demo_sheets
from desktop.signing import Ed25519Verifier
from desktop.storage import in_hand
from desktop.storage.copies.doctor import look_over
from desktop.storage.in_hand import HandNote
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import ShopFile, open_shop
from desktop.storage.shop_work import FileWork
from desktop.usecases.records.checking.health import Line, Word
from desktop.usecases.records.checking.last_time import ENDED, InHand, LastTime, is_all_kept, last_time_words
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.keep_lists import keep_tool
from desktop.usecases.shop.lists.sheets import import_sheet
from desktop.usecases.shop.ports import Answer
from tests.storage.file_floor import LIGHT, TEXT, FileFloor
from tests.usecases.records.signing_floor import SigningFloor, made_floor
from tests.usecases.shop.shop_floor import TOOLS

AT = datetime(2031, 3, 4, 9, 7, tzinfo=UTC)
READING = 'was this: W-0001: card 1: left magneto, approach 1, light: "23" became "24.5". '


class Killed(BaseException):
    """The process is gone."""


@pytest.fixture
def around(tmp_path: Path) -> Surroundings:
    """A machine with a user's folder."""
    return Surroundings(state=tmp_path / "state", patience=10)


def notes(around: Surroundings) -> list[Path]:
    return sorted((around.state or Path()).rglob("in-hand/*/*"))


def kill(file: ShopFile) -> None:
    """Let go of everything as the system does for a process that was killed."""
    note, mark = file._note, file._mark  # noqa: SLF001 - nobody else lets go without clearing away
    file._db.close()  # noqa: SLF001 - the same
    if note is not None and note._file is not None:  # noqa: SLF001 - the same
        note._file.close()  # noqa: SLF001 - the same
    if mark is not None:
        mark._file.close()  # noqa: SLF001 - the same


def killed_at_commit(file: ShopFile, monkeypatch: pytest.MonkeyPatch, act: Callable[[], object]) -> None:
    """Kill the process after it wrote the note and before the shop file has anything."""

    def dies(file: ShopFile, work: FileWork) -> None:
        if work._hand.request or work._hand.record:  # noqa: SLF001 - a try of a secret is no end
            raise Killed
        file._db.execute("COMMIT")  # noqa: SLF001 - the same

    with monkeypatch.context() as patch, suppress(Killed):
        patch.setattr(ShopFile, "_commit", dies)
        act()
    kill(file)


def told(place: Path, around: Surroundings) -> str:
    with open_shop(place, TEXT, around) as file:
        return last_time_words(file.last_time())


def type_in(file: ShopFile, typed: str) -> None:
    floor = FileFloor(file)
    take_reading(floor.shop, floor.by("MECH"), 1, 1, (LIGHT, typed))


def test_that_an_orderly_close_leaves_nothing_to_tell(place: Path, around: Surroundings) -> None:
    with open_shop(place, TEXT, around) as file:
        assert notes(around) == []
        type_in(file, "23")
        type_in(file, "24")
        assert len(notes(around)) == 1
    assert notes(around) == []
    assert told(place, around) == ""


def test_that_what_was_kept_before_the_end_is_told_as_kept_and_once(place: Path, around: Surroundings) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    type_in(file, "24.5")
    kill(file)
    said = told(place, around)
    assert said.startswith(f"{ENDED} The last thing to be kept, by Mel Chan on ")
    assert said.endswith(f"{READING}It was kept.")
    assert told(place, around) == ""
    assert notes(around) == []


def test_that_the_doctor_says_it_too_until_the_window_that_told_it_is_closed(
    place: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch
) -> None:
    def looked() -> list[Line]:
        lines = look_over(place, around, AT, Ed25519Verifier())
        return [line for line in lines if line.what == "last time"]

    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    assert looked() == []
    killed_at_commit(file, monkeypatch, lambda: type_in(file, "24.5"))
    [line] = before = looked()
    assert line.word is Word.LOOK
    assert line.says.endswith(f"{READING}It was not kept. Do it again")
    with open_shop(place, TEXT, around) as again:
        assert again.last_time()
        assert looked() == before
        assert again.last_time() == ()
    assert looked() == []
    file = open_shop(place, TEXT, around)
    type_in(file, "24.5")
    kill(file)
    [line] = looked()
    assert line.word is Word.OK
    again = open_shop(place, TEXT, around)
    assert again.last_time()
    kill(again)
    assert told(place, around) == ""
    assert looked() == []


def test_that_what_was_not_kept_is_told_as_that(
    place: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    killed_at_commit(file, monkeypatch, lambda: type_in(file, "24.5"))
    said = told(place, around)
    assert said.endswith(f"{READING}It was not kept. Do it again.")
    with open_shop(place, TEXT, around) as again:
        assert FileFloor(again).light() == "23"


def test_that_a_window_that_lives_is_not_told(place: Path, around: Surroundings) -> None:
    with open_shop(place, TEXT, around) as file:
        type_in(file, "23")
        assert told(place, around) == ""
        assert len(notes(around)) == 1


def test_that_another_file_of_the_shop_hears_nothing(place: Path, around: Surroundings) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    kill(file)
    other = Path(copy(place, place.with_name("other.shop")))
    assert told(other, around) == ""
    assert told(place, around).endswith("It was kept.")


def test_that_a_signed_record_is_told_by_its_name(
    tmp_path: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch
) -> None:
    floor = made_floor(tmp_path / "mill.shop", None)
    floor.enrol("KEEP", "MECH").file.close()
    place = floor.file.place
    file = open_shop(place, TEXT, around)
    SigningFloor(file, None, floor.clock).sign()
    kill(file)
    assert told(place, around).endswith("was this: card submitted, order 1 card 1. It was kept.")
    file = open_shop(place, TEXT, around)
    killed_at_commit(file, monkeypatch, SigningFloor(file, None, floor.clock).sign)
    assert told(place, around).endswith("was this: card submitted, order 1 card 1. It was not kept. Do it again.")


def test_that_tools_and_sheets_are_told_in_words(place: Path, around: Surroundings) -> None:
    file = open_shop(place, TEXT, around)
    floor = FileFloor(file)
    keep_tool(floor.shop, floor.new("KEEP"), replace(TOOLS[0], id="L-2", version=0))
    kill(file)
    said = told(place, around)
    assert "The last thing to be kept, on 20" in said
    assert said.endswith("was this: keep the list of tools: L-2. It was kept.")
    file, sheet = open_shop(place, TEXT, around), demo_sheets()[0]
    floor = FileFloor(file)
    import_sheet(floor.shop, floor.new("KEEP"), sheet)
    kill(file)
    said = told(place, around)
    assert "to be kept, by Kit Eeper on 20" in said
    assert said.endswith(f"was this: write a limits sheet: {sheet.id}. It was kept.")


@pytest.mark.parametrize("damage", [b"", b"{}", b"\xff" * 4096, b"[" * 4096, "cut"], ids=range(5))
def test_that_a_damaged_note_says_that_it_cannot_be_told(
    place: Path, around: Surroundings, damage: bytes | str
) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    kill(file)
    [note] = notes(around)
    data = note.read_bytes()
    note.write_bytes(data[:100] + data[101:] + b" " if isinstance(damage, str) else damage)
    assert told(place, around) == (
        f"{ENDED} What was being kept last cannot be told any more: its note is damaged. Look at what you entered."
    )
    assert notes(around) == []


def test_that_a_note_with_strange_values_is_a_damaged_one(place: Path, around: Surroundings) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    kill(file)
    [note] = notes(around)
    _, _, text = note.read_bytes().rstrip().partition(b"\n")
    for odd in ({"at": "noon"}, {"at": "2031-03-04T09:07:00"}, {"record": "x"}, {"what": None}):
        data = json.dumps({**json.loads(text), **odd}).encode()
        if "what" in odd:
            data = json.dumps({name: held for name, held in json.loads(text).items() if name != "what"}).encode()
        note.write_bytes((sha256(data).hexdigest().encode() + b"\n" + data).ljust(4096))
        assert [one.hand for one in in_hand.left_behind(around.state or Path(), note.parent.name, place)] == [None]


def test_that_a_folder_that_takes_no_note_keeps_nobody_from_working(place: Path, around: Surroundings) -> None:
    (around.state or Path()).mkdir()
    ((around.state or Path()) / "in-hand").write_text("in the way", "utf-8")
    with open_shop(place, TEXT, around) as file:
        type_in(file, "23")
        assert FileFloor(file).light() == "23"
        assert file.last_time() == ()
    assert told(place, Surroundings(patience=10)) == ""


def test_that_a_note_that_cannot_be_written_any_more_tells_nothing_old(
    place: Path, around: Surroundings, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    type_in(file, "24")
    monkeypatch.undo()
    kill(file)
    assert told(place, around) == ""


def test_that_a_request_with_an_endless_name_has_no_note(tmp_path: Path) -> None:
    note = HandNote(tmp_path, "a" * 32, tmp_path / "mill.shop")
    note.write(InHand("x", "", AT, "r" * 101))
    assert list(tmp_path.rglob("*.note")) == []
    note.write(InHand("\x00" * 5000, "ü" * 5000, AT, "r"))
    assert len(list(tmp_path.rglob("*.note"))) == 1
    note.take_away()
    note.take_away()
    assert list(tmp_path.rglob("*.note")) == []


def test_that_a_damaged_roster_keeps_nobody_from_the_note(place: Path, around: Surroundings) -> None:
    with open_shop(place, TEXT, around) as file, file.changing() as work:
        work.done("one", Answer("keep a thing", "1", 1))
        work._hand.by = "MECH"  # noqa: SLF001 - as an order says who it was
        file._db.execute("UPDATE person SET text = '{' WHERE id = 'MECH'")  # noqa: SLF001 - another program
        found = work.in_hand(AT)
        assert found is not None
        assert found.by == "MECH"


def test_that_a_note_is_not_looked_for_under_a_strange_name(tmp_path: Path) -> None:
    assert list(in_hand.left_behind(tmp_path, "../..", tmp_path / "mill.shop")) == []


def test_that_several_windows_are_told_the_newest_last() -> None:
    hands = [InHand(f"thing {number}", "", AT + timedelta(minutes=number), str(number)) for number in (4, 1, 3, 2)]
    found = [LastTime(hand, is_kept=True) for hand in hands]
    assert last_time_words(found[:2]) == (
        f"{ENDED} The last thing to be kept, on 2031-03-04 at 09:08, was this: thing 1. It was kept. "
        "The last thing to be kept, on 2031-03-04 at 09:11, was this: thing 4. It was kept."
    )
    many = last_time_words(found)
    assert many.startswith(f"{ENDED} 4 windows ended with it; these are the last 3. ")
    assert "thing 1" not in many
    assert is_all_kept(found)
    assert not is_all_kept([*found, LastTime(None)])
    assert last_time_words([]) == ""


def test_that_a_shop_file_that_cannot_be_asked_keeps_the_note(place: Path, around: Surroundings) -> None:
    file = open_shop(place, TEXT, around)
    type_in(file, "23")
    kill(file)
    with open_shop(place, TEXT, around) as again:
        other = sqlite3.connect(place, isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        again._db.execute("PRAGMA busy_timeout = 1")  # noqa: SLF001 - nobody waits here
        with pytest.raises(Refusal, match="Another window is writing"):
            again.last_time()
        other.close()
        assert len(notes(around)) == 1
        assert last_time_words(again.last_time()).endswith("It was kept.")
