"""Hostile files of each kind: read or refused in one line, soon, in little memory, and nothing written outside."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.proof.counts import Tally, times
from tests.proof.hands import HOUSE

KINDS = ("readings files", "task cards", "sheets", "copies", "shop files", "shop files at the doctor")
LONGEST = times(280, 1800)
"""Seconds for all files of a kind."""


def ends_of(kind: str, count: int, pristine: Path, folder: Path, seconds: int = 5) -> dict[str, Any]:
    """Read hostile files in another process; return how their readings ended."""
    command = [sys.executable, "-m", "tests.proof.hostile", str(pristine), kind, str(count), str(folder), str(seconds)]
    done = subprocess.run(command, check=False, capture_output=True, text=True, cwd=HOUSE, timeout=LONGEST)
    assert done.returncode == 0, done.stderr[-2000:]
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.fixture
def trials(memory_folder: Path) -> Path:
    """A folder beside which nothing may appear."""
    folder = memory_folder / "trials"
    folder.mkdir()
    return folder


def why_not() -> str | None:
    """Say why no child with limits can be made here; None when one can."""
    return None if hasattr(os, "fork") and Path("/proc/self/statm").exists() else "this system has no such limits"


@pytest.mark.parametrize("kind", KINDS)
def test_that_a_hostile_file_is_read_or_refused_and_nothing_else(
    proof_file: Path, trials: Path, tally: Tally, kind: str
) -> None:
    if reason := why_not():
        tally.not_run(f"hostile files, {kind}", reason)
    count = times(200, 2000)
    beside = sorted(trials.parent.iterdir())
    found = ends_of(kind, count, proof_file, trials)
    tally.tell(f"hostile files, {kind}", **found["ends"], bad=len(found["bad"]))
    assert found["bad"] == []
    assert sum(found["ends"].values()) == count
    assert found["ends"]["refused"] > count // 4
    assert sorted(trials.parent.iterdir()) == beside
    assert list(trials.iterdir()) == []


@pytest.mark.parametrize(
    ("kind", "ends"),
    [
        ("control without limits", "raised"),
        ("control outside", "outside"),
        ("control time", "time"),
        ("control memory", "memory"),
    ],
)
def test_that_a_reader_without_limits_is_found_out(
    proof_file: Path, trials: Path, tally: Tally, kind: str, ends: str
) -> None:
    if reason := why_not():
        tally.not_run(kind, reason)
    found = ends_of(kind, 40 if kind == "control without limits" else 1, proof_file, trials, seconds=1)
    tally.tell(kind, **found["ends"])
    assert found["ends"].get(ends), found
