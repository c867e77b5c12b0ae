"""Copies of the shop: made on demand and on closing, and taken out again by a records keeper."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import shown
from desktop.usecases.records.copies.copy_ports import (
    BadCopy,
    Clock,
    CopyStore,
    Holds,
    MadeCopy,
    Pace,
    PreparedCopy,
    RestoreSigner,
    Sabotage,
    never_stops,
)

AsksSecret = Callable[[], str]
_ANYWAY = "Say --older to take it all the same; the present file is kept aside."


@dataclass(frozen=True, slots=True)
class OnClosing:
    """What became of the copy on closing: ``made`` is None when none was made, and ``sentence`` says either."""

    made: MadeCopy | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Restored:
    """A restore that was done: what the shop file holds now, and where the one before is kept, if there was one."""

    holds: Holds
    aside: Path | None
    lacks: str


def back_up(copies: CopyStore, clock: Clock, shop: Path, place: Path, pace: Pace = never_stops) -> MadeCopy:
    """Make a copy of a shop file in a folder or under a new name; it was read back whole.

    Raise Refusal when anything stands against it or it is stopped; then there is no copy, and nothing was overwritten.
    """
    return copies.make(shop, place, clock.now(), pace)


def back_up_on_closing(copies: CopyStore, clock: Clock, shop: Path, place: Path, pace: Pace = never_stops) -> OnClosing:
    """Make a copy when a window closes. A refusal keeps nobody from closing: it comes back as a sentence to show."""
    try:
        made = back_up(copies, clock, shop, place, pace)
    except Refusal as refusal:
        return OnClosing(None, f"No copy was made on closing. {refusal.sentence}")
    return OnClosing(made, copy_words(made))


def copy_words(made: MadeCopy) -> str:
    """Say where a copy lies and what it holds."""
    holds = made.holds
    return (
        f"Copied to {made.place} and read back: {_count(holds.orders, 'order')}, "
        f"{_count(holds.chain.records, 'record')}, record seal {shown(holds.chain.seal)}."
    )


def restore(
    copies: CopyStore,
    clock: Clock,
    signer: RestoreSigner,
    asks_secret: AsksSecret,
    copy: Path,
    shop: Path,
    pace: Pace = never_stops,
    *,
    takes_older: bool = False,
    takes_unsealed: bool = False,
) -> Restored:
    """Put a copy in the place of a shop file, after it was verified and a records keeper signed that it was done.

    The present file is kept aside. Raise BadCopy, with what became of the copy, or Refusal; then nothing was changed.
    ``takes_older`` takes a copy that lacks something that the present file holds, after that was told.
    """
    with copies.prepare(copy, shop, pace, unsealed=takes_unsealed) as prepared:
        lacks = _lacks(prepared, copy)
        if lacks and not takes_older:
            raise BadCopy(lacks[0], f"{copy} {lacks[1]}. {_ANYWAY}")
        said = lacks[1] if lacks else "lacks nothing that the present file holds"
        signer.sign(prepared, said, asks_secret())
        return Restored(prepared.holds, prepared.put_in_place(clock.now()), said)


def restored_words(shop: Path, restored: Restored) -> str:
    """Say what the shop file holds now, and where the one before is kept."""
    holds = restored.holds
    kept = f" The file before is kept as {restored.aside}." if restored.aside else ""
    return (
        f"{shop} is restored: {_count(holds.orders, 'order')} and {_count(holds.chain.records, 'record')} of the copy, "
        f"and a record of the restore. The copy {restored.lacks}.{kept}"
    )


def _lacks(prepared: PreparedCopy, copy: Path) -> tuple[Sabotage, str] | None:
    """Say what a copy lacks that the present file holds; None when nothing. Raise BadCopy for another shop's."""
    present, holds = prepared.present, prepared.holds
    if prepared.why_unknown:
        return Sabotage.UNKNOWN, f"may be older: the present file cannot be read ({prepared.why_unknown.rstrip('.')})"
    if present is None:
        return None
    if present.shop_id != holds.shop_id:
        raise BadCopy(
            Sabotage.OTHER_SHOP,
            f'{copy} is a copy of another shop, "{holds.shop_name}"; the present file is "{present.shop_name}". '
            "Take a copy of this shop, or restore this one under another name.",
        )
    fewer = {
        "order": present.orders - holds.orders,
        "record": present.chain.records - holds.chain.records,
        "change of orders": present.changes - holds.changes,
    }
    counted = ", ".join(_count(number, word) for word, number in fewer.items() if number > 0)
    if not prepared.is_ancestor:
        lacks = f"{counted} fewer" if counted else "no fewer orders and records"
        return Sabotage.PARTED, f"and the present file went different ways: the copy has {lacks}, and others"
    return (Sabotage.OLDER, f"is older than the present file: it lacks {counted}") if counted else None


def _count(number: int, word: str) -> str:
    first, _, rest = word.partition(" ")
    plural = first if number == 1 else f"{first}s"
    return " ".join(part for part in (str(number), plural, rest) if part)
