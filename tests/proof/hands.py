"""Hands that start a work in another process and hear what it says."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from tests.proof.works import Work

HOUSE = Path(__file__).parents[2]
ENDLESS = 99_999


class Hands:
    """A process that does one kind of work on one file, turn by turn, each in a child of its own."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        assert process.stdin is not None
        assert process.stdout is not None
        self._in: IO[str] = process.stdin
        self._out: IO[str] = process.stdout
        assert self._hear() == "ready", "the work could not begin"

    def begin(self, turn: str, first: int, most: int = ENDLESS) -> int:
        """Begin a turn; return the process that does it."""
        self._in.write(f"{turn} {first} {most}\n")
        self._in.flush()
        return int(self._hear().split()[1])

    def end(self) -> list[str]:
        """Wait until the turn ends; return what was said."""
        return [line.strip() for line in iter(self._out.readline, "end\n")]

    def _hear(self) -> str:
        return self._out.readline().strip()


@contextmanager
def hands_on(work: Work, place: Path) -> Iterator[Hands]:
    """Give hands that do a work on a file."""
    command = [sys.executable, "-m", "tests.proof.worker", work.name, str(place)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=HOUSE) as process:
        try:
            yield Hands(process)
        finally:
            assert process.stdin is not None
            process.stdin.close()


def kept_in(said: list[str]) -> list[int]:
    """Return the numbers that were acknowledged."""
    return [int(line.split()[1]) for line in said if line.startswith("kept ")]
