"""The demo's shop, built for the tests: by the command in a process of its own, and again in this one."""

import os
import sqlite3
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from desktop.demo.shop import build_shop

ROOT = Path(__file__).parents[2]
# A screen that is not there: whoever opened a window would end with an error. What Qt is loaded is told at the end.
RUN = (
    "import sys; from desktop.__main__ import main; sys.argv = ['sparkwright', *sys.argv[1:]]\n"
    "try:\n    main()\n"
    "finally:\n    print('Qt is loaded' if 'PySide6' in sys.modules else 'no Qt is loaded')"
)


@dataclass(frozen=True)
class TwoShops:
    """The same shop built twice, what the command printed, and its papers."""

    first: Path
    again: Path
    printed: str
    papers: Path
    seal: str


def build_twice(folder: Path) -> TwoShops:
    """Build the shop by the command and with its papers, and again without."""
    first, again, papers = folder / "first.shop", folder / "again.shop", folder / "papers"
    environment = {**os.environ, "XDG_STATE_HOME": str(folder / "state"), "DISPLAY": ":7"}
    environment.pop("QT_QPA_PLATFORM", None)
    ran = subprocess.run(
        [sys.executable, "-c", RUN, "demo", "--shop", str(first), "--paper", str(papers)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=environment,
        timeout=280,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return TwoShops(first, again, ran.stdout, papers, build_shop(again).seal)


def everything_in(place: Path) -> list[str]:
    """Return every table and row of a shop file as statements."""
    connection = sqlite3.connect(place)
    try:
        return list(connection.iterdump())
    finally:
        connection.close()
