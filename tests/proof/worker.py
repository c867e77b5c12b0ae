"""Does a work in a child process that can be killed, traced and hurt; started by ``hands``.

For each line ``turn first most`` on the standard input a child begins; it says each number on the standard output once
the store has acknowledged it, or the sentence with which it was refused. A turn that begins with ``wait`` waits for a
signal first, so that somebody can attach to it. A child costs a few milliseconds: the parent has loaded everything.
"""

import os
import shutil
import signal
import sys
import traceback
from pathlib import Path

from desktop.core.errors import Refusal
from tests.proof.works import Work, work_named


def say(words: str) -> None:
    """Hand a line over whole: what was said stays said when the speaker is killed."""
    os.write(1, f"{' '.join(words.split())}\n".encode())


def work_on(work: Work, place: Path, turn: str, first: int, most: int) -> None:
    """Do the work ``most`` times, or until somebody is killed or refused."""
    try:
        steps = work.does(place, turn, first)
        for _ in range(most):
            say(f"kept {next(steps)}")
        steps.close()  # type: ignore[attr-defined]
    except Refusal as refusal:
        say(f"refused {refusal.sentence}")
    except Exception as bug:  # noqa: BLE001 - whatever it is, the proof must hear of it
        say(f"bug {bug!r} {traceback.extract_tb(bug.__traceback__)[-3:]}")


def warm_up(work: Work, place: Path) -> None:
    """Do the work once on a file of its own, so that everything is loaded that is loaded late."""
    warm = place.parent / "warm"
    warm.mkdir()
    copy = Path(shutil.copy(place, warm / place.name))
    steps = work.does(copy, "warm", work.found(copy) + 1)
    next(steps)
    steps.close()  # type: ignore[attr-defined]
    shutil.rmtree(warm)


def main() -> None:
    """Begin a child for each line and wait for its end."""
    work, place = work_named(sys.argv[1]), Path(sys.argv[2])
    signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGUSR1])
    warm_up(work, place)
    say("ready")
    for line in sys.stdin:
        turn, first, most = line.split()
        child = os.fork()
        if not child:
            try:
                say(f"child {os.getpid()}")
                if turn.startswith("wait"):
                    signal.sigwait([signal.SIGUSR1])
                work_on(work, place, turn, int(first), int(most))
            finally:
                os._exit(0)
        os.waitpid(child, 0)
        say("end")


if __name__ == "__main__":
    main()
