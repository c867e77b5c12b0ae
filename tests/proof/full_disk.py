"""A disk that is full at one level after another; started by ``test_full_disk`` in a mount namespace of its own.

For each level it lays a fresh copy of the shop file on a small disk in memory, fills the rest but for so many pages,
does one step of a work, and prints a line of JSON with what was said and what stands.
"""

import json
import shutil
import subprocess
import sys
from pathlib import Path

from desktop.core.errors import Refusal
from tests.proof.works import Half, work_named

PAGE = 4096
DISK = "8m"


def main() -> None:
    """Mount the disk and go through the levels."""
    name, pristine, folder, levels = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]), int(sys.argv[4])
    mount = shutil.which("mount") or "mount"
    subprocess.run([mount, "-t", "tmpfs", "-o", f"size={DISK}", "tmpfs", str(folder)], check=True)
    work, place = work_named(name), folder / "mill.shop"
    print(json.dumps({"mounted": True}), flush=True)
    for level in range(levels):
        for one in folder.iterdir():
            one.unlink()
        shutil.copy(pristine, place)
        before = work.found(place)
        fill(folder, level)
        said = one_step(name, place, level, before + 1)
        (folder / "filler").unlink()
        left = sorted(one.name for one in folder.iterdir() if one.name not in (place.name, f"{before + 1}.shop-copy"))
        try:
            found: int | str = work.found(place) - before
        except (Half, Refusal) as trouble:
            found = f"{trouble}"
        print(json.dumps({"level": level, "said": said, "found": found, "left": left}), flush=True)


def fill(folder: Path, level: int) -> None:
    """Leave so many pages of the disk."""
    pages = shutil.disk_usage(folder).free // PAGE - level
    with (folder / "filler").open("wb") as filler:
        for _ in range(pages):
            filler.write(b"x" * PAGE)


def one_step(name: str, place: Path, level: int, number: int) -> str:
    """Do one step; return "kept" or the sentence of the refusal."""
    steps = work_named(name).does(place, f"level-{level}", number)
    try:
        return f"kept {next(steps)}"
    except Refusal as refusal:
        return refusal.sentence
    finally:
        steps.close()  # type: ignore[attr-defined]


if __name__ == "__main__":
    main()
