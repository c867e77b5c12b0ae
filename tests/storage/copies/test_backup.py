"""Copies of a shop file: made, read back, and six sabotages told before anything is overwritten."""

import os
import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.backup import copy_name, rename_new
from desktop.storage.copies.closed_file import reading
from desktop.storage.copies.copy_desk import CopyDesk
from desktop.storage.copies.copy_seal import look_at, seal
from desktop.storage.copies.known_copies import newest_known
from desktop.storage.open_shops import mark_open
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import open_shop
from desktop.usecases.records.copies.copy_ports import BadCopy, MadeCopy, PreparedCopy, Sabotage, never_stops
from desktop.usecases.shop.book import book_time
from tests.storage.file_floor import QUIET, TEXT, FileFloor, made, opened, sql

NOW = datetime(2031, 3, 4, 9, 30, 5, tzinfo=UTC)
DESK = CopyDesk(QUIET, Ed25519Verifier())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where copies go."""
    found = tmp_path / "stick"
    found.mkdir()
    return found


@pytest.fixture
def copy(place: Path, folder: Path) -> Path:
    """A copy of the shop file."""
    return DESK.make(place, folder, NOW, never_stops).place


def names_in(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def prepared(copy: Path, shop: Path, *, unsealed: bool = False, desk: CopyDesk = DESK) -> PreparedCopy:
    with desk.prepare(copy, shop, never_stops, unsealed=unsealed) as found:
        return found


def put_back(copy: Path, shop: Path, *, unsealed: bool = False) -> Path | None:
    with DESK.prepare(copy, shop, never_stops, unsealed=unsealed) as found:
        return found.put_in_place(NOW)


def test_that_a_copy_holds_what_the_shop_holds_and_opens_as_a_shop(place: Path, folder: Path) -> None:
    made_copy = DESK.make(place, folder, NOW, never_stops)
    assert made_copy.place == folder / "Mill Shop 2031-03-04 093005.shop-copy"
    assert (made_copy.holds.orders, made_copy.holds.shop_name) == (1, "Mill Shop")
    assert names_in(folder) == [made_copy.place.name]
    with opened(place) as file, opened(made_copy.place) as other:
        assert other.order(1) == file.order(1)
        assert other.changes_since(1, 0) == file.changes_since(1, 0)
        assert other.faults() == ()


def test_that_a_copy_is_made_while_a_window_has_the_shop_open(floor: FileFloor, folder: Path) -> None:
    book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
    found = DESK.make(floor.file.place, folder, NOW, never_stops)
    assert found.holds.changes == floor.file.change_count()
    book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
    assert sql(found.place, "SELECT max(version) FROM work_order") == [(floor.file.version(1) - 1,)]


def test_that_nothing_is_ever_overwritten(place: Path, folder: Path) -> None:
    first = DESK.make(place, folder, NOW, never_stops).place
    kept = first.read_bytes()
    second = DESK.make(place, folder, NOW, never_stops).place
    assert second.name == "Mill Shop 2031-03-04 093005 (2).shop-copy"
    for there in (first, place):
        with pytest.raises(Refusal, match="is there already, and nothing is written over"):
            DESK.make(place, there, NOW, never_stops)
    named = DESK.make(place, folder / "mine", NOW, never_stops).place
    assert named.read_bytes() == second.read_bytes() == first.read_bytes() == kept


def test_that_a_copy_on_a_disk_without_second_names_overwrites_nothing(
    place: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_names: object) -> None:
        raise PermissionError("this disk has no second names")

    monkeypatch.setattr(os, "link", no_links)
    first = DESK.make(place, folder, NOW, never_stops).place
    assert DESK.make(place, folder, NOW, never_stops).place != first
    assert len(names_in(folder)) == 2


def test_that_a_name_is_one_for_every_disk() -> None:
    assert copy_name('A/B: "C" <Ü> ..', NOW) == "A B C Ü 2031-03-04 093005.shop-copy"
    assert copy_name("///", NOW) == "shop 2031-03-04 093005.shop-copy"
    assert len(copy_name("x" * 500, NOW)) < 120


def test_that_a_place_that_is_none_is_refused(place: Path, folder: Path) -> None:
    with pytest.raises(Refusal, match="There is no folder"):
        DESK.make(place, folder / "missing" / "name", NOW, never_stops)
    with pytest.raises(Refusal, match="no such file"):
        DESK.make(folder / "no.shop", folder, NOW, never_stops)
    stranger = folder / "stranger.db"
    sql(stranger, "CREATE TABLE t (a)")
    with pytest.raises(Refusal, match="is no shop file"):
        DESK.make(stranger, folder, NOW, never_stops)
    assert names_in(folder) == ["stranger.db"]


def test_that_a_copy_that_is_stopped_leaves_nothing(place: Path, folder: Path) -> None:
    looks = 0

    def stops_after(number: int) -> Callable[[int, int], bool]:
        def pace(_done: int, _of: int) -> bool:
            nonlocal looks
            looks += 1
            return looks <= number

        return pace

    DESK.make(place, folder / "all", NOW, stops_after(10_000))
    whole, stopped = looks, 0
    for number in range(whole):
        looks = 0
        with pytest.raises(Refusal, match="Stopped"):
            DESK.make(place, folder, NOW, stops_after(number))
        stopped += 1
    assert stopped == whole > 2
    assert names_in(folder) == ["all"]


def test_that_a_copy_that_is_not_what_was_read_is_taken_away(
    place: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:

    def a_bit_flips_first(there: Path, made_at: str, pace: Callable[[int, int], bool]) -> None:
        flip(there, there.read_bytes().index(b"Mill Flying Club"))
        seal(there, made_at, pace)

    monkeypatch.setattr("desktop.storage.copies.backup.seal", a_bit_flips_first)
    with pytest.raises(Refusal, match="The copy is not what the shop file holds"):
        DESK.make(place, folder, NOW, never_stops)
    assert names_in(folder) == []


def test_that_a_name_that_is_taken_meanwhile_is_left_alone(
    place: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def somebody_else(_place: Path, _made_at: str, _pace: object) -> None:
        seal(_place, _made_at, never_stops)
        (folder / "mine").write_text("somebody else's")

    monkeypatch.setattr("desktop.storage.copies.backup.seal", somebody_else)
    with pytest.raises(Refusal, match="is there already, and nothing is written over"):
        DESK.make(place, folder / "mine", NOW, never_stops)
    assert (folder / "mine").read_text() == "somebody else's"
    monkeypatch.setattr("desktop.storage.copies.backup._MOST_COPIES_A_SECOND", 2)
    DESK.make(place, folder, NOW, never_stops)
    with pytest.raises(Refusal, match="is there already"):
        DESK.make(place, folder, NOW, never_stops)
    monkeypatch.setattr("desktop.storage.copies.restore._MOST_NAMES", 1)
    with pytest.raises(Refusal, match="No name is left"):
        put_back(folder / "Mill Shop 2031-03-04 093005.shop-copy", place)


def test_that_a_disk_error_while_pages_are_read_is_said(place: Path, folder: Path) -> None:
    data = place.read_bytes()
    place.write_bytes(data[: 4096 * 5] + b"\xff" * 4096 * 3 + data[4096 * 8 :])
    with pytest.raises(Refusal, match=r"damaged|not sound"):
        DESK.make(place, folder, NOW, never_stops)
    assert names_in(folder) == []


def test_that_what_grew_while_it_was_sealed_is_no_copy(place: Path, folder: Path) -> None:
    odd = Path(shutil.copy(place, folder / "odd"))
    odd.write_bytes(odd.read_bytes() + b"more")
    with pytest.raises(Refusal, match="is not what was written"):
        seal(odd, NOW.isoformat(), never_stops)


def test_that_a_disk_that_is_full_or_fails_leaves_nothing(
    place: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_place: Path) -> None:
        raise OSError(28, "No space left on device")

    for name, said in (
        ("sync_file", "does not take the copy: No space left on device"),
        ("sync_folder", "after the copy had its name: No space left on device.*was read back and is there now"),
    ):
        with monkeypatch.context() as patched:
            patched.setattr(f"desktop.storage.copies.backup.{name}", full)
            with pytest.raises(Refusal, match=said):
                DESK.make(place, folder, NOW, never_stops)
    # The folder is asked last: the copy has its name by then, and is whole.
    assert len(names_in(folder)) == 1
    assert look_at(folder / names_in(folder)[0], never_stops).made_at == NOW.isoformat()


@pytest.mark.parametrize(
    ("done", "said"),
    [
        ("DROP TRIGGER journal_stays", "the guard journal_stays is missing"),
        ("CREATE TABLE mine (a)", "the table mine is not ours"),
        ("DROP INDEX order_line_by_state", "the index order_line_by_state is missing"),
    ],
)
def test_that_a_shop_file_that_is_not_sound_is_not_copied(place: Path, folder: Path, done: str, said: str) -> None:
    sql(place, done)
    with pytest.raises(Refusal, match=f"is not sound .{said}.*no copy was made"):
        DESK.make(place, folder, NOW, never_stops)
    assert names_in(folder) == []


def flip(place: Path, at: int, bit: int = 0) -> None:
    with place.open("r+b") as file:
        file.seek(at)
        [old] = file.read(1)
        file.seek(at)
        file.write(bytes([old ^ (1 << bit)]))


def refused_as(copy: Path, shop: Path) -> BadCopy:
    """Return the refusal, and see that nothing was touched."""
    before = {one: one.read_bytes() for one in (*shop.parent.iterdir(),) if one.is_file()}
    with pytest.raises(BadCopy) as refused:
        prepared(copy, shop)
    assert {one: one.read_bytes() for one in (*shop.parent.iterdir(),) if one.is_file()} == before
    return refused.value


def test_that_a_bit_that_flips_anywhere_is_told(place: Path, copy: Path) -> None:
    whole = copy.read_bytes()
    step = 97
    kinds = []
    for at in [*range(110), *range(110, len(whole), step * 8), *range(len(whole) - 300, len(whole))]:
        flip(copy, at, at % 8)
        with pytest.raises(BadCopy) as refused:
            look_at(copy, never_stops)
        kinds.append(refused.value.kind)
        flip(copy, at, at % 8)
    assert copy.read_bytes() == whole
    assert set(kinds) == {Sabotage.CHANGED}
    flip(copy, len(whole) // 2)
    assert refused_as(copy, place).sentence == (
        f"{copy} was changed after it was made: one place in it is not as it was written. Take another copy."
    )


def test_that_a_copy_that_is_cut_anywhere_is_told(place: Path, copy: Path) -> None:
    whole = copy.read_bytes()
    size = look_at(copy, never_stops).size
    for length in [*range(1, 120), *range(120, size, 3001), *range(size + 1, len(whole)), len(whole) - 1]:
        copy.write_bytes(whole[:length])
        with pytest.raises(BadCopy, match="is cut short") as refused:
            look_at(copy, never_stops)
        assert refused.value.kind is Sabotage.CUT, length
    copy.write_bytes(whole[: size // 2])
    assert refused_as(copy, place).sentence == (
        f"{copy} is cut short: only {size // 2} of {size} bytes of it are there. Take another copy."
    )
    copy.write_bytes(whole[:size])  # exactly the database: a plain copy, whose seal is missing
    assert refused_as(copy, place).kind is Sabotage.UNSEALED


def test_that_an_empty_copy_is_told(place: Path, copy: Path) -> None:
    copy.write_bytes(b"")
    assert refused_as(copy, place).sentence == f"{copy} is empty: nothing was copied into it. Take another copy."


def test_that_a_half_copied_copy_is_told(place: Path, copy: Path) -> None:
    whole = copy.read_bytes()
    half = len(whole) // 2
    copy.write_bytes(whole[:half] + bytes(len(whole) - half))
    assert refused_as(copy, place).sentence == (f"{copy} is half copied: it ends in blank space. Take another copy.")
    copy.write_bytes(bytes(half) + whole[half:])
    assert refused_as(copy, place).kind is Sabotage.HALF
    with opened(place) as file:
        floor = FileFloor(file)
        for number in range(20):
            book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, f"n{number}")
    newer = DESK.make(place, copy.parent / "newer", NOW, never_stops).place.read_bytes()
    copy.write_bytes(newer[: len(newer) // 2] + whole[len(newer) // 2 :])
    assert refused_as(copy, place).kind is Sabotage.HALF


def test_that_what_is_no_copy_is_told(place: Path, folder: Path) -> None:
    text = folder / "letter.txt"
    text.write_text("Dear sir, " * 1000)
    assert refused_as(text, place).sentence.startswith(f"{text} is no copy of a shop: another program wrote it")
    for wrong in (folder, folder / "missing"):
        with pytest.raises(Refusal, match="is no file that can be read"):
            prepared(wrong, place)
    with pytest.raises(Refusal, match="is the shop file itself"):
        prepared(place, place)
    with pytest.raises(Refusal, match="is a folder"):
        prepared(text, folder)


def test_that_another_shops_copy_is_seen(copy: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.shop"
    made(other).close()
    found = prepared(copy, other)
    assert found.present
    assert found.present.shop_id != found.holds.shop_id
    assert not found.is_ancestor


def test_that_an_older_copy_is_counted(place: Path, copy: Path) -> None:
    found = prepared(copy, place)
    assert found.present == found.holds
    assert found.is_ancestor
    with opened(place) as file:
        floor = FileFloor(file)
        floor.with_order()
        book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "")
    found = prepared(copy, place)
    assert found.present
    assert (found.present.orders, found.present.changes) == (found.holds.orders + 1, found.holds.changes + 2)
    assert found.is_ancestor
    assert found.made_at == NOW.isoformat()


def test_that_a_copy_that_was_worked_in_elsewhere_has_parted(place: Path, copy: Path, tmp_path: Path) -> None:
    other = Path(shutil.copy(place, tmp_path / "other.shop"))
    for one in (place, other):
        with opened(one) as file:
            floor = FileFloor(file)
            book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, one.name)
    found = prepared(DESK.make(other, copy.parent / "b", NOW, never_stops).place, place)
    assert found.present
    assert found.present.changes == found.holds.changes
    assert not found.is_ancestor


def test_that_a_restore_keeps_the_present_file_aside(place: Path, copy: Path) -> None:
    with opened(place) as file:
        floor = FileFloor(file)
        book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, "later")
    present = place.read_bytes()
    aside = put_back(copy, place)
    assert aside == place.with_name("copy kept aside 2031-03-04 093005.shop")
    assert aside.read_bytes() == present
    with opened(place) as file, opened(copy) as other:
        assert file.order(1) == other.order(1)
        assert file.faults() == ()
    assert names_in(place.parent) == ["copy kept aside 2031-03-04 093005.shop", "copy.shop", "stick"]
    assert put_back(copy, place) == place.with_name("copy kept aside 2031-03-04 093005 (2).shop")


def test_that_a_restore_makes_a_file_where_there_is_none(place: Path, copy: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.shop"
    assert put_back(copy, new) is None
    assert new.read_bytes() == copy.read_bytes()[: new.stat().st_size]
    with opened(new) as file:
        assert file.order(1) is not None


def test_that_a_damaged_present_file_is_kept_aside_with_what_lies_beside_it(place: Path, copy: Path) -> None:
    place.write_bytes(b"not a database" * 1000)
    found = prepared(copy, place)
    assert found.present is None
    assert found.why_unknown
    log = Path(f"{place}-wal")
    log.write_bytes(b"what another program left")
    found = prepared(copy, place)
    assert found.present is None
    assert found.why_unknown == f"another program has {place} open, or left it unfinished"
    aside = put_back(copy, place)
    assert aside
    assert Path(f"{aside}-wal").read_bytes() == b"what another program left"
    assert not log.exists()
    with opened(place) as file:
        assert file.faults() == ()


def test_that_a_restore_that_cannot_go_on_leaves_what_was_there(
    place: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = place.read_bytes()
    Path(f"{place}-wal").write_bytes(b"beside")
    calls = 0

    def fails_at(number: int) -> Callable[[Path, Path], None]:
        def renames(old: Path, new: Path) -> None:
            nonlocal calls
            calls += 1
            if calls == number:
                raise OSError(5, "Input/output error")
            rename_new(old, new)

        return renames

    for number in (1, 3):
        calls = 0
        monkeypatch.setattr("desktop.storage.copies.restore.rename_new", fails_at(number))
        with pytest.raises(Refusal, match="Input/output error"):
            put_back(copy, place)
        assert place.read_bytes() == before
        assert names_in(place.parent) == ["copy.shop", "copy.shop-wal", "stick"]


def test_that_nothing_is_restored_under_an_open_window(place: Path, copy: Path, tmp_path: Path) -> None:
    around = Surroundings(patience=10, state=tmp_path / "state")
    desk = CopyDesk(around, Ed25519Verifier())
    with open_shop(place, TEXT, around), pytest.raises(Refusal, match="open already"):
        prepared(copy, place, desk=desk)
    with desk.prepare(copy, place, never_stops, unsealed=False), pytest.raises(Refusal, match="open already"):
        open_shop(place, TEXT, around)
    open_shop(place, TEXT, around).close()
    mark_open(tmp_path / "state", prepared(copy, place, desk=desk).holds.shop_id, place).take_away()


def test_that_a_plain_copy_is_taken_when_it_is_asked_for(place: Path, tmp_path: Path, folder: Path) -> None:
    plain = Path(shutil.copy(place, folder / "plain.shop"))
    shop = tmp_path / "new.shop"
    assert refused_as(plain, shop).kind is Sabotage.UNSEALED
    assert prepared(plain, shop, unsealed=True).holds.orders == 1
    journal = Path(f"{plain}-journal")
    journal.write_bytes(b"x")
    with pytest.raises(BadCopy, match="a journal lies beside it"):
        prepared(plain, shop, unsealed=True)
    journal.unlink()
    data = plain.read_bytes()
    plain.write_bytes(data[:40] + b"\0" + data[41:])
    sql(plain, "DROP TRIGGER request_once", "DROP TRIGGER request_stays")
    with pytest.raises(BadCopy, match="is not sound: the guard request_once is missing"):
        prepared(plain, shop, unsealed=True)
    plain.write_bytes(data[:-4096])
    with pytest.raises(BadCopy, match="is cut short"):
        prepared(plain, shop, unsealed=True)


def test_that_a_copy_of_another_program_is_refused(folder: Path, tmp_path: Path) -> None:
    stranger = folder / "stranger.db"
    sql(stranger, "CREATE TABLE t (a)", "INSERT INTO t VALUES (1)")
    with pytest.raises(BadCopy, match="another program wrote it"):
        prepared(stranger, tmp_path / "new.shop", unsealed=True)
    sql(stranger, f"PRAGMA application_id = {0x5370776B}", "PRAGMA user_version = 999")
    with pytest.raises(BadCopy, match="newer Sparkwright"):
        prepared(stranger, tmp_path / "new.shop", unsealed=True)
    assert not (tmp_path / "new.shop").exists()


def test_that_the_newest_copy_is_written_down(place: Path, folder: Path, tmp_path: Path) -> None:
    state = tmp_path / "state"
    desk = CopyDesk(Surroundings(patience=10, state=state), Ed25519Verifier())
    found: MadeCopy = desk.make(place, folder, NOW, never_stops)
    known = newest_known(state, found.holds.shop_id)
    assert known
    assert (known.place, known.made_at, known.changes) == (found.place, NOW, found.holds.changes)
    assert newest_known(state, "another") is None
    [note] = (state / "copies").iterdir()
    for wrong in ("", "{", "[]", '{"place": 1}', note.read_text().replace("+00:00", "")):
        note.write_text(wrong)
        assert newest_known(state, found.holds.shop_id) is None
    blocked = CopyDesk(replace(QUIET, state=note), Ed25519Verifier())
    assert blocked.make(place, folder, NOW, never_stops).place.exists()


def test_that_a_text_that_is_no_text_can_be_looked_at(place: Path) -> None:
    sql(place, "DROP TRIGGER shop_stays", "UPDATE shop SET name = CAST (x'ff41' AS TEXT)")
    with reading(place, never_stops) as db:
        assert db.execute("SELECT name FROM shop").fetchall() == [("\\xffA",)]
    with pytest.raises(Refusal, match="is damaged"), reading(place, never_stops) as db:
        db.execute("SELECT nothing FROM nowhere")


def test_that_a_reader_that_is_stopped_says_so(place: Path) -> None:
    endless = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT count(*) FROM n"
    with pytest.raises(Refusal, match="Stopped"), reading(place, lambda _done, _of: False) as db:
        db.execute(endless).fetchall()
