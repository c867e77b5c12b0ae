"""What the note of what is just being kept costs: an entry with it beside the same entry without, by turns in one run.

    python -m tests.benchmarks.note_of_the_hand [FOLDER]

The folder decides which disk is measured; without one it is the system's for temporary files. An entry that takes more
than twice as long with its note fails. No part of the tests: a busy machine would fail them for nothing.
"""

import sys
import time
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from desktop.storage.places import Surroundings
from desktop.storage.shop_store import open_shop
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.ports import Request
from tests.storage.file_floor import LIGHT, TEXT, FileFloor, made

ENTRIES = 300
MOST_TIMES = 2.0


def main(folder: str | None) -> int:
    """Type readings by turns into a file with notes and one without; return 1 when the note takes too long."""
    with TemporaryDirectory(dir=folder) as work:
        floors = []
        for name in ("with", "without"):
            place = Path(work) / f"{name}.shop"
            with made(place) as file:
                FileFloor(file).with_card()
            state = Path(work) / "state" if name == "with" else None
            floors.append(FileFloor(open_shop(place, TEXT, Surroundings(state=state))))
        times: tuple[list[float], list[float]] = ([], [])
        for number in range(ENTRIES):
            for floor, kept in zip(floors, times, strict=True):
                request = Request(f"{number:032}", "MECH", floor.file.version(1))
                begun = time.perf_counter()
                take_reading(floor.shop, request, 1, 1, (LIGHT, str(number)))
                kept.append((time.perf_counter() - begun) * 1000)
        for floor in floors:
            floor.file.close()
    ours, bare = median(times[0]), median(times[1])
    verdict = "PASS" if ours <= MOST_TIMES * bare else "FAIL"
    print(f"{verdict}  an entry {ours:.2f} ms, without its note {bare:.2f} ms, ratio {ours / bare:.2f}")
    return verdict == "FAIL"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else None))
