"""Nobody makes their own shop unsound by keeping the roster: what is signed about somebody is changed signed."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.storage.shop_check import shop_to_check
from desktop.usecases.records.checking.verify import verify_shop
from desktop.usecases.records.keys.people import change_person
from desktop.usecases.shop.lists.keep_lists import keep_person
from tests.storage.file_floor import TEXT
from tests.usecases.records.signing_floor import PHRASES, SigningFloor, made_floor

LAST = date(2031, 6, 30)


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[SigningFloor]:
    """A shop in which KEEP and MECH are enrolled, and DESK is not."""
    floor = made_floor(tmp_path / "mill.shop", None)
    with floor.file:
        yield floor.enrol("KEEP", "MECH")


def said(floor: SigningFloor) -> list[str]:
    with shop_to_check(floor.file.place, TEXT) as file:
        return [problem.sentence for problem in verify_shop(file, floor.desk.verifier).problems]


def test_that_the_last_day_of_somebody_enrolled_is_kept_signed_only(floor: SigningFloor) -> None:
    mech = floor.on_roster("MECH")
    gone = replace(mech, until=LAST)
    with pytest.raises(Refusal, match=r"Mel Chan is enrolled, so what changes about them is signed\. Look"):
        keep_person(floor.shop, floor.by("KEEP", mech.version), gone)
    assert floor.on_roster("MECH") == mech
    change_person(floor.desk, floor.by("KEEP", mech.version), gone, PHRASES["KEEP"])
    assert floor.on_roster("MECH").until == LAST
    assert said(floor) == []


def test_that_an_unsigned_last_day_would_make_the_shop_unsound(floor: SigningFloor) -> None:
    floor.change("MECH", until=LAST)
    assert [sentence for sentence in said(floor) if "the roster says something else of them" in sentence]


def test_that_who_is_not_enrolled_and_what_is_not_signed_change_without(floor: SigningFloor) -> None:
    desk, mech = floor.on_roster("DESK"), floor.on_roster("MECH")
    keep_person(floor.shop, floor.by("KEEP", desk.version), replace(desk, until=LAST))
    keep_person(floor.shop, floor.by("KEEP", mech.version), mech)
    assert floor.on_roster("DESK").until == LAST
    assert said(floor) == []
