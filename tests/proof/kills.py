"""A work that is killed at random moments, again and again, on one and the same file."""

import os
import random
import signal
import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests.proof.hands import hands_on, kept_in
from tests.proof.works import Half, Work, told_number

_REST = 5


@dataclass(slots=True)
class Killed:
    """What was found after each kill.

    ``lost`` and ``half`` name the turns in which something was; ``told`` counts what the next start told, and
    ``mistold`` names the turns in which it told what was not so, or nothing of what was kept.
    """

    kills: int = 0
    acknowledged: int = 0
    in_the_middle: int = 0
    not_told: int = 0
    lost: list[str] = field(default_factory=list)
    half: list[str] = field(default_factory=list)
    told: int = 0
    told_not_kept: int = 0
    mistold: list[str] = field(default_factory=list)


def kill_at_moments(work: Work, place: Path, kills: int, steps: int = 5) -> Killed:
    """Kill a work ``kills`` times, each within the time that it takes to begin and do ``steps`` steps undisturbed.

    Everything that was acknowledged must stand; of what was not, the one thing that was being kept may stand too, and
    the next start tells whether it does.
    """
    dice = random.Random(20310304)  # noqa: S311 - moments, not secrets
    done = Killed()
    last = work.found(place)
    with hands_on(work, place) as hands:
        began = time.perf_counter()
        hands.begin("undisturbed", last + 1, steps)
        assert len(kept_in(hands.end())) == steps
        longest = time.perf_counter() - began
        last += steps
        for turn in range(kills):
            child = hands.begin(str(2 * turn), last + 1)
            time.sleep(dice.uniform(0, longest))  # the moment of the kill, not a wait for something
            with suppress(ProcessLookupError):  # it was refused, and says so below
                os.kill(child, signal.SIGKILL)
            said = hands.end()
            kept = kept_in(said)
            assert len(kept) == len(said), said
            done.in_the_middle += Path(f"{place}-journal").exists() or any(place.parent.glob(".*.part"))
            acknowledged = kept[-1] if kept else last
            try:
                found = work.found(place)
            except Half as half:
                done.half.append(f"{turn}: {half}")
                break
            if found not in (acknowledged, acknowledged + 1):
                done.lost.append(f"{turn}: {found} stands, {acknowledged} was acknowledged")
            done.not_told += found == acknowledged + 1
            _hear(done, work, place, f"{turn}: {acknowledged} was acknowledged, {found} stands", last, found)
            done.acknowledged += len(kept)
            done.kills += 1
            last = found
            if turn % _REST == 0:
                # A secret that was tried ten times without an end locks its key: now and then a step comes to its end.
                hands.begin(str(2 * turn + 1), last + 1, 1)
                assert kept_in(hands.end()) == [last + 1]
                last += 1
    return done


def _hear(done: Killed, work: Work, place: Path, turn: str, before: int, found: int) -> None:
    """Hear what the next start tells; it tells nothing only when nothing was kept since the start before."""
    if work.told is None:
        return
    told = work.told(place)
    done.told += told is not None
    done.told_not_kept += told is not None and not told.is_kept
    if found != (before if told is None else told_number(told)):
        done.mistold.append(f"{turn}, and this was told: {told}")
