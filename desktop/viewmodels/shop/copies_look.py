"""Looking at a copy as a restore does, without restoring it: the same verb, ended before anything is put in place."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import NoReturn, Protocol

from desktop.core.errors import Refusal
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.records.copies.backup import restore
from desktop.usecases.records.copies.copy_ports import Clock, CopyStore, Pace, PreparedCopy
from desktop.usecases.records.copies.sign_restore import keeper_of
from desktop.usecases.records.keys.signing_desk import SigningDesk, keepers, people_signed
from desktop.viewmodels.shop.copies_found import STOPPED, FoundCopy

NOTHING = "lacks nothing"
"""How the sentence about a copy begins that lacks nothing of the present file."""


class Orders(Protocol):
    """The orders of a file that is only read."""

    def order_numbers(self) -> tuple[int, ...]:
        """Return their numbers."""
        ...

    def order(self, number: int) -> WorkOrder | None:
        """Return one of them."""
        ...


ReadsOrders = Callable[[Path], AbstractContextManager[Orders]]
DeskIn = Callable[[PreparedCopy], AbstractContextManager[SigningDesk]]


class LooksAtPace:
    """Verifies signatures as another does, and raises Refusal when somebody wants to stop."""

    def __init__(self, verifies: Verifies, pace: Pace) -> None:
        self._verifies, self._pace = verifies, pace

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:
        """Tell whether a signature is of a message and a key."""
        go_on(self._pace)
        return self._verifies.verify(public_key, message, signature)


class _SeenError(Exception):
    """Ends the restore that only looks."""

    def __init__(self, found: FoundCopy) -> None:
        super().__init__()
        self.found = found


class _OnlyLooks:
    """Stands where a restore is signed, and ends it with what was verified."""

    def __init__(self, reads: ReadsOrders, desk_in: DeskIn, names: tuple[Path, Path], pace: Pace) -> None:
        self._reads, self._desk_in, self._pace = reads, desk_in, pace
        self._copy, self._shop = names

    def sign(self, prepared: PreparedCopy, lacks: str, _secret: str) -> NoReturn:
        """Raise what was found; Refusal when nobody could sign this restore."""
        missing, changed = self._behind(prepared)
        with self._desk_in(prepared) as desk:
            with desk.shop.store.changing() as work:
                able = keepers(people_signed(desk, desk.keys.within(work)), desk.shop.clock.now().date())
            if not able:
                keeper_of(desk)  # it says in its own words that nobody can
        holds, present = prepared.holds, prepared.present
        raise _SeenError(
            FoundCopy(
                self._copy,
                self._shop,
                holds.shop_name,
                prepared.made_at or "",
                holds.orders,
                holds.chain.records,
                holds.chain.seal,
                lacks,
                is_older=not lacks.startswith(NOTHING),
                has_present=present is not None or bool(prepared.why_unknown),
                present_records=present.chain.records if present else None,
                keepers=tuple((one.id, one.name) for one in able),
                missing=missing,
                changed=changed,
            )
        )

    def _behind(self, prepared: PreparedCopy) -> tuple[tuple[str, ...], tuple[str, ...]]:
        if prepared.present is None:
            return (), ()
        with self._reads(self._shop) as now, self._reads(prepared.place) as copy:
            behind = tuple(_behind(now, copy, self._pace))
        return (
            tuple(name for name, is_there in behind if not is_there),
            tuple(name for name, is_there in behind if is_there),
        )


def examine(
    copies: CopyStore, clock: Clock, reads: ReadsOrders, desk_in: DeskIn, copy: Path, shop: Path, pace: Pace
) -> FoundCopy:
    """Verify a copy as a restore does, and return what it holds and lacks; nothing is put in place.

    Raise BadCopy with what became of the copy, and Refusal when nobody could sign its restore or somebody stops.
    """
    looker = _OnlyLooks(reads, desk_in, (copy, shop), pace)
    try:
        restore(copies, clock, looker, str, copy, shop, pace, takes_older=True)
    except _SeenError as seen:
        return seen.found
    raise AssertionError("a restore that only looks put something in place")


def go_on(pace: Pace) -> None:
    """Raise Refusal when somebody wants to stop."""
    if not pace(0, 0):
        raise Refusal(STOPPED)


def _behind(now: Orders, copy: Orders, pace: Pace) -> Iterator[tuple[str, bool]]:
    """Yield the orders of the present file that a copy does not have as they are, and whether it has them at all."""
    there = set(copy.order_numbers())
    for number in now.order_numbers():
        go_on(pace)
        order = now.order(number)
        before = copy.order(number) if number in there else None
        if order is not None and (before is None or before.version < order.version):
            yield f"{order_name(number)} ({order.aircraft.registration})", before is not None
