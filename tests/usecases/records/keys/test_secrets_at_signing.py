"""A secret at every signature: tries are counted before it is looked at, and no trick gives one back."""

import json
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.shop.people.secrets import MOST_TRIES
from desktop.signing import KeyMaker, OpenEd25519Key
from desktop.storage.records.key_store import KeyStore
from desktop.usecases.records.keys.people_ports import KeyEventKind, WrappedKey
from desktop.usecases.records.keys.secrets import hand_of, key_events, key_state, unlock_key
from tests.storage.file_floor import sql
from tests.usecases.records.signing_floor import (
    PHRASES,
    WRONG,
    SigningFloor,
    StandingClock,
    opened_floor,
    refused,
)


@contextmanager
def reopened(place: Path, state: Path | None, clock: StandingClock | None = None) -> Iterator[SigningFloor]:
    floor = opened_floor(place, state, clock)
    yield floor
    floor.file.close()


def counts(floor: SigningFloor) -> tuple[int, int]:
    """Wrong tries of MECH in the file and on the machine."""
    with floor.file.changing() as work:
        signing = floor.desk.keys.within(work)
        key = signing.key("MECH")
        assert key is not None
        here = floor.desk.keys.counted_here(key.public_key)
        return signing.tries(key.public_key).wrong, here.wrong if here else 0


