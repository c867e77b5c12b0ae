"""SIGKILL at random moments: nothing acknowledged is lost, nothing is kept half, the next start tells of the rest."""

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.proof.counts import Tally, times
from tests.proof.kills import kill_at_moments
from tests.proof.works import COPYING, READING_TOLD, SIGNING_TOLD, TOO_SOON, Work, told_always_kept
from tests.storage.file_floor import sql

WORKS = [(READING_TOLD, 75, 1000, 5), (SIGNING_TOLD, 25, 1000, 3), (COPYING, 15, 200, 2)]
"""Kills of the small and the large count; each comes within the time of so many steps."""

ENOUGH = 50
"""Kills of which at least one must fall into a transaction."""

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="NOT RUN: this system does not fork")


@pytest.mark.parametrize(("work", "small", "large", "steps"), WORKS, ids=["readings", "signatures", "copies"])
def test_that_a_kill_loses_nothing_that_was_acknowledged(
    place_of: Callable[..., Path], tmp_path: Path, tally: Tally, work: Work, small: int, large: int, steps: int
) -> None:
    # On a disk a transaction lasts longer than in memory: more kills fall into one.
    place, kills = place_of(work, tmp_path), times(small, large)
    done = kill_at_moments(work, place, kills, steps)
    name = work.name.partition(":")[2].lower().removesuffix("_told")
    tally.tell(
        f"killed at random moments, {name}",
        kills=done.kills,
        acknowledged=done.acknowledged,
        killed_in_the_middle=done.in_the_middle,
        kept_but_not_acknowledged=done.not_told,
        told_at_the_next_start=done.told,
        told_not_kept=done.told_not_kept,
        told_wrong=len(done.mistold),
        lost=len(done.lost),
        half=len(done.half),
    )
    assert (done.lost, done.half, done.mistold) == ([], [], [])
    assert done.told > kills // 10 or work.told is None, "hardly a start told anything: they proved too little"
    assert done.kills == kills
    assert done.in_the_middle or kills < ENOUGH, "no kill fell into a transaction: they proved too little"
    assert done.acknowledged > kills // 10, "the kills came before anything was done: they proved nothing"
    sql(place, "INSERT INTO order_find (order_find, rank) VALUES ('integrity-check', 1)")


def test_that_a_work_that_says_it_too_soon_is_found_out(place: Path, tally: Tally) -> None:
    done = kill_at_moments(TOO_SOON, place, 20)
    tally.tell("control, says it too soon and is killed", kills=done.kills, lost=len(done.lost), half=len(done.half))
    assert done.lost


def test_that_a_start_that_tells_of_everything_that_it_was_kept_is_found_out(
    place_of: Callable[..., Path], tmp_path: Path, tally: Tally
) -> None:
    work = replace(READING_TOLD, told=told_always_kept)
    done = kill_at_moments(work, place_of(work, tmp_path), 60)
    tally.tell("control, says always that it was kept", kills=done.kills, told_wrong=len(done.mistold))
    assert done.mistold
