"""A shop file for the tests of the store, with an order whose card can be submitted."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.storage.file_floor import FileFloor, copied, made, opened


@pytest.fixture(scope="session")
def ready_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with order 1: card 1 sound and initialled."""
    place = tmp_path_factory.mktemp("ready") / "mill.shop"
    with made(place) as file:
        FileFloor(file).with_card().with_initials()
    return place


@pytest.fixture
def place(ready_file: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may change."""
    return copied(ready_file, tmp_path)


@pytest.fixture
def floor(place: Path) -> Iterator[FileFloor]:
    """The hands on it."""
    with opened(place) as file:
        yield FileFloor(file)
