"""The disk is full at one level after another: an entry is kept whole, or refused in words and nothing of it kept."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from desktop.storage.troubles import NOT_KEPT
from tests.proof.counts import Tally, times
from tests.proof.hands import HOUSE
from tests.proof.works import COPYING, DEAF, READING, Work

LONGEST = 280


def levels(work: Work, place: Path, count: int) -> list[dict[str, Any]] | str:
    """Return what happened at each level; where no disk can be mounted, why."""
    unshare = shutil.which("unshare")
    if not unshare or not shutil.which("mount"):
        return "there is no unshare or no mount on this machine"
    disk = place.parent / "disk"
    disk.mkdir()
    how = "-m" if os.geteuid() == 0 else "-Urm"
    command = [
        unshare,
        how,
        sys.executable,
        "-m",
        "tests.proof.full_disk",
        work.name,
        str(place),
        str(disk),
        str(count),
    ]
    done = subprocess.run(command, check=False, capture_output=True, text=True, cwd=HOUSE, timeout=LONGEST)
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    if not lines:
        return f"no disk may be mounted on this machine: {done.stderr.strip().splitlines()[-1:]}"
    assert done.returncode == 0, done.stderr
    return lines[1:]


@pytest.mark.parametrize("work", [READING, COPYING], ids=["readings", "copies"])
def test_that_a_full_disk_keeps_all_of_an_entry_or_nothing(place: Path, tally: Tally, work: Work) -> None:
    name = f"full disk, {work.name.partition(':')[2].lower()}"
    found = levels(work, place, times(50, 400))
    if isinstance(found, str):
        tally.not_run(name, found)
    kept = [one for one in found if one["said"].startswith("kept")]
    refused = [one for one in found if not one["said"].startswith("kept")]
    tally.tell(name, levels=len(found), kept=len(kept), refused=len(refused))
    assert all(one["found"] == 1 for one in kept)
    assert all(one["found"] == 0 for one in refused), [one for one in refused if one["found"]]
    assert all(not one["left"] for one in found), [one for one in found if one["left"]]
    assert refused
    words = NOT_KEPT if work is READING else "No copy was made|does not take the copy"
    assert all(any(word in one["said"] for word in words.split("|")) for one in refused)
    assert kept or work is COPYING, "no level had room for an entry: the levels proved too little"


def test_that_a_work_that_hears_no_refusal_is_found_out_on_a_full_disk(place: Path, tally: Tally) -> None:
    found = levels(DEAF, place, 5)
    if isinstance(found, str):
        tally.not_run("control, full disk", found)
    wrong = [one for one in found if one["said"].startswith("kept") and one["found"] != 1]
    tally.tell("control, full disk and no refusal heard", levels=len(found), wrong=len(wrong))
    assert wrong
