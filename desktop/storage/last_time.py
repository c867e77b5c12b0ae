"""Whether what was being kept when a process did not end by itself stands in the shop file."""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from sqlite_utils import Database

from desktop.storage.database import rows
from desktop.storage.in_hand import left_behind
from desktop.storage.records.record_store import PROOF
from desktop.storage.shop_work import STANDS
from desktop.usecases.records.checking.last_time import InHand, LastTime


def told_now(db: Database, state: Path, shop_id: str, shop: Path) -> tuple[tuple[LastTime, ...], tuple[Path, ...]]:
    """Return what is to be told of a shop file, each thing once, and the notes of it, which stay until ``forget``.

    Notes that a window before this one told and left are taken away.
    """
    forget(one.place for one in left_behind(state, shop_id, shop, is_told=True))
    left = tuple(left_behind(state, shop_id, shop))
    found = tuple(found_out(db, one.hand) for one in left)
    return found, tuple(one.set_told() for one in left)


def to_look_at(db: Database, state: Path, shop_id: str, shop: Path) -> tuple[LastTime, ...]:
    """Return what is to be told of a shop file, and what was told and not forgotten yet; nothing is changed."""
    left = (*left_behind(state, shop_id, shop, is_told=True), *left_behind(state, shop_id, shop))
    return tuple(found_out(db, one.hand) for one in left)


def forget(told: Iterable[Path]) -> None:
    """Take notes away that were told."""
    for place in told:
        with suppress(OSError):
            place.unlink(missing_ok=True)


def found_out(db: Database, hand: InHand | None) -> LastTime:
    """Look whether something that was being kept stands in a file."""
    if hand is None:
        return LastTime(None)
    if hand.request:
        return LastTime(hand, bool(rows(db, STANDS, hand.request)))
    return LastTime(hand, bool(rows(db, PROOF, hand.record, hand.seal)))
