"""The proofs' shop file, their tally, and the report of the counts at the end of the session."""

import os
import platform
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.proof.counts import REPORT, Tally, is_large
from tests.proof.works import SIGNING, SIGNING_TOLD, Work
from tests.storage.file_floor import FileFloor, copied, made
from tests.usecases.records.signing_floor import made_floor

_TALLY = pytest.StashKey[Tally]()


@pytest.fixture(scope="session")
def proof_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with order 1, whose card is being filled."""
    place = tmp_path_factory.mktemp("proof") / "mill.shop"
    with made(place) as file:
        FileFloor(file).with_card().with_initials()
    return place


@pytest.fixture
def place(proof_file: Path, memory_folder: Path) -> Path:
    """A copy of it that a proof may hurt, alone in its folder."""
    folder = memory_folder / "shop"
    folder.mkdir()
    return copied(proof_file, folder)


@pytest.fixture(scope="session")
def enrolled_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with people who can sign."""
    floor = made_floor(tmp_path_factory.mktemp("enrolled") / "mill.shop", None)
    floor.enrol("KEEP", "MECH").file.close()
    return floor.file.place


@pytest.fixture
def place_of(proof_file: Path, enrolled_file: Path, memory_folder: Path) -> Callable[..., Path]:
    """Where a work finds the file that it needs: in memory, or in a folder on a disk, which is slower."""

    def place(work: Work, disk: Path | None = None) -> Path:
        folder = (disk or memory_folder) / "shop"
        folder.mkdir()
        return copied(enrolled_file if work in (SIGNING, SIGNING_TOLD) else proof_file, folder)

    return place


@pytest.fixture
def tally(pytestconfig: pytest.Config) -> Tally:
    """Where proofs write down what they counted."""
    return pytestconfig.stash.setdefault(_TALLY, Tally())


@pytest.fixture
def memory_folder(tmp_path: Path) -> Iterator[Path]:
    """A folder on a disk in memory where the system has one: thousands of files are written and thrown away."""
    memory = Path("/dev/shm")  # noqa: S108 - a folder of its own is made in it
    if not (memory.is_dir() and os.access(memory, os.W_OK)):
        yield tmp_path
        return
    folder = memory / f"sparkwright-proof-{os.getpid()}-{tmp_path.name}"
    folder.mkdir()
    try:
        yield folder
    finally:
        shutil.rmtree(folder)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Say what was counted, and write it into the file that was named."""
    tally = config.stash.get(_TALLY, None)
    if tally is None:
        return
    terminalreporter.section("proofs")
    for line in tally.lines:
        terminalreporter.write_line(line)
    if named := os.environ.get(REPORT):
        Path(named).write_text(report_text(tally), "utf-8")


def report_text(tally: Tally) -> str:
    """Return the report: the counts' size, what it ran on, and a line a proof."""
    size = "large" if is_large() else "small"
    machine = f"{platform.system()}, Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}"
    return "\n".join([f"Proofs, {size} counts. {machine}", "", *tally.lines, ""])
