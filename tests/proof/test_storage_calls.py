"""A kill or an error at every call by which one entry touches the disk: kept or not, and said as it is."""

import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.storage.troubles import NOT_KEPT
from tests.proof.counts import Tally, is_large
from tests.proof.hands import hands_on, kept_in
from tests.proof.traced import calls_that_touch, traced_turn, why_not
from tests.proof.works import COPYING, DEAF, READING, SIGNING, Half, Work

FAULTS = ("signal=SIGKILL", "error=EIO", "error=ENOSPC")
SMALL = 40
"""Faults of the small count, drawn from all of them."""
NOBODY_KNOWS = "nobody can say yet"


@dataclass(slots=True)
class Hurt:
    """What was found after each fault: ``wrong`` names those after which something was lost, half, or said wrong."""

    calls: int = 0
    faults: int = 0
    kept: int = 0
    refused: int = 0
    killed: int = 0
    wrong: list[str] = field(default_factory=list)


def hurt_every_call(work: Work, place: Path, most: int | None) -> Hurt:
    """Do one step of a work once for each call and fault, on a fresh copy of the file each time."""
    pristine = place.with_name("pristine")
    shutil.copy(place, pristine)
    log = place.parent.parent / f"{place.parent.name}.log"
    done = Hurt()
    with hands_on(work, place) as hands:
        before = work.found(place)
        said = traced_turn(hands, "look", before + 1, 1, ["-y", "-e", "trace=file,desc"], log)
        assert kept_in(said) == [before + 1], said
        calls = calls_that_touch(log, place.parent)
        done.calls = len(calls)
        faults = [(name, number, fault) for name, number in calls for fault in FAULTS]
        if most is not None and most < len(faults):
            faults = random.Random(20310304).sample(faults, most)  # noqa: S311 - a choice of trials
        for name, number, fault in faults:
            _fresh(place, pristine)
            inject = ["-e", f"trace={name}", "-e", f"inject={name}:{fault}:when={number}"]
            said = traced_turn(hands, "hurt", before + 1, 1, inject, log)
            _judge(done, work, place, before, said, f"{name} {number} {fault}")
    return done


def _fresh(place: Path, pristine: Path) -> None:
    for one in place.parent.iterdir():
        if one != pristine:
            one.unlink()
    shutil.copy(pristine, place)


def _judge(done: Hurt, work: Work, place: Path, before: int, said: list[str], fault: str) -> None:
    done.faults += 1
    refused = next((line for line in said if line.startswith("refused ")), "")
    says_kept = bool(kept_in(said)) or work.kept_although in refused
    done.kept += says_kept
    done.refused += bool(refused)
    done.killed += not said
    try:
        stands = work.found(place) > before
    except (Half, Refusal) as trouble:
        done.wrong.append(f"{fault}: {trouble}, after {said}")
        return
    is_told = says_kept or NOT_KEPT in refused or (refused and NOBODY_KNOWS not in refused)
    if is_told and says_kept is not stands:
        done.wrong.append(f"{fault}: it {'stands' if stands else 'does not stand'}, after {said}")
    if any(line.startswith("bug ") for line in said) or (not said and "SIGKILL" not in fault):
        done.wrong.append(f"{fault}: {said or 'nothing was said'}")


@pytest.mark.parametrize("work", [READING, SIGNING, COPYING], ids=["readings", "signatures", "copies"])
def test_that_a_fault_at_any_call_is_told_as_the_file_then_is(
    place_of: Callable[..., Path], tally: Tally, work: Work
) -> None:
    name = f"faults at storage calls, {work.name.partition(':')[2].lower()}"
    if reason := why_not():
        tally.not_run(name, reason)
    done = hurt_every_call(work, place_of(work), None if is_large() else SMALL)
    tally.tell(
        name,
        storage_calls=done.calls,
        faults=done.faults,
        kept=done.kept,
        refused=done.refused,
        killed=done.killed,
        wrong=len(done.wrong),
    )
    assert done.wrong == []
    assert done.refused
    assert done.killed


def test_that_a_work_that_hears_no_refusal_is_found_out(place: Path, tally: Tally) -> None:
    if reason := why_not():
        tally.not_run("control, hears no refusal", reason)
    done = hurt_every_call(DEAF, place, SMALL)
    tally.tell("control, hears no refusal", faults=done.faults, wrong=len(done.wrong))
    assert done.wrong
