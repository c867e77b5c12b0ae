"""Scans of paper that was signed with ink, held against the work orders that refer to them."""

from collections.abc import Iterable, Iterator

from desktop.core.records.sealed.chain import Problem
from desktop.core.shop.orders.ink import InkSigned
from desktop.core.shop.orders.order import WorkOrder

_SHORT = 16
"""Digits by which a scan is named that no paper names."""
_RESTORE = "Take it from the newest copy that is sound, or scan the paper again"


class InkScans:
    """What the work orders say of scans; taken order by order."""

    def __init__(self) -> None:
        self._inks: list[InkSigned] = []
        self.is_whole = True

    def take(self, order: WorkOrder) -> None:
        """Take the next order."""
        self._inks += [ink for ink in order.inks if ink.scan]

    def miss(self) -> None:
        """Say that an order cannot be read: nobody knows to which scans it refers."""
        self.is_whole = False

    def problems(self, scans: Iterable[tuple[str, bool]]) -> Iterator[Problem]:
        """Say which papers' scans are gone or changed, and which scans no paper refers to.

        Each scan is given by the SHA-256 under which it is kept, and whether its bytes are those.
        """
        kept = dict(scans)
        for ink in self._inks:
            if ink.scan not in kept:
                yield Problem(0, f"{_paper(ink)}: its scan is gone. {_RESTORE}.")
            elif not kept[ink.scan]:
                yield Problem(0, f"{_paper(ink)}: its scan is not as it was kept. {_RESTORE}.")
        loose = sorted(kept.keys() - {ink.scan for ink in self._inks}) if self.is_whole else []
        for digest in loose:
            name = f"The scan {digest[:_SHORT]} belongs to no card and no order"
            yield Problem(0, f"{name}: no paper that was signed with ink refers to it. Another program put it there.")


def _paper(ink: InkSigned) -> str:
    where = f"Card {ink.card} of order {ink.order}" if ink.card else f"Order {ink.order}"
    return f'{where}, the paper "{ink.paper}" signed with ink by {ink.signer}'
