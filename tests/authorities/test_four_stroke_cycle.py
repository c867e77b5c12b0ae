"""The four-stroke cycle: one spark a cylinder in two turns, and the distributor at half the crankshaft's speed."""

from itertools import pairwise

import pytest

from desktop.core.timing.firing_order import firing_table
from tests.authorities.known import HANDBOOK, Known, core_card, cylinders

CYCLE = Known(720, f"{HANDBOOK} p. 1-25")
INTERVAL = "720/N, computed from " + CYCLE.source
INTERVALS = [
    (4, Known(180, INTERVAL)),
    (5, Known(144, INTERVAL)),
    (6, Known(120, INTERVAL)),
    (7, Known(102.857142, INTERVAL, 1e-6)),
    (8, Known(90, INTERVAL)),
    (9, Known(80, INTERVAL)),
    (12, Known(60, INTERVAL)),
    (14, Known(51.428571, INTERVAL, 1e-6)),
    (18, Known(40, INTERVAL)),
]
ELECTRODES = [
    (4, Known(90, f"{HANDBOOK} p. 4-6")),
    (6, Known(60, f"{HANDBOOK} p. 4-6")),
    (9, Known(40, f"{HANDBOOK} p. 4-6")),
]


@pytest.mark.parametrize(("count", "known"), INTERVALS)
def test_that_an_even_engine_fires_every_720th_part_of_two_turns(count: int, known: Known) -> None:
    table = firing_table(core_card(cylinders(count)).engine)
    for before, after in pairwise(table):
        assert known.agrees(float(after.crank - before.crank))
    assert CYCLE.agrees(float(table[-1].crank + (table[1].crank - table[0].crank)))


@pytest.mark.parametrize(("count", "known"), ELECTRODES)
def test_that_the_distributor_turns_half_as_far_as_the_crankshaft(count: int, known: Known) -> None:
    table = firing_table(core_card(cylinders(count)).engine)
    assert known.agrees(float(table[1].crank - table[0].crank) / 2)
    assert [firing.electrode for firing in table] == list(range(1, count + 1))


# 25 before TDC on compression is 695 in a scale of 720, on exhaust 335; computed from the cycle above.
ON_COMPRESSION, ON_EXHAUST = Known(695, "computed from " + CYCLE.source), Known(335, "computed from " + CYCLE.source)


def test_that_compression_and_exhaust_lie_a_whole_turn_apart_and_read_alike() -> None:
    # Of six cylinders the fourth in the order fires a whole turn, half a turn of the distributor, after the first.
    table = firing_table(core_card().engine)
    opposite = next(firing for firing in table if firing.crank == 360)
    assert (opposite.cylinder, opposite.electrode) == (2, 4)
    assert ON_COMPRESSION.agrees(720 - 25)
    assert ON_EXHAUST.agrees(float(opposite.crank) - 25)
    assert ON_COMPRESSION.value % 360 == ON_EXHAUST.value % 360
