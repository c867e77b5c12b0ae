"""What signing and checking need from the shop file: records appended in the running transaction, and read whole."""

from collections.abc import Iterator
from contextlib import AbstractContextManager
from typing import Protocol

from desktop.core.records.sealed.envelope import Envelope
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.usecases.records.checking.kept_besides import KeptKey
from desktop.usecases.shop.ports import ShopStore, ShopWork


class Records(Protocol):
    """The signed records of a shop. Reading raises Refusal for one that is not as it was kept."""

    def envelopes(self, start: int = 1) -> Iterator[Envelope]:
        """Give the sealed records from a number on, in their order."""
        ...

    def envelope(self, number: int) -> Envelope | None:
        """Return one sealed record; None when there is none."""
        ...

    def last_envelope(self) -> Envelope | None:
        """Return the newest; None in a shop without any."""
        ...

    def envelopes_about(self, order: int) -> tuple[Envelope, ...]:
        """Return those about an order and its cards, and those about one of them, the oldest first."""
        ...

    def envelopes_about_people(self) -> tuple[Envelope, ...]:
        """Return those that say who people are and by which keys they sign, the oldest first."""
        ...

    def agreed_lines(self) -> tuple[RecordLine, ...]:
        """Return the line of every record, made from its bytes, the oldest first.

        Raise Refusal when a record is missing or not as it was kept, and when the list that is kept does not agree.
        """
        ...


class SigningWork(ShopWork, Protocol):
    """A transaction in which records are signed besides everything else that changes."""

    def records(self) -> Records:
        """Return the signed records as this transaction sees them."""
        ...

    def append_record(self, envelope: Envelope) -> None:
        """Keep a sealed record behind the last one; ValueError for one that does not follow it."""
        ...

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        ...

    def envelopes_about(self, order: int) -> tuple[Envelope, ...]:
        """Return the sealed records about an order and its cards, and those about one of them, the oldest first."""
        ...


class SigningStore(ShopStore, Protocol):
    """A shop file in which records are signed."""

    shop_id: str
    name: str

    def changing(self) -> AbstractContextManager[SigningWork]:
        """Begin an immediate transaction."""
        ...

    def records(self) -> Records:
        """Return the signed records of the file."""
        ...


class ListsToCheck(Protocol):
    """A shop file to check that also gives its limits sheets and its tools, as they stand in it."""

    def compared_sheets(self) -> tuple[tuple[SheetPin, Sheet | None], ...]:
        """Return every compared revision with its pin; None in place of one whose text is not as it was compared."""
        ...

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every limits sheet, a draft or not."""
        ...

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools."""
        ...


class ShopToCheck(ListsToCheck, Protocol):
    """A shop file as whoever checks it reads it, at one moment. What is damaged beyond its form raises Refusal."""

    shop_id: str
    name: str

    def stored_rows(self) -> Iterator[StoredRow]:
        """Give every row of the signed records in the order of their numbers, whatever stands in it."""
        ...

    def listed(self) -> tuple[RecordLine, ...]:
        """Return the list of records."""
        ...

    def people(self) -> tuple[Person, ...]:
        """Return the roster."""
        ...

    def order_numbers(self) -> tuple[int, ...]:
        """Return the numbers of the work orders."""
        ...

    def order(self, number: int) -> WorkOrder | None:
        """Return a work order; None when there is none."""
        ...

    def listed_state(self, number: int) -> str:
        """Return the state in which the list of work orders shows one; empty when it does not."""
        ...

    def is_listed(self, order: WorkOrder) -> bool:
        """Tell whether the list of work orders, and its search, say of an order what the order says."""
        ...

    def journal_gaps(self) -> tuple[int, ...]:
        """Return the numbers of the work orders whose journal has not one line for each version."""
        ...

    def keys(self) -> tuple[KeptKey, ...] | None:
        """Return the keys of people, in the order in which they were kept; None in a form without a place for them."""
        ...

    def seen(self) -> tuple[tuple[str, int], ...]:
        """Return people with the number of the newest record that they had before them when they signed last."""
        ...

    def details(self) -> ShopDetails:
        """Return what the shop says of itself."""
        ...

    def scans(self) -> Iterator[tuple[str, bool]]:
        """Give every scan: the SHA-256 under which it is kept, and whether its bytes are those and of a known kind."""
        ...

    def faults(self) -> tuple[str, ...]:
        """Return what is damaged in the file itself."""
        ...

    def odd_guards(self) -> tuple[str, ...]:
        """Return the names of what was to keep records from being changed and is missing or was changed."""
        ...
