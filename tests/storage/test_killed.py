"""Killed at random moments while typing: at most the field that is being typed is lost.

100 kills by default; ``SPARKWRIGHT_KILLS=1000 python -m pytest tests/storage/test_killed.py`` makes 1,000.
"""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from desktop.core.timing.typed_paths import value_at
from tests.storage.file_floor import FileFloor, opened, sql
from tests.storage.typist import PATHS

KILLS = int(os.environ.get("SPARKWRIGHT_KILLS", "100"))
LONGEST = 0.06
"""Seconds of typing before the kill at most: opening takes some milliseconds, a reading about three."""

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="NOT RUN: this system does not fork")


def typed(floor: FileFloor) -> list[int]:
    """Return the numbers that stand in the two fields."""
    readings = floor.card().readings
    return [int(str(value_at(readings, path)).split(".")[0]) for path in PATHS]


def test_that_a_kill_loses_at_most_the_field_that_is_being_typed(place: Path) -> None:
    dice = random.Random(20310304)  # noqa: S311 - moments, not secrets
    kept, journals = 0, 0
    command = [sys.executable, "-m", "tests.storage.typist", str(place)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1, cwd=Path(__file__).parents[2]
    ) as typist:
        assert typist.stdin is not None
        assert typist.stdout is not None
        with opened(place) as file:
            last = max(typed(FileFloor(file)))
        for turn in range(KILLS):
            typist.stdin.write(f"{turn} {last + 1}\n")
            child = int(typist.stdout.readline().split()[1])
            time.sleep(dice.uniform(0, LONGEST))
            os.kill(child, signal.SIGKILL)
            said = [line.strip() for line in iter(typist.stdout.readline, "end\n")]
            journals += Path(f"{place}-journal").exists()
            assert said == [f"kept {last + 1 + number}" for number in range(len(said))]
            acknowledged = last + len(said)
            with opened(place) as file:
                assert file.faults() == ()
                found = sorted(typed(FileFloor(file)))
                # All that was acknowledged stands; of what was not, the reading that was being kept may stand too.
                assert found[-1] in (acknowledged, acknowledged + 1), (turn, found, acknowledged)
                assert found[0] == found[-1] - 1 or found[-1] <= last + 1
                order = file.order(1)
                assert order is not None
                assert file.change_count() == order.version == len(file.changes_since(1, 0))
            kept += len(said)
            last = found[-1]
        typist.stdin.close()
    assert kept > KILLS, "the kills came before anything was typed: they proved nothing"
    assert journals, "no kill fell into a transaction: they proved too little"
    sql(place, "INSERT INTO order_find (order_find, rank) VALUES ('integrity-check', 1)")
