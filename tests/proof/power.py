"""Power cuts, worked out from the log of one piece of work: what a disk may hold at any moment of it.

What was synced stands. Of what was written since, a disk may have kept any part: each write whole, not at all, or
torn at a multiple of 512 bytes; each name that was made or taken away, or not. A name is kept for certain once its
folder was synced.
"""

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

SECTOR = 512
TORN = 0.25
"""Which part of the writes that were kept is torn."""
_CALL = re.compile(r"^(?:\d+ +)?(\w+)\((.*)\) += (-?\d+)(?:<([^>]*)>)?")
_TEXT = re.compile(r'"((?:\\x[0-9a-f]{2})*)"(?:\.\.\.)?')
_FD = re.compile(r"^(\d+)<([^>]*)>")
_KEPT = re.compile(rb"kept (\d+)\n")


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was done to the disk: what, to which name, and with what."""

    what: str
    name: str = ""
    data: bytes = b""
    at: int = 0


@dataclass(slots=True)
class Inode:
    """A file on the disk: what stands for certain, and what was done since."""

    durable: bytes = b""
    pending: list[Step] = field(default_factory=list)


def steps_in(log: Path, folder: Path) -> list[Step]:
    """Return what a log says was done in a folder, and what was acknowledged, in order."""
    steps: list[Step] = []
    for line in log.read_text("ascii", "replace").splitlines():
        call = _CALL.match(line)
        if call is None or int(call[3]) < 0:
            continue
        steps.extend(_steps_of(call[1], call[2], int(call[3]), folder))
    return steps


def _steps_of(name: str, arguments: str, result: int, folder: Path) -> Iterator[Step]:
    texts = [_bytes(text) for text in _TEXT.findall(arguments)]
    handle = _FD.match(arguments)
    path = Path(_path(handle[2])) if handle else Path()
    numbers = arguments.rsplit(",", 2)
    if name == "write" and handle and handle[1] == "1":
        if kept := _KEPT.fullmatch(texts[0]):
            yield Step("kept", at=int(kept[1]))
    elif name == "openat" and "O_CREAT" in arguments and Path(texts[0].decode()).parent == folder:
        yield Step("create", Path(texts[0].decode()).name)
    elif name == "unlink" and Path(texts[0].decode()).parent == folder:
        yield Step("unlink", Path(texts[0].decode()).name)
    elif path == folder and name in ("fsync", "fdatasync"):
        yield Step("sync folder")
    elif path.parent == folder and name in ("fsync", "fdatasync"):
        yield Step("sync", path.name)
    elif path.parent == folder and name == "pwrite64":
        if len(texts[0]) != result:
            raise ValueError(f"the log does not hold all that was written: {len(texts[0])} of {result}")
        yield Step("write", path.name, texts[0], int(numbers[-1]))
    elif path.parent == folder and name == "ftruncate":
        yield Step("truncate", path.name, at=int(numbers[-1]))


def _bytes(text: str) -> bytes:
    return bytes.fromhex(text.replace("\\x", ""))


def _path(text: str) -> str:
    return _bytes(text).decode() if text.startswith("\\x") else text


class Disk:
    """A disk in the course of a work. ``names`` stand for certain; ``changes`` of them may or may not."""

    def __init__(self, files: dict[str, bytes]) -> None:
        self.inodes = [Inode(data) for data in files.values()]
        self.names = dict(zip(files, range(len(files)), strict=True))
        self.changes: list[tuple[str, int | None]] = []
        self.present = dict(self.names)

    def take(self, step: Step) -> None:
        """Do a step."""
        if step.what == "create" and step.name not in self.present:
            self.inodes.append(Inode())
            self._rename(step.name, len(self.inodes) - 1)
        elif step.what == "unlink":
            self._rename(step.name, None)
        elif step.what == "sync folder":
            self.names, self.changes = dict(self.present), []
        elif step.what in ("write", "truncate"):
            self.inodes[self.present[step.name]].pending.append(step)
        elif step.what == "sync":
            inode = self.inodes[self.present[step.name]]
            inode.durable, inode.pending = _after(inode.durable, inode.pending), []

    def after_a_cut(self, dice: random.Random) -> dict[str, bytes]:
        """Return the files as they may be found when the power goes now."""
        keeps = dice.choice((0.0, 0.5, 0.5, 0.5, 0.5, 0.9, 1.0))
        names = dict(self.names)
        for name, number in self.changes:
            if dice.random() < keeps:
                if number is None:
                    names.pop(name, None)
                else:
                    names[name] = number
        found = {}
        for name, number in names.items():
            inode = self.inodes[number]
            kept = [_torn(step, dice) for step in inode.pending if dice.random() < keeps]
            found[name] = _after(inode.durable, kept)
        return found

    def _rename(self, name: str, number: int | None) -> None:
        self.changes.append((name, number))
        if number is None:
            self.present.pop(name, None)
        else:
            self.present[name] = number


def _torn(step: Step, dice: random.Random) -> Step:
    if step.what != "write" or len(step.data) <= SECTOR or dice.random() >= TORN:
        return step
    sectors = -(-len(step.data) // SECTOR)
    return Step("write", step.name, step.data[: dice.randrange(1, sectors) * SECTOR], step.at)


def _after(data: bytes, steps: list[Step]) -> bytes:
    whole = bytearray(data)
    for step in steps:
        if step.what == "truncate":
            del whole[step.at :]
            whole.extend(bytes(step.at - len(whole)))
        else:
            whole.extend(bytes(max(0, step.at - len(whole))))
            whole[step.at : step.at + len(step.data)] = step.data
    return bytes(whole)


def cuts(
    files: dict[str, bytes], steps: list[Step], states: int, before: int
) -> Iterator[tuple[dict[str, bytes], int]]:
    """Give states of the disk, spread over all moments of the work, each with the last number acknowledged by then."""
    dice = random.Random(20310304)  # noqa: S311 - moments, not secrets
    moments = sorted(dice.randrange(len(steps) + 1) for _ in range(states))
    disk, acknowledged, done = Disk(files), before, 0
    for moment in moments:
        while done < moment:
            step = steps[done]
            if step.what == "kept":
                acknowledged = step.at
            else:
                disk.take(step)
            done += 1
        yield disk.after_a_cut(dice), acknowledged
