"""What copies of a shop need from outside: making one, taking one out again, and whoever signs that it was done."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Protocol

from desktop.core.errors import Refusal

Pace = Callable[[int, int], bool]
"""Told how much is done, and of how much; returns False to stop."""


@dataclass(frozen=True, slots=True)
class Chain:
    """The signed records of a shop file: how many, the record seal after the last (64 digits), and what is wrong."""

    records: int
    seal: str
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Holds:
    """What a shop file holds. ``changes`` counts the lines of all orders' journals, ``form`` the steps it has seen."""

    shop_id: str
    shop_name: str
    form: int
    orders: int
    changes: int
    chain: Chain


@dataclass(frozen=True, slots=True)
class MadeCopy:
    """A copy that was made, and read back whole."""

    place: Path
    made_at: datetime
    holds: Holds


class Sabotage(StrEnum):
    """What can have become of a copy."""

    EMPTY = "empty"
    CUT = "cut short"
    HALF = "half copied"
    CHANGED = "changed"
    UNSEALED = "without its own seal"
    STRANGE = "no copy of a shop"
    OTHER_SHOP = "another shop's"
    OLDER = "older"
    PARTED = "parted"
    UNKNOWN = "not comparable"


class BadCopy(Refusal):
    """A copy that is not taken; ``kind`` says what became of it."""

    def __init__(self, kind: Sabotage, sentence: str) -> None:
        super().__init__(sentence)
        self.kind = kind


class PreparedCopy(Protocol):
    """A copy that was verified and lies beside the shop file under a name of its own; nothing is overwritten yet.

    ``present`` is what the present file holds; None when there is none or it cannot be read, and ``why_unknown`` says
    why. ``is_ancestor`` tells whether the copy's last change is one that the present file has too.
    """

    place: Path
    made_at: str | None
    holds: Holds
    present: Holds | None
    why_unknown: str | None
    is_ancestor: bool

    def put_in_place(self, now: datetime) -> Path | None:
        """Put it where the shop file lies; return where the present one is kept aside, None when there was none."""
        ...


class CopyStore(Protocol):
    """Makes copies of shop files and takes them out again. Raises Refusal in plain words."""

    def make(self, shop: Path, place: Path, now: datetime, pace: Pace) -> MadeCopy:
        """Make a copy in a folder or under a new name, read it back whole, and only then give it its name."""
        ...

    def prepare(self, copy: Path, shop: Path, pace: Pace, *, unsealed: bool) -> AbstractContextManager[PreparedCopy]:
        """Verify a copy and lay it beside the shop file; at the end it is gone unless it was put in place."""
        ...


class RestoreSigner(Protocol):
    """Checks a records keeper's secret and signs the restore into the file that is going to be the shop's."""

    def sign(self, prepared: PreparedCopy, older_by: str, secret: str) -> None:
        """Sign a record of the restore at ``prepared.place``; raise Refusal when the secret opens no keeper's key."""
        ...


class Clock(Protocol):
    """Tells the time."""

    def now(self) -> datetime:
        """Return the time with its offset from UTC in whole minutes."""
        ...


def never_stops(done: int, of: int) -> bool:  # noqa: ARG001 - the signature is given
    """Keep going: the pace of whoever does not look."""
    return True
