"""What the windows of a shop print with, as it is handed to them. Everything but ``remember`` may take its time."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from desktop.usecases.papers.stable_set import PaperThere
from reports.pages import Page

SCREEN_DOTS, PRINTER_DOTS = 96, 300
"""Dots per inch of the pages in the preview, and of those that go to the printer."""


@dataclass(frozen=True, slots=True)
class Made:
    """A paper that was made: as PDF, its pages as pictures, and what is remembered of it once it goes out."""

    pdf: bytes
    pages: tuple[Page, ...] = ()
    note: object = None


@dataclass(frozen=True, slots=True)
class WhichLog:
    """The log into which a label goes: the position and the serial number of its engine."""

    position: str
    serial: str


def is_asked(position: str, engines: int) -> bool:
    """Tell whether a label needs the question for its log: the aircraft has more engines than one."""
    return engines > 1 or position.casefold() != "single"


@dataclass(frozen=True, slots=True)
class Listed:
    """The papers of an order or of the shop; ``log`` is asked for before a label prints, None on a single engine."""

    name: str
    papers: tuple[PaperThere, ...]
    log: WhichLog | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """How far many papers got, of how many; ``why`` is the sentence that ended them early, empty for none."""

    done: int
    of: int
    why: str = ""


Take = Callable[[int, Made], bool]
"""Takes the paper of a place among many; returns False to end."""
Pace = Callable[[int, int], bool]


@dataclass(frozen=True, slots=True)
class PaperNeeds:
    """``make`` makes one paper of a thing on a size, ``each`` many in one errand, and gives every one away as it comes.

    ``draw`` makes pages of a PDF, ``listed`` lists the papers of an order, or of the shop for 0. ``write`` keeps a PDF
    in a file and raises Refusal. ``size`` is the shop's paper size. ``remember`` keeps the code of what went out.
    All but the last two are called beside the window, and open the shop file for themselves.
    """

    make: Callable[[object, str, float], Made]
    each: Callable[[Sequence[object], str, float, Take], Callable[[Pace], Outcome]]
    draw: Callable[[bytes, float], tuple[Page, ...]]
    listed: Callable[[int], Listed]
    write: Callable[[Path, bytes], None]
    remember: Callable[[object], None]
    size: Callable[[], str]
