"""Watching and hurting the calls by which a process touches the disk, with ``strace`` where it is there."""

import os
import re
import shutil
import signal
import subprocess
from collections.abc import Sequence
from pathlib import Path

from tests.proof.hands import Hands

_CALL = re.compile(r"^(?:\d+ +)?(\w+)\(")
_ATTACHED = "attached"


def why_not() -> str | None:
    """Say why no process can be traced here; None when one can."""
    if not hasattr(os, "fork"):
        return "this system does not fork"
    strace = shutil.which("strace")
    if not strace:
        return "there is no strace on this machine"
    tried = subprocess.run([strace, "-qq", "-e", "trace=none", "true"], check=False, capture_output=True, text=True)
    return f"no process may be traced on this machine: {tried.stderr.strip()}" if tried.returncode else None


def traced_turn(hands: Hands, turn: str, first: int, most: int, options: Sequence[str], log: Path) -> list[str]:
    """Do a turn with somebody attached to it; return what was said. The log is written by the time it returns."""
    child = hands.begin(f"wait-{turn}", first, most)
    strace = shutil.which("strace") or "strace"
    with subprocess.Popen(
        [strace, "-o", str(log), *options, "-p", str(child)], stderr=subprocess.PIPE, text=True
    ) as tracer:
        assert tracer.stderr is not None
        line = tracer.stderr.readline()
        if _ATTACHED not in line:
            os.kill(child, signal.SIGKILL)
            raise RuntimeError(f"nobody could attach: {line}")
        os.kill(child, signal.SIGUSR1)
        return hands.end()


def calls_that_touch(log: Path, folder: Path) -> list[tuple[str, int]]:
    """Return the calls of a log that touch a folder, each with its number among all calls of its name, from 1."""
    counted: dict[str, int] = {}
    found = []
    for line in log.read_text("utf-8", "replace").splitlines():
        call = _CALL.match(line)
        if call is None:
            continue
        name = call[1]
        counted[name] = counted.get(name, 0) + 1
        if str(folder) in line:
            found.append((name, counted[name]))
    return found
