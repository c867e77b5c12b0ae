"""What is refused about the place of a shop file, before the file is touched."""

import os
import re
import shutil
import stat
from collections.abc import Callable
from dataclasses import dataclass
from fnmatch import fnmatch
from pathlib import Path, PurePosixPath

from desktop.core.errors import Refusal
from desktop.storage.database import PATIENCE

LEAST_FREE = 200_000_000
"""Bytes below which the program warns: a transaction needs room for a copy of what it changes."""
SYNC_MARKS = (".sync", ".sync-*", ".synced", ".cloud-sync*")
"""Names that a folder bears, or holds, when a service copies it to other machines.

They are the general ones: a service that leaves no mark in or above the folder is not seen. Who knows the marks of the
service in use gives them besides.
"""
_NETWORK_KINDS = re.compile(
    r"(nfs\d*|cifs|smb\w*|ncpfs|afs|9p|coda|ceph|glusterfs|lustre|gfs2?|ocfs2|davfs\d*|sshfs|ftpfs|fuse\..+)"
)
# A container lays its folders over one another with this one; the disk below is the machine's own.
_LAID_OVER = "fuse.fuse-overlayfs"
# A machine and a folder, as shares are written: //machine/share, machine:/folder.
_SHARE = re.compile(r"//[^/].*|[\w.\-\[\]:]+:/.*")
_UNC = "\\\\"
_ESCAPED = re.compile(r"\\([0-7]{3})")
_MOUNTS = Path("/proc/mounts")


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the machine around the file is like.

    ``mounts`` is the text of ``/proc/mounts``, empty where there is none. ``state`` is the user's folder in which open
    shops are written down; None looks for no second copy. ``patience`` is in seconds.
    """

    mounts: str = ""
    state: Path | None = None
    sync_marks: tuple[str, ...] = SYNC_MARKS
    patience: float = PATIENCE


@dataclass(frozen=True, slots=True)
class Mount:
    """A file system at a folder: what it comes from, its kind, and whether it may only be read."""

    source: str
    folder: PurePosixPath
    kind: str
    read_only: bool


def this_machine(state: Path | None = None) -> Surroundings:
    """Return the surroundings of this machine, with the user's folder for open shops."""
    return Surroundings(_MOUNTS.read_text("utf-8", "replace") if _MOUNTS.exists() else "", state)


def warning(place: Path, free: Callable[[Path], int] = lambda folder: shutil.disk_usage(folder).free) -> str | None:
    """Say that there is little room beside a shop file; None when there is enough. ``free`` tells bytes."""
    left = free(place.resolve().parent)
    if left >= LEAST_FREE:
        return None
    return (
        f"Only {left // 1_000_000} MB are free where the shop file lies, and {LEAST_FREE // 1_000_000} MB should be. "
        "Make room before the disk is full."
    )


def refuse_new_place(place: Path, around: Surroundings) -> None:
    """Raise Refusal where no shop file may be made: something is there, or the folder is no place for one."""
    if os.path.lexists(place):
        raise Refusal(f"{place} is there already, and nothing is written over. Choose another name.")
    folder = place.absolute().parent
    if not folder.is_dir():
        raise Refusal(f"There is no folder {folder}. Make it first, or choose another one.")
    _refuse_folder(place, folder.resolve(), around)


def refuse_place(place: Path, around: Surroundings) -> None:
    """Raise Refusal for a file that is not there, is no file of its own, is empty, or lies where none may lie."""
    try:
        found = place.stat()
    except OSError as trouble:
        raise Refusal(f"{place} cannot be opened: there is no such file, or it may not be seen.") from trouble
    if stat.S_ISDIR(found.st_mode):
        raise Refusal(f"{place} is a folder. Choose the shop file in it.")
    if not stat.S_ISREG(found.st_mode):
        raise Refusal(f"{place} is not a file on a disk. Choose a shop file.")
    if not found.st_size:
        raise Refusal(f"{place} is empty: no shop was ever kept in it. Choose a shop file, or restore a backup.")
    # The journal beside the file bears its name: under a second name it would not be found after a power cut.
    if found.st_nlink > 1:
        raise Refusal(f"{place} stands under two names on the disk. Remove the other name, then open it again.")
    whole = place.resolve()
    # This program never leaves such a file, and reading on would change the stranger's.
    if os.path.lexists(f"{whole}-wal"):
        raise Refusal(f"Another program has {place} open, or left it unfinished ({whole.name}-wal). Close it there.")
    _refuse_folder(place, whole.parent, around)
    if not os.access(whole, os.W_OK):
        raise Refusal(_read_only(place))


def mount_of(folder: Path, mounts: str) -> Mount | None:
    """Return the mount that a folder lies on; of two at one folder the later, which hides the other."""
    # Two slashes at the beginning of a path mean one.
    path = PurePosixPath("/" + folder.as_posix().lstrip("/"))
    found: Mount | None = None
    for line in mounts.splitlines():
        fields = [_ESCAPED.sub(lambda sign: chr(int(sign[1], 8)), field) for field in line.split(" ")]
        if len(fields) < len(("source", "folder", "kind", "options")):
            continue
        one = Mount(fields[0], PurePosixPath(fields[1]), fields[2], "ro" in fields[3].split(","))
        if path.is_relative_to(one.folder) and (found is None or len(one.folder.parts) >= len(found.folder.parts)):
            found = one
    return found


def _refuse_folder(place: Path, folder: Path, around: Surroundings) -> None:
    mount = mount_of(folder, around.mounts)
    if is_share(str(folder)) or (mount and _is_network(mount)):
        raise Refusal(
            f"{place} lies on a network share, where two machines can damage it. Put it on a disk of this machine."
        )
    for above in (folder, *folder.parents):
        mark = next((name for name in (above.name, *_names_in(above)) if _is_mark(name, around.sync_marks)), None)
        if mark:
            raise Refusal(
                f"{place} lies in a folder that is copied to other machines ({mark} in {above}), which can damage it. "
                "Put it into another folder; backups may lie there."
            )
    if (mount and mount.read_only) or not os.access(folder, os.W_OK):
        raise Refusal(_read_only(place))


def is_share(path: str) -> bool:
    """Tell whether a path begins with the name of another machine, as Windows writes it."""
    return path.startswith(_UNC)


def _is_network(mount: Mount) -> bool:
    if mount.kind == _LAID_OVER:
        return False
    return bool(_NETWORK_KINDS.fullmatch(mount.kind) or _SHARE.fullmatch(mount.source))


def _is_mark(name: str, marks: tuple[str, ...]) -> bool:
    return any(fnmatch(name.casefold(), mark.casefold()) for mark in marks)


def _names_in(folder: Path) -> list[str]:
    try:
        return sorted(entry.name for entry in folder.iterdir())
    except OSError:
        return []  # a folder above that may not be listed shows no mark


def _read_only(place: Path) -> str:
    return f"{place} lies where nothing may be written. Put it into a folder that you may write to."
