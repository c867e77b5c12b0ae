"""Checking at a pace says the same as checking, says how far it is, and stops where it is told to."""

from pathlib import Path

import pytest

from desktop.storage.shop_check import shop_to_check
from desktop.usecases.records.checking.check_pace import EVERY, verify_at_pace
from desktop.usecases.records.checking.verify import verify_shop
from tests.core.records.pens import RealVerifier
from tests.storage.file_floor import TEXT, sql
from tests.storage.signed_file import signed_file


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("paced") / "mill.shop"
    signed_file(made)
    return made


def test_that_checking_at_a_pace_finds_what_checking_finds(place: Path) -> None:
    said: list[tuple[int, int]] = []

    def pace(done: int, of: int) -> bool:
        said.append((done, of))
        return True

    with shop_to_check(place, TEXT) as file:
        whole = verify_shop(file, RealVerifier())
    with shop_to_check(place, TEXT) as file:
        assert verify_at_pace(file, RealVerifier(), pace) == whole
    assert whole.is_sound
    assert said == [(0, 16)]
    assert EVERY > 16


def test_that_checking_at_a_pace_finds_a_record_that_was_changed(place: Path, tmp_path: Path) -> None:
    copy = tmp_path / "changed.shop"
    copy.write_bytes(place.read_bytes())
    sql(copy, "DROP TRIGGER IF EXISTS envelope_stays")
    sql(copy, "UPDATE envelope SET kind = 'void' WHERE number = 5")
    with shop_to_check(copy, TEXT) as file:
        whole = verify_shop(file, RealVerifier())
    assert not whole.is_sound
    with shop_to_check(copy, TEXT) as file:
        assert verify_at_pace(file, RealVerifier(), lambda _done, _of: True) == whole


def test_that_a_check_that_is_stopped_says_nothing_of_the_shop(place: Path) -> None:
    with shop_to_check(place, TEXT) as file:
        assert verify_at_pace(file, RealVerifier(), lambda _done, _of: False) is None


def test_that_a_check_is_stopped_between_its_steps(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("desktop.usecases.records.checking.check_pace.EVERY", 1)
    steps: list[int] = []

    def pace(done: int, _of: int) -> bool:
        steps.append(done)
        return done < 15

    with shop_to_check(place, TEXT) as file:
        assert verify_at_pace(file, RealVerifier(), pace) is None
    assert steps == list(range(16))
