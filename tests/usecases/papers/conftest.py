"""A shop with papers, made once and only read by the tests."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from desktop.usecases.papers.asked import PaperDesk
from tests.usecases.papers.paper_floor import PaperFloor, made_paper_shop, opened_paper_shop


@pytest.fixture(scope="session")
def paper_shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The closed shop file."""
    place = tmp_path_factory.mktemp("papers") / "mill.shop"
    made_paper_shop(place)
    return place


@pytest.fixture(scope="session")
def open_floor(paper_shop: Path) -> Iterator[PaperFloor]:
    """The hands on it; nobody writes."""
    floor = opened_paper_shop(paper_shop)
    yield floor
    floor.file.close()


@pytest.fixture
def desk(open_floor: PaperFloor) -> PaperDesk:
    """The desk at which its papers are made."""
    return open_floor.paper_desk()


@pytest.fixture
def own_floor(paper_shop: Path, tmp_path: Path) -> Iterator[PaperFloor]:
    """The hands on a copy in which a test may write."""
    floor = opened_paper_shop(Path(shutil.copy(paper_shop, tmp_path / "own.shop")))
    yield floor
    floor.file.close()
