"""A shop whose people are enrolled, made once and copied for each test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.usecases.records.signing_floor import SigningFloor, made_floor, opened_floor


@pytest.fixture(scope="session")
def enrolled_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with KEEP, ROLF and MECH enrolled; DESK stands on the roster only."""
    folder = tmp_path_factory.mktemp("enrolled")
    floor = made_floor(folder / "mill.shop", None)
    floor.enrol("KEEP", "ROLF", "MECH")
    floor.file.close()
    return folder / "mill.shop"


@pytest.fixture
def state(tmp_path: Path) -> Path:
    """The folder of this machine."""
    return tmp_path / "state"


@pytest.fixture
def place(enrolled_shop: Path, tmp_path: Path) -> Path:
    """A copy of the shop file."""
    return Path(shutil.copy(enrolled_shop, tmp_path / "mill.shop"))


@pytest.fixture
def floor(place: Path, state: Path) -> Iterator[SigningFloor]:
    """The hands on it."""
    floor = opened_floor(place, state)
    yield floor
    floor.file.close()


@pytest.fixture
def new_floor(tmp_path: Path, state: Path) -> Iterator[SigningFloor]:
    """The hands on a shop in which nobody is enrolled."""
    floor = made_floor(tmp_path / "new.shop", state)
    yield floor
    floor.file.close()