def without_guards(place: Path, *statements: str) -> None:
    """Change a file as an insider does: the triggers are taken off, and put back word for word afterwards."""
    triggers = sql(place, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name LIKE '%key%'")
    sql(place, *(f"DROP TRIGGER {name}" for name, _ in triggers), *statements, *(text for _, text in triggers))


def test_that_a_wrong_secret_is_said_with_its_wait_and_the_right_one_ends_the_count(floor: SigningFloor) -> None:
    words = refused(lambda: floor.hand("MECH", WRONG))
    assert words == "This is not the secret of Mel Chan. Wrong tries in a row: 1 of 10. Wait 1 second."
    floor.clock.move(1)
    assert refused(lambda: floor.hand("MECH", WRONG)).endswith("2 of 10. Wait 2 seconds.")
    assert refused(floor.sign) == "Wait 2 seconds, then try again. This try was not counted."
    assert counts(floor) == (2, 2)
    assert (key_state(floor.desk, "MECH").seconds, key_state(floor.desk, "MECH").wrong) == (2, 2)
    floor.clock.move(2)
    floor.sign()
    assert counts(floor) == (0, 0)
    assert key_state(floor.desk, "MECH") == replace(key_state(floor.desk, "KEEP"), wrong=0)


def test_that_ten_wrong_tries_lock_a_key_also_for_its_owner(floor: SigningFloor) -> None:
    said = floor.wrong(MOST_TRIES)
    assert said[8].endswith("9 of 10. Wait 256 seconds.")
    assert said[9].endswith("The key is locked now. Another records keeper can unlock it.")
    words = refused(floor.sign)
    assert words == "The key of Mel Chan is locked after 10 wrong tries. Kit Eeper or Rolf Ecord can unlock it."
    assert key_state(floor.desk, "MECH").is_locked
    assert counts(floor) == (10, 10)


def test_that_nine_wrong_tries_and_a_right_one_lock_nothing(floor: SigningFloor) -> None:
    floor.wrong(MOST_TRIES - 1)
    floor.sign()
    floor.wrong(MOST_TRIES - 1)
    floor.sign()
    assert counts(floor) == (0, 0)


def test_that_a_second_records_keeper_unlocks_a_key_and_it_is_written_down(floor: SigningFloor) -> None:
    floor.wrong(MOST_TRIES, "ROLF")
    assert "Nobody unlocks their own key" in refused(
        lambda: unlock_key(floor.desk, floor.by("ROLF"), "ROLF", PHRASES["ROLF"])
    )
    assert "Mel Chan does not keep the records" in refused(
        lambda: unlock_key(floor.desk, floor.by("MECH"), "ROLF", PHRASES["MECH"])
    )
    assert "not the secret of Kit" in refused(lambda: unlock_key(floor.desk, floor.by("KEEP"), "ROLF", WRONG))
    floor.clock.move(60)
    request = floor.by("KEEP")
    answer = unlock_key(floor.desk, request, "ROLF", PHRASES["KEEP"])
    assert unlock_key(floor.desk, request, "ROLF", PHRASES["KEEP"]) == answer
    floor.hand("ROLF")
    words = refused(lambda: unlock_key(floor.desk, floor.by("KEEP"), "ROLF", PHRASES["KEEP"]))
    assert words == "The key of Rolf Ecord is not locked. They can sign."
    [event] = key_events(floor.desk)
    assert (event.what, event.person, event.wrong) == (KeyEventKind.UNLOCKED, "KEEP", 10)


def test_that_a_lone_records_keeper_who_is_locked_out_is_told_so(new_floor: SigningFloor) -> None:
    new_floor.enrol("KEEP").wrong(MOST_TRIES, "KEEP")
    assert refused(lambda: new_floor.hand("KEEP")).endswith(
        "another records keeper can unlock it, and none is enrolled."
    )


def test_that_a_count_survives_a_restart(place: Path, state: Path) -> None:
    with reopened(place, state) as floor:
        floor.wrong(6)
    with reopened(place, state) as floor:
        floor.clock.move(3600)
        assert "7 of 10" in refused(lambda: floor.hand("MECH", WRONG))


def test_that_a_try_that_is_broken_off_has_been_used(place: Path, state: Path) -> None:
    class Killed(KeyMaker):
        """The process ends while the secret is looked at."""

        def open_key(self, key: WrappedKey, secret: str) -> OpenEd25519Key:  # noqa: ARG002 - it never looks
            raise KeyboardInterrupt

    with reopened(place, state) as floor:
        desk = replace(floor.desk, locksmith=Killed())
        for used in range(1, 4):
            with pytest.raises(KeyboardInterrupt):
                hand_of(desk, "MECH", PHRASES["MECH"])
            assert counts(floor) == (used, used)
            floor.clock.move(60)
    with reopened(place, None) as floor:
        assert key_state(floor.desk, "MECH").wrong == 3


def test_that_a_clock_set_back_shortens_no_wait_and_is_said_and_written_down(floor: SigningFloor) -> None:
    floor.wrong(8)
    floor.clock.move(-600)
    words = refused(lambda: floor.hand("MECH", WRONG))
    assert words.startswith("Wait 128 seconds")
    floor.clock.move(-365 * 86400)
    assert "The clock of this machine was set back" in " ".join(key_state(floor.desk, "MECH").notices)
    words = refused(floor.sign)
    assert words.startswith("Wait 128 seconds")
    assert "The clock of this machine was set back" in words
    # The wait began again at the clock as it is now: it does not last a year.
    floor.clock.move(127)
    assert refused(floor.sign).startswith("Wait 1 second,")
    floor.clock.move(1)
    hand = floor.hand("MECH")
    assert hand.notices == ()
    assert [event.what for event in key_events(floor.desk)] == [KeyEventKind.CLOCK_SET_BACK]


def test_that_a_clock_set_back_is_said_even_where_nobody_waits(floor: SigningFloor) -> None:
    floor.sign()
    floor.clock.move(-61)
    assert "was set back" in floor.hand("MECH").notices[0]
    floor.clock.move(-59)
    assert floor.hand("MECH").notices == ()


def test_that_a_file_copied_back_resets_no_count_and_is_noticed(place: Path, state: Path, tmp_path: Path) -> None:
    kept = Path(shutil.copy(place, tmp_path / "kept"))
    with reopened(place, state) as floor:
        floor.wrong(MOST_TRIES - 1)
        clock = floor.clock
    shutil.copy(kept, place)
    with reopened(place, state, clock) as floor:
        state_then = key_state(floor.desk, "MECH")
        assert state_then.wrong == 9
        words = refused(lambda: floor.hand("MECH", WRONG))
        assert "10 of 10. The key is locked now." in words
        assert "count of wrong tries of Mel Chan's key was set back: this machine saw 9 in a row" in words
        assert counts(floor) == (10, 10)
        assert [event.what for event in key_events(floor.desk)] == [KeyEventKind.TRIES_SET_BACK]
        # Said once: from now on the file tells of them too.
        assert "set back" not in refused(floor.sign)
    # The control: a machine that counts nothing believes the file.
    shutil.copy(kept, place)
    with reopened(place, None) as floor:
        assert key_state(floor.desk, "MECH").wrong == 0
        floor.sign()


@pytest.mark.parametrize(
    "statement",
    ["UPDATE key_tries SET begun = 0, forgiven = 0", "UPDATE key_tries SET forgiven = begun", "DELETE FROM key_tries"],
)
def test_that_a_counter_copied_into_the_file_resets_no_count_and_is_noticed(
    place: Path, state: Path, statement: str
) -> None:
    with reopened(place, state) as floor:
        floor.wrong(7)
        clock = floor.clock
    without_guards(place, statement)
    with reopened(place, None, clock) as blind:  # the control
        assert key_state(blind.desk, "MECH").wrong == 0
    with reopened(place, state, clock) as floor:
        assert key_state(floor.desk, "MECH").wrong == 7
        assert "was set back" in floor.hand("MECH").notices[0]
        assert [event.what for event in key_events(floor.desk)] == [KeyEventKind.TRIES_SET_BACK]


def test_that_a_counter_of_the_machine_that_is_copied_back_or_gone_resets_no_count(place: Path, state: Path) -> None:
    with reopened(place, state) as floor:
        floor.wrong(2)
        early = Path(shutil.copytree(state, state.parent / "early"))
        floor.wrong(5)
        clock = floor.clock
    for replaced in (early, None):
        shutil.rmtree(state)
        if replaced:
            shutil.copytree(replaced, state)
        with reopened(place, state, clock) as floor:
            assert key_state(floor.desk, "MECH").wrong == 7


def test_that_a_damaged_counter_of_the_machine_gives_no_try(floor: SigningFloor, state: Path) -> None:
    floor.wrong(1)
    [counter] = state.rglob("*.json")
    good = counter.read_text()
    table = json.loads(good)
    for spoilt in (
        "",
        "[1]",
        "{}",
        '{"begun": 0}',
        json.dumps({**table, "last": "2031-03-04"}),
        json.dumps({**table, "forgiven": 9}),
        "[" * 900,
    ):
        counter.write_text(spoilt)
        assert "cannot be read" in refused(floor.sign)
    counter.write_text(good)
    floor.sign()


def test_that_a_file_that_was_at_another_machine_raises_no_alarm(place: Path, state: Path, tmp_path: Path) -> None:
    with reopened(place, state) as floor:
        floor.sign()
        clock = floor.clock
    with reopened(place, tmp_path / "other", clock) as floor:
        floor.wrong(3)
        floor.sign()
    with reopened(place, state, clock) as floor:
        assert key_state(floor.desk, "MECH").notices == ()
        assert floor.hand("MECH").notices == ()


def test_that_a_secret_too_long_to_be_one_costs_no_try(floor: SigningFloor) -> None:
    assert "at most 256 characters" in refused(lambda: floor.hand("MECH", "x" * 257))
    assert counts(floor) == (0, 0)


def test_that_somebody_who_cannot_sign_is_told_before_a_secret_is_looked_at(floor: SigningFloor) -> None:
    for person in ("DESK", "NOBODY"):
        refused(lambda who=person: hand_of(floor.desk, who, WRONG))  # type: ignore[misc]
        refused(lambda who=person: key_state(floor.desk, who))  # type: ignore[misc]
    assert key_events(floor.desk) == ()


def test_that_a_key_put_in_the_place_of_another_signs_nothing(place: Path, state: Path) -> None:
    with reopened(place, state) as floor:
        forged = floor.desk.locksmith.new_key("MECH", WRONG, floor.desk.strength)
        with floor.file.changing() as work:
            floor.desk.keys.within(work).put_key(forged)
        words = refused(lambda: floor.hand("MECH", WRONG))
        assert words.startswith("The key that is kept for Mel Chan is not the one in the signed records")
        floor.hand("KEEP")
    without_guards(place, "DELETE FROM key_tries", "DELETE FROM person_key WHERE person = 'MECH'")
    with reopened(place, state) as floor:
        assert "is not the one in the signed records" in refused(floor.sign)


@pytest.mark.parametrize(
    "damage",
    ["memory = 4194304", "memory = 8", "passes = 1000000", "lanes = 0", "wrapped = 'zz'", "salt = '00'", "nonce = ''"],
)
def test_that_hostile_parameters_of_a_key_are_refused_before_any_work(place: Path, state: Path, damage: str) -> None:
    without_guards(place, f"UPDATE person_key SET {damage} WHERE person = 'MECH'")  # noqa: S608
    with reopened(place, state) as floor:
        assert "damaged key" in refused(floor.sign)
        floor.hand("KEEP")


def test_that_a_damaged_count_or_event_is_refused(place: Path, state: Path) -> None:
    with reopened(place, state) as floor:
        floor.wrong(MOST_TRIES)
        unlock_key(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"])
    without_guards(place, "UPDATE key_tries SET last = 'noon'", "UPDATE key_event SET what = 'nothing'")
    with reopened(place, state) as floor:
        assert "damaged key" in refused(floor.sign)
        assert "damaged key" in refused(lambda: key_events(floor.desk))


def test_that_keys_are_kept_in_a_shop_file_and_nowhere_else(floor: SigningFloor) -> None:
    with pytest.raises(TypeError, match="in a shop file"):
        KeyStore(None, "x").within(object())  # type: ignore[arg-type]
    with floor.file.changing() as work:
        signing = floor.desk.keys.within(work)
    with pytest.raises(ValueError, match="over"):
        signing.key("MECH")


def test_that_a_machine_whose_folder_cannot_be_written_signs_nothing(
    floor: SigningFloor, state: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("desktop.storage.records.machine_tries.os.fsync", full)
    assert "Tries cannot be written down" in refused(floor.sign)
    assert list(state.rglob("*.new")) == []
    monkeypatch.undo()
    floor.clock.move(60)
    floor.sign()


def test_that_a_key_that_was_never_tried_has_no_count(floor: SigningFloor) -> None:
    with floor.file.changing() as work:
        signing = floor.desk.keys.within(work)
        key = signing.key("MECH")
        assert key is not None
        tries = replace(signing.tries(key.public_key), last=None)
        with pytest.raises(ValueError, match="never tried"):
            signing.put_tries(key.public_key, tries)
        with pytest.raises(ValueError, match="never tried"):
            floor.desk.keys.count_here(key.public_key, tries)


GUARDED = {
    "a key changed": "UPDATE person_key SET wrapped = ''",
    "a key erased": "DELETE FROM person_key",
    "a key replaced": "INSERT OR REPLACE INTO person_key SELECT * FROM person_key",
    "a count set back": "UPDATE key_tries SET begun = 0, forgiven = 0",
    "a try taken back": "UPDATE key_tries SET begun = begun - 1, forgiven = 0",
    "forgiveness taken back": "UPDATE key_tries SET forgiven = forgiven - 1",
    "a count erased": "DELETE FROM key_tries",
    "a count replaced": "INSERT OR REPLACE INTO key_tries SELECT public_key, 0, 0, last FROM key_tries",
    "an event erased": "DELETE FROM key_event",
    "an event changed": "UPDATE key_event SET wrong = 0",
    "an event replaced": "INSERT OR REPLACE INTO key_event SELECT * FROM key_event",
    "what was seen set back": "UPDATE signed_seen SET number = number - 1",
    "what was seen erased": "DELETE FROM signed_seen",
    "what was seen replaced": "INSERT OR REPLACE INTO signed_seen SELECT person, 0 FROM signed_seen",
}


@pytest.mark.parametrize("recursive", ["ON", "OFF"])
def test_that_the_tables_of_keys_refuse_an_accident(place: Path, state: Path, recursive: str) -> None:
    with reopened(place, state) as floor:
        floor.wrong(MOST_TRIES)
        unlock_key(floor.desk, floor.by("KEEP"), "MECH", PHRASES["KEEP"])
        floor.sign(seen=3)
    for statement in GUARDED.values():
        with pytest.raises(sqlite3.IntegrityError, match="only grows"):
            sql(place, f"PRAGMA recursive_triggers = {recursive}", statement)
