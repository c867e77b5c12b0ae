"""A shop file that is read step by step: how far the check is, and a way to stop it."""

from collections.abc import Iterator

from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.usecases.records.checking.kept_besides import KeptKey
from desktop.usecases.records.checking.verify import Verified, verify_shop
from desktop.usecases.records.copies.copy_ports import Pace
from desktop.usecases.records.signing.ports import ShopToCheck

EVERY = 25
"""Records and orders between two words about the pace."""


class _Stopped(Exception):  # noqa: N818 - nothing went wrong
    """Somebody stopped the check."""


class _Paced:
    """Gives what a shop file gives, and says how far it is: first its records, then its work orders."""

    def __init__(self, shop: ShopToCheck, pace: Pace) -> None:
        self._shop, self._pace = shop, pace
        self.shop_id, self.name = shop.shop_id, shop.name
        self._of = len(shop.listed()) + len(shop.order_numbers())
        self._done = 0

    def stored_rows(self) -> Iterator[StoredRow]:
        """Give every row, one step each."""
        for row in self._shop.stored_rows():
            self._step()
            yield row

    def order(self, number: int) -> WorkOrder | None:
        """Return a work order, one step each."""
        self._step()
        return self._shop.order(number)

    def listed(self) -> tuple[RecordLine, ...]:
        """Return the list of records."""
        return self._shop.listed()

    def people(self) -> tuple[Person, ...]:
        """Return the roster."""
        return self._shop.people()

    def order_numbers(self) -> tuple[int, ...]:
        """Return the numbers of the work orders."""
        return self._shop.order_numbers()

    def listed_state(self, number: int) -> str:
        """Return the state in which the list of work orders shows one."""
        return self._shop.listed_state(number)

    def compared_sheets(self) -> tuple[tuple[SheetPin, Sheet | None], ...]:
        """Return every compared revision of a limits sheet with its pin."""
        return self._shop.compared_sheets()

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every limits sheet."""
        return self._shop.sheet_lives()

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools."""
        return self._shop.tools()

    def is_listed(self, order: WorkOrder) -> bool:
        """Tell whether the list of work orders says of an order what the order says."""
        return self._shop.is_listed(order)

    def journal_gaps(self) -> tuple[int, ...]:
        """Return the numbers of the work orders whose journal is not whole."""
        return self._shop.journal_gaps()

    def keys(self) -> tuple[KeptKey, ...] | None:
        """Return the keys of people."""
        return self._shop.keys()

    def seen(self) -> tuple[tuple[str, int], ...]:
        """Return what people had read when they signed last."""
        return self._shop.seen()

    def details(self) -> ShopDetails:
        """Return what the shop says of itself."""
        return self._shop.details()

    def scans(self) -> Iterator[tuple[str, bool]]:
        """Give every scan, one step each."""
        for scan in self._shop.scans():
            self._step()
            yield scan

    def faults(self) -> tuple[str, ...]:
        """Return what is damaged in the file itself."""
        return self._shop.faults()

    def odd_guards(self) -> tuple[str, ...]:
        """Return the names of the guards that are missing or were changed."""
        return self._shop.odd_guards()

    def _step(self) -> None:
        if self._done % EVERY == 0 and not self._pace(self._done, max(self._of, self._done)):
            raise _Stopped
        self._done += 1


def verify_at_pace(shop: ShopToCheck, verifies: Verifies, pace: Pace) -> Verified | None:
    """Check a shop as ``verify_shop`` does; None when it was stopped, for then nothing is known of the rest.

    Raise Refusal when the file cannot be read.
    """
    try:
        return verify_shop(_Paced(shop, pace), verifies)
    except _Stopped:
        return None
