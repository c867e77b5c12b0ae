"""What recording paper that was signed with ink needs: the codes of papers, what was printed, and a place for scans."""

from dataclasses import dataclass
from typing import Protocol

from desktop.core.shop.orders.ink import Printed, Scan
from desktop.core.shop.orders.order import WorkOrder
from desktop.usecases.shop.ports import Shop, ShopWork


class PaperCodes(Protocol):
    """Says the check code of a paper as it would be printed now."""

    def code_of(self, order: WorkOrder, card: int, paper: str) -> str:
        """Return the code of a kind of paper; ``card`` is 0 for the whole order. Raise Refusal when it has none yet."""
        ...


class InkWork(Protocol):
    """What is kept of paper, inside one transaction of a shop file."""

    def put_scan(self, scan: Scan) -> None:
        """Keep a scan under its SHA-256; one that is there already stays."""
        ...

    def scan(self, digest: str) -> Scan | None:
        """Return a scan; None when there is none. Raise Refusal for one that is not as it was kept."""
        ...

    def note_printed(self, printed: Printed) -> None:
        """Remember a print; the same one again is remembered once."""
        ...

    def printed_with(self, code: str) -> tuple[Printed, ...]:
        """Return the prints that bear a code, the newest version first."""
        ...


class InkFile(Protocol):
    """Where what is kept of paper stands."""

    def within(self, work: ShopWork) -> InkWork:
        """Return it inside a transaction."""
        ...


@dataclass(frozen=True, slots=True)
class InkDesk:
    """What every verb about ink works with."""

    shop: Shop
    file: InkFile
    codes: PaperCodes
