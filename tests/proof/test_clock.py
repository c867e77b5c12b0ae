"""A clock that jumps: order comes from the numbers, nothing is refused for it, and each time stands as it was read."""

import random
import shutil
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.ports import Shop
from tests.proof.counts import Tally, times
from tests.proof.hands import HOUSE
from tests.storage.file_floor import FileFloor, opened
from tests.usecases.shop.shop_floor import NEW

BEGINS = datetime(2031, 3, 4, 9, 0, tzinfo=UTC)
FARTHEST = timedelta(days=300)


class JumpingClock:
    """A clock that stands anywhere within 300 days of a day each time it is asked, and remembers what it said."""

    def __init__(self) -> None:
        self._dice = random.Random(20310304)  # noqa: S311 - moments, not secrets
        self.said: list[datetime] = []

    def now(self) -> datetime:
        self.said.append(BEGINS + FARTHEST * self._dice.uniform(-1, 1))
        return self.said[-1]


def test_that_a_clock_that_jumps_changes_no_order(place: Path, tally: Tally) -> None:
    jumps = times(300, 1000)
    clock = JumpingClock()
    with opened(place) as file:
        floor = FileFloor(file)
        floor.shop = Shop(file, clock, floor.shop.rulebook, floor.shop.paperwork)
        refused = 0
        for number in range(jumps):
            try:
                if number % 50 == 49:
                    open_order(floor.shop, floor.new("DESK"), NEW)
                elif number % 2:
                    book_time(floor.shop, floor.by("MECH"), 1, "MECH", 5, f"n{number}")
                else:
                    take_reading(floor.shop, floor.by("MECH"), 1, 1, ("left.approach[1].light", str(number)))
            except Refusal:
                refused += 1
        changes = file.changes_since(1, 0)
        at = [change.by.at for change in changes]
        set_back = sum(later < earlier for earlier, later in pairwise(at))
        numbers = [line.number for line in look_up(file, "", None, before=None)]
        tally.tell("clock jumps", entries=jumps, set_back=set_back, refused=refused)
        assert refused == 0
        assert [change.version for change in changes] == list(range(1, len(changes) + 1))
        assert numbers == sorted(numbers, reverse=True)
        assert len(numbers) == 1 + jumps // 50
        assert {moment.replace(microsecond=0) for moment in at[-20:]} <= {
            moment.replace(microsecond=0) for moment in clock.said
        }
        # The control: by the clock the entries would stand in another order.
        assert set_back > len(at) // 4
        assert [change.version for change in sorted(changes, key=lambda one: one.by.at)] != [
            change.version for change in changes
        ]
        assert file.faults() == ()


BOOK = """
import sys
from itertools import pairwise
from pathlib import Path
from desktop.shop_assembly import SystemClock
from desktop.usecases.shop.book import book_time
from desktop.usecases.shop.ports import Shop
from tests.storage.file_floor import FileFloor, opened
with opened(Path(sys.argv[1])) as file:
    floor = FileFloor(file)
    shop = Shop(file, SystemClock(), floor.shop.rulebook, floor.shop.paperwork)
    request = floor.by("MECH")
    request = type(request)(request.request_id + sys.argv[2], request.person_id, request.seen_version)
    book_time(shop, request, 1, "MECH", 5, sys.argv[2])
"""


def test_that_the_clock_of_the_whole_process_changes_no_order(place: Path, tally: Tally) -> None:
    name = "clock jumps of the whole process"
    faketime = shutil.which("faketime")
    if faketime is None:
        tally.not_run(name, "there is no faketime on this machine; the clock's port was set back and forth instead")
    days = ("2031-06-01 09:00:00", "2030-06-01 09:00:00", "2032-06-01 09:00:00", "2031-01-01 09:00:00")
    with opened(place) as file:
        before = file.version(1)
    for day in days:
        command = [faketime, "-f", f"@{day}", sys.executable, "-c", BOOK, str(place), day[:10]]
        subprocess.run(command, check=True, cwd=HOUSE)
    with opened(place) as file:
        changes = file.changes_since(1, before)
        assert [change.version for change in changes] == list(range(before + 1, before + 1 + len(days)))
        assert [f"{change.by.at.astimezone(UTC):%Y}" for change in changes] == [day[:4] for day in days]
    tally.tell(name, jumps=len(days))
