"""The idle lock, with clocks that are moved by hand."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person
from desktop.viewmodels.pieces.bench import Signing
from desktop.viewmodels.signing.idle_lock import IdleLock, IdleNeeds
from tests.usecases.records.signing_floor import PHRASES, made_floor
from tests.usecases.shop.shop_floor import PEOPLE


class Clocks:
    """A clock on the wall, and one that runs; each is moved by hand."""

    def __init__(self) -> None:
        self.time = datetime(2031, 3, 4, 9, tzinfo=UTC)
        self.ran = 0.0
        self.minutes = 5
        self.is_silent = False

    def now(self) -> datetime:
        return self.time

    def running(self) -> float:
        return self.ran

    def asked_minutes(self) -> int:
        if self.is_silent:
            raise Refusal("The shop file does not answer.")
        return self.minutes

    def people(self) -> tuple[Person, ...]:
        if self.is_silent:
            raise Refusal("The shop file does not answer.")
        return PEOPLE[:3]

    def move(self, seconds: float, *, runs: bool = True) -> None:
        self.time += timedelta(seconds=seconds)
        self.ran += seconds if runs else 0

    def lock(self, signing: Signing | None = None) -> IdleLock:
        return IdleLock(IdleNeeds(self, self.running, self.asked_minutes, self.people, signing))


@pytest.fixture
def clocks(qapp: object) -> Clocks:
    return Clocks()


def test_that_it_locks_after_the_shops_minutes_and_not_before(clocks: Clocks) -> None:
    lock = clocks.lock()
    locked: list[bool] = []
    lock.locked.connect(lambda: locked.append(True))
    clocks.move(299)
    lock.look()
    assert locked == []
    clocks.move(1)
    lock.look()
    assert locked == [True]


def test_that_a_key_or_click_begins_the_minutes_anew(clocks: Clocks) -> None:
    lock = clocks.lock()
    clocks.move(200)
    lock.touch()
    clocks.move(299)
    lock.look()
    assert not lock.is_locked


def test_that_the_setting_counts_as_it_is_now(clocks: Clocks) -> None:
    lock = clocks.lock()
    clocks.move(61)
    clocks.minutes = 1
    lock.look()
    assert lock.is_locked


def test_that_a_machine_that_slept_wakes_locked(clocks: Clocks) -> None:
    lock = clocks.lock()
    clocks.move(3600, runs=False)
    lock.look()
    assert lock.is_locked


def test_that_a_clock_set_back_does_not_keep_it_open(clocks: Clocks) -> None:
    lock = clocks.lock()
    clocks.time -= timedelta(hours=1)
    clocks.ran += 300
    lock.look()
    assert lock.is_locked


def test_that_a_file_that_does_not_answer_leaves_the_last_setting(clocks: Clocks) -> None:
    lock = clocks.lock()
    locked: list[bool] = []
    lock.locked.connect(lambda: locked.append(True))
    clocks.is_silent = True
    clocks.move(4000)
    lock.look()
    assert locked == []
    clocks.is_silent = False
    lock.touch()
    lock.look()
    clocks.is_silent = True
    clocks.move(300)
    lock.look()
    assert locked == [True]
    said: list[str] = []
    lock.refused.connect(said.append)
    assert lock.people() == ()
    assert said == ["The shop file does not answer."]


def test_that_where_nobody_has_a_secret_going_on_is_enough(clocks: Clocks) -> None:
    lock = clocks.lock()
    lock.lock()
    lock.lock()
    opened: list[str] = []
    lock.opened.connect(opened.append)
    clocks.move(900)
    lock.touch()
    assert not lock.asks_secret
    assert lock.open("MECH", "")
    assert opened == ["MECH"]
    assert lock.open("MECH", "")
    locked: list[bool] = []
    lock.locked.connect(lambda: locked.append(True))
    lock.look()
    assert locked == []


def test_that_the_secret_is_asked_for_and_a_wrong_one_counts(clocks: Clocks, tmp_path: Path) -> None:
    floor = made_floor(tmp_path / "mill.shop", None).enrol("KEEP", "MECH")
    lock = clocks.lock(Signing(floor.desk, floor.file))
    said: list[str] = []
    lock.refused.connect(said.append)
    lock.lock()
    assert lock.asks_secret
    assert not lock.open("MECH", PHRASES["KEEP"])
    assert said[-1].startswith("This is not the secret of Mel Chan.")
    assert not lock.open("MECH", PHRASES["MECH"])
    assert said[-1].startswith("Wait ")
    floor.clock.move(5)
    assert not lock.open("DESK", "")
    assert said[-1].startswith("Dora Esk is not enrolled")
    assert lock.open("MECH", PHRASES["MECH"])
    assert floor.file.last_envelope() is not None
    assert not any(secret in " ".join(said) for secret in PHRASES.values())
    floor.file.close()


def test_that_a_file_that_does_not_answer_opens_to_nobody(
    clocks: Clocks, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    floor = made_floor(tmp_path / "mill.shop", None).enrol("KEEP")
    lock = clocks.lock(Signing(floor.desk, floor.file))
    lock.lock()

    def refuse(_file: object) -> None:
        raise Refusal("The shop file does not answer.")

    monkeypatch.setattr("desktop.storage.shop_store.ShopFile.records", refuse)
    monkeypatch.setattr("desktop.storage.shop_store.ShopFile.changing", refuse)
    assert lock.asks_secret
    assert not lock.open("KEEP", PHRASES["KEEP"])
    floor.file.close()


def test_that_it_watches_until_it_rests(clocks: Clocks) -> None:
    lock = clocks.lock()
    lock.watch()
    lock.rest()
    assert lock.since is None
    lock.lock()
    assert lock.since == clocks.time
