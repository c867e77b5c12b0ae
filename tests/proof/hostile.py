"""Files from people who mean harm, read one after the other in children with little time, memory and room.

Started by ``test_hostile_files`` as ``python -m tests.proof.hostile KIND COUNT FOLDER``. For each file a child reads it
and ends; a line of JSON tells of the children that did anything else than read or refuse it. ``KINDS`` is open: a kind
is how its files are made and how they are read.
"""

import gc
import json
import os
import random
import resource
import shutil
import signal
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from desktop.assembly import check_place
from desktop.core.errors import Refusal
from desktop.files.cards import load_card
from desktop.files.toml_text import read_file
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.doctor import look_over
from tests.proof.hostile_files import hostile_database, hostile_text, hostile_values, sealed_copy
from tests.proof.hostile_reads import grow, open_and_ask, prepare, spin, taken_in, write_outside
from tests.proof.works import NOW
from tests.storage.file_floor import QUIET

HOUSE = Path(__file__).parents[2]
SECONDS = 5
"""Of the processor, for one file."""
MEMORY = 256 * 1024 * 1024
"""Bytes that reading one file may take besides what the program takes itself."""
LARGEST = 64 * 1024 * 1024
"""Bytes of the largest file that may be written."""
_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_TRUNC
_CHANGES = {"os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.truncate", "os.chmod"}
_RUNS = {"os.system", "os.exec", "os.posix_spawn", "subprocess.Popen", "socket.connect"}


class End(Enum):
    """How the reading of one file ended."""

    READ = 0
    REFUSED = 10
    RAISED = 11
    MEMORY = 12
    OUTSIDE = 13
    TIME = 14
    KILLED = 15


