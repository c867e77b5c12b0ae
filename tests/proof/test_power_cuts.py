"""The power goes at any moment of a work: no acknowledged entry is lost, none is kept half."""

from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from tests.proof.counts import Tally, times
from tests.proof.hands import hands_on, kept_in
from tests.proof.power import Step, cuts, steps_in
from tests.proof.traced import traced_turn, why_not
from tests.proof.works import FULL, OFF, READING, SIGNING, Half, Work

ENTRIES = 6
OPTIONS = ["-y", "-xx", "-s", "200000", "-e", "trace=openat,write,pwrite64,fsync,fdatasync,ftruncate,unlink"]
CALLS = {"create", "write", "sync", "sync folder", "unlink", "kept"}


@dataclass(slots=True)
class Cut:
    """What was found after each power cut; ``damaged`` names files that are half of something or cannot be opened."""

    states: int = 0
    different: int = 0
    played_back: int = 0
    lost: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)


def logged(work: Work, place: Path, log: Path) -> list[Step]:
    """Do a few entries with somebody watching; return what was done to the disk."""
    first = work.found(place) + 1
    with hands_on(work, place) as hands:
        said = traced_turn(hands, "look", first, ENTRIES, OPTIONS, log)
    assert kept_in(said) == list(range(first, first + ENTRIES)), said
    return steps_in(log, place.parent)


def cut_the_power(work: Work, place: Path, folder: Path, states: int) -> Cut:
    """Cut the power ``states`` times in the course of one piece of work, and open what is then on the disk."""
    folder.mkdir()
    before = work.found(place)
    files = {place.name: place.read_bytes()}
    log = place.parent.parent / f"{place.parent.name}.log"
    steps = logged(work, place, log)
    done = Cut()
    judged: dict[str, int | str] = {}
    for state, acknowledged in cuts(files, steps, states, before):
        key = sha256(repr(sorted(state.items())).encode()).hexdigest()
        if key not in judged:
            judged[key] = _opened(work, folder, place.name, state)
        found = judged[key]
        done.states += 1
        done.played_back += len(state) > 1
        if isinstance(found, str):
            done.damaged.append(found)
        elif found not in (acknowledged, acknowledged + 1):
            done.lost.append(f"{found} stands, {acknowledged} was acknowledged")
    done.different = len(judged)
    return done


def _opened(work: Work, folder: Path, name: str, state: dict[str, bytes]) -> int | str:
    """Put a state of the disk into a folder and open it; return the number that stands, or what is damaged."""
    for one in folder.iterdir():
        one.unlink()
    for file, data in state.items():
        (folder / file).write_bytes(data)
    try:
        return work.found(folder / name)
    except (Half, Refusal) as trouble:
        return str(trouble)


@pytest.mark.parametrize(
    ("work", "small", "large"),
    [(READING, 1500, 10_000), (SIGNING, 500, 10_000)],
    ids=["readings", "signatures"],
)
def test_that_a_power_cut_loses_nothing_that_was_acknowledged(
    place_of: Callable[..., Path], memory_folder: Path, tally: Tally, work: Work, small: int, large: int
) -> None:
    name = f"power cuts, {work.name.partition(':')[2].lower()}"
    if reason := why_not():
        tally.not_run(name, reason)
    done = cut_the_power(work, place_of(work), memory_folder / "state", times(small, large))
    tally.tell(
        name,
        states=done.states,
        different_ones=done.different,
        with_a_journal=done.played_back,
        lost=len(done.lost),
        damaged=len(done.damaged),
    )
    assert (done.lost, done.damaged) == ([], [])
    assert done.played_back > done.states // 20, "too few cuts fell into a transaction"


@pytest.mark.parametrize(("work", "what"), [(FULL, "lost"), (OFF, "damaged")], ids=["synchronous FULL", "OFF"])
def test_that_a_weaker_store_is_found_out(
    place: Path, memory_folder: Path, tally: Tally, work: Work, what: str
) -> None:
    if reason := why_not():
        tally.not_run(f"control, {work.name}", reason)
    done = cut_the_power(work, place, memory_folder / "state", times(200, 2000))
    name = f"control, power cuts with synchronous={work.name.partition(':')[2]}"
    tally.tell(name, states=done.states, lost=len(done.lost), damaged=len(done.damaged))
    assert getattr(done, what)


def test_that_the_log_holds_every_kind_of_step(place: Path, tally: Tally) -> None:
    if reason := why_not():
        tally.not_run("the log of power cuts", reason)
    steps = logged(READING, place, place.parent.parent / f"{place.parent.name}.log")
    assert {step.what for step in steps} >= CALLS
    assert sum(step.what == "kept" for step in steps) == ENTRIES
    assert sum(step.what == "unlink" for step in steps) >= ENTRIES
