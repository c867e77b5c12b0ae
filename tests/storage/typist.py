"""Somebody who types reading after reading into a shop file until they are killed; started by ``test_killed``.

For each line on the standard input a child begins to type; it says each number on the standard output once the store
has acknowledged it. A child costs a few milliseconds: the parent has loaded everything.
"""

import os
import sys
from pathlib import Path

from desktop.usecases.shop.ports import Request
from desktop.usecases.shop.take_reading import take_reading
from tests.storage.file_floor import FileFloor, opened

PATHS = ("left.approach[1].light", "left.approach[2].light")


def say(words: str) -> None:
    """Hand a line over whole: what was said stays said when the speaker is killed."""
    os.write(1, f"{words}\n".encode())


def type_on(place: Path, turn: str, first: int) -> None:
    """Type rising numbers into two fields by turns."""
    with opened(place) as file:
        floor = FileFloor(file)
        for number in range(first, first + 100_000):
            request = Request(f"{turn}-{number}", "MECH", file.version(1))
            take_reading(floor.shop, request, 1, 1, (PATHS[number % 2], str(number)))
            say(f"kept {number}")


def main() -> None:
    """Begin a child for each line ``turn first`` and wait for its end."""
    for line in sys.stdin:
        turn, first = line.split()
        child = os.fork()
        if not child:
            try:
                say(f"child {os.getpid()}")
                type_on(Path(sys.argv[1]), turn, int(first))
            finally:
                os._exit(1)
        os.waitpid(child, 0)
        say("end")


if __name__ == "__main__":
    main()