SOUND_ENDS = (End.READ, End.REFUSED)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file: ``makes`` one by chance in a folder, ``reads`` it as the program does, refused or not."""

    makes: Callable[[random.Random, Path], Path]
    reads: Callable[[Path], object]


def _written(data: bytes, place: Path) -> Path:
    place.write_bytes(data)
    return place


def _text_kind(seeds: str, pattern: str, reads: Callable[[Path], object]) -> Kind:
    files = [one.read_bytes() for one in sorted((HOUSE / seeds).glob(pattern))]

    def makes(dice: random.Random, folder: Path) -> Path:
        spoils = dice.choice((hostile_text, hostile_values))
        return _written(spoils(dice, dice.choice(files)), folder / "file.toml")

    return Kind(makes, reads)


def kinds(pristine: Path) -> dict[str, Kind]:
    """Return the kinds; those that begin with "control" do what no kind may do."""
    cards = "resources/cards"
    return {
        "readings files": _text_kind("tests/samples", "*.toml", check_place),
        "task cards": _text_kind(cards, "*.toml", lambda place: load_card(read_file(place), place.name)),
        "sheets": _text_kind("resources/demo/sheets", "*.toml", taken_in(pristine)),
        "copies": Kind(lambda dice, folder: sealed_copy(dice, pristine, folder), prepare),
        "shop files": Kind(lambda dice, folder: hostile_database(dice, pristine, folder / "file.shop"), open_and_ask),
        "shop files at the doctor": Kind(
            lambda dice, folder: hostile_database(dice, pristine, folder / "file.shop"),
            lambda place: look_over(place, QUIET, NOW, Ed25519Verifier()),
        ),
        "control without limits": _text_kind(cards, "*.toml", lambda place: tomllib.loads(place.read_text("utf-8"))),
        "control outside": _text_kind(cards, "*.toml", write_outside),
        "control time": _text_kind(cards, "*.toml", spin),
        "control memory": _text_kind(cards, "*.toml", grow),
    }


def ends_of(kind: Kind, count: int, folder: Path, seconds: int = SECONDS) -> tuple[Counter[End], list[str]]:
    """Read so many hostile files, each in a child; return how they ended, and what those said that ended badly."""
    ends: Counter[End] = Counter()
    bad = []
    dice = random.Random(20310304)  # noqa: S311 - files, not secrets
    for number in range(count):
        inside = folder / "inside"
        inside.mkdir()
        place = kind.makes(dice, inside)
        end, said = _in_a_child(kind, place, inside, folder / "said", seconds)
        ends[end] += 1
        if end not in SOUND_ENDS:
            bad.append(f"{number}: {end.name.lower()}: {said[-600:]}")
        shutil.rmtree(inside)
    return ends, bad


def _in_a_child(kind: Kind, place: Path, inside: Path, said: Path, seconds: int) -> tuple[End, str]:
    child = os.fork()
    if not child:
        _read_in_here(kind, place, inside, said, seconds)
    status = _wait(child, seconds * 4)
    words = said.read_text("utf-8", "replace") if said.exists() else ""
    said.unlink(missing_ok=True)
    if status is None or os.WIFSIGNALED(status):
        is_time = status is None or os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL)
        return (End.TIME if is_time else End.KILLED), words
    return End(os.waitstatus_to_exitcode(status)), words


def _wait(child: int, longest: float) -> int | None:
    """Return the status of a child; None for one that hung and was killed."""
    until = time.monotonic() + longest
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return status
        time.sleep(0.0005)  # not a wait for an event: waiting with a limit has no other way
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _read_in_here(kind: Kind, place: Path, inside: Path, said: Path, seconds: int) -> None:
    """Read a file with limits and end the process; never returns."""
    end, words, outside = End.KILLED, "", []
    try:
        report = os.open(said, os.O_CREAT | os.O_WRONLY)
        pages = int(Path("/proc/self/statm").read_text("ascii").split()[0])
        most = pages * resource.getpagesize() + MEMORY
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        resource.setrlimit(resource.RLIMIT_FSIZE, (LARGEST, LARGEST))
        sys.addaudithook(lambda event, given: outside.extend(_outside(event, given, inside)))
        kind.reads(place)
        end = End.READ
    except Refusal as refusal:
        end = End.REFUSED
        words = refusal.sentence
        if not _is_one_line(words):
            end = End.RAISED
    except MemoryError:
        end = End.MEMORY
    except BaseException as bug:  # noqa: BLE001 - whatever it is, the proof must hear of it
        end, words = End.RAISED, f"{type(bug).__name__}: {str(bug)[:300]} {_where(bug)}"
    finally:
        if outside:
            end, words = End.OUTSIDE, "; ".join(outside[:3])
        os.write(report, words.encode("utf-8", "replace"))
        os._exit(end.value)


def _where(bug: BaseException) -> str:
    trace, said = bug.__traceback__, ""
    while trace:
        said = f"{said} {Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}"
        trace = trace.tb_next
    return said[-200:]


def _is_one_line(words: str) -> bool:
    return bool(words) and "\n" not in words and len(words) < 2000


def _outside(event: str, given: tuple[object, ...], inside: Path) -> list[str]:
    """Say what a call would write or start outside of a folder."""
    if event in _RUNS:
        return [f"{event} {given[:1]}"]
    if event == "open" and isinstance(given[2], int) and given[2] & _WRITES:
        paths: tuple[object, ...] = given[:1]
    elif event in _CHANGES:
        paths = given[:2] if event in ("os.rename", "os.link", "os.symlink") else given[:1]
    else:
        return []
    names = [os.fsdecode(one) for one in paths if isinstance(one, str | bytes | os.PathLike)]
    return [f"{event} {name}" for name in names if not _is_in(name, inside)]


def _is_in(name: str, folder: Path) -> bool:
    return os.path.abspath(name).startswith(f"{folder}{os.sep}")  # noqa: PTH100 - it may not look at the disk


def _warm_up(kind: Kind, pristine: Path, folder: Path) -> None:
    """Read a sound file here, so that every child finds everything loaded."""
    inside = folder / "inside"
    inside.mkdir()
    sound = (HOUSE / "tests/samples/sound.toml", HOUSE / "resources/demo/sheets/marrow-four.toml")
    for data in (pristine.read_bytes(), *(one.read_bytes() for one in sound)):
        with suppress(Refusal):
            kind.reads(_written(data, inside / "file"))
    shutil.rmtree(inside)


def main() -> None:
    """Read the files of a kind and print how they ended."""
    pristine, name, count, folder = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), Path(sys.argv[4])
    seconds = int(sys.argv[5])
    kind = kinds(pristine)[name]
    if not name.startswith("control"):
        _warm_up(kind, pristine, folder)
    gc.freeze()  # a child that sweeps would copy all of it first
    ends, bad = ends_of(kind, count, folder, seconds)
    print(json.dumps({"ends": {end.name.lower(): number for end, number in ends.items()}, "bad": bad}))


if __name__ == "__main__":
    main()
