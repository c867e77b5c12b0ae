"""What the shop's verbs need from outside: a store with one transaction a verb, a clock, and exact text for values.

The store keeps text, ids, versions and index columns; it judges nothing. What is found, listed and compared is worked
out by the core (``line_of``, ``search_words``), so that every store gives the same answers.
"""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol, TypeVar

from desktop.core.rules.paper_rulebook import Paperwork
from desktop.core.rules.rulebook import Rulebook
from desktop.core.shop.aircraft.aircraft import Aircraft
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.cards.jobs import Job
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import OrderLine
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.stamp import Stamp
from desktop.core.shop.tools import Tool
from desktop.usecases.shop.lists.sheet_ports import SheetAsked, SheetWork

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True)
class Request:
    """Who asks for a change, and which version was seen; the same ``request_id`` again does nothing twice.

    ``seen_version`` is 0 for something new.
    """

    request_id: str
    person_id: str
    seen_version: int = 0


@dataclass(frozen=True, slots=True)
class Answer:
    """What a verb did: to which order, person or tool (``key``), and the version that it made."""

    verb: str
    key: str
    version: int

    @property
    def number(self) -> int:
        """The number of the order."""
        return int(self.key)


@dataclass(frozen=True, slots=True)
class Change:
    """A line of an order's journal: the version that was made, by whom, and what changed in plain words."""

    number: int
    version: int
    by: Stamp
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderText:
    """An order as exact text. Issued task cards stand apart, by digest, so that each is kept once."""

    text: str
    cards: tuple[tuple[str, str], ...]


class Clock(Protocol):
    """Tells the time."""

    def now(self) -> datetime:
        """Return the time with its offset from UTC in whole minutes."""
        ...


class ShopText(Protocol):
    """Turns values into exact text and back; raises Refusal for text that is not what was written."""

    def write_order(self, order: WorkOrder) -> OrderText:
        """Return the text of an order."""
        ...

    def read_order(self, text: str, card_text: Callable[[str], str]) -> WorkOrder:
        """Return the order of a text; ``card_text`` gives the text of a task card by its digest."""
        ...

    def write(self, value: Person | Tool | Change | Answer | SheetLife | Sheet | ShopDetails | ShopSettings) -> str:
        """Return the text of another value."""
        ...

    def read(self, text: str, kind: type[Kept]) -> Kept:
        """Return the value of a text: a Person, Tool, Change, Answer, SheetLife or Sheet."""
        ...


class ShopWork(SheetWork, Protocol):
    """One immediate transaction: nothing of it stands when an exception leaves it, all of it when none does."""

    def order(self, number: int) -> WorkOrder | None:
        """Return an order; None when there is none."""
        ...

    def put_order(self, order: WorkOrder, change: Change) -> None:
        """Keep a new order or a new version, with its line of the journal.

        The version is one more than the kept one, 1 for a new order; anything else raises ValueError.
        """
        ...

    def next_order_number(self) -> int:
        """Return the number of the next order: one more than the last, without gaps, never used again."""
        ...

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        """Return the journal of an order after a version, the oldest first."""
        ...

    def person(self, person_id: str) -> Person | None:
        """Return a person of the roster."""
        ...

    def people(self) -> tuple[Person, ...]:
        """Return the roster, by id, with those who left."""
        ...

    def put_person(self, person: Person) -> None:
        """Keep a person."""
        ...

    def tool(self, tool_id: str) -> Tool | None:
        """Return a tool."""
        ...

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools, by number."""
        ...

    def put_tool(self, tool: Tool) -> None:
        """Keep a tool."""
        ...

    def shop_details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        ...

    def settings(self) -> ShopSettings:
        """Return the shop's settings."""
        ...

    def has_records(self) -> bool:
        """Tell whether the shop signs its records: once one stands, every later one is signed."""
        ...

    def is_enrolled(self, person_id: str) -> bool:
        """Tell whether somebody ever had a key: what the roster says of them is signed from then on."""
        ...

    def put_shop_details(self, details: ShopDetails) -> None:
        """Keep what the shop says of itself."""
        ...

    def put_settings(self, settings: ShopSettings) -> None:
        """Keep the shop's settings."""
        ...

    def already_done(self, request_id: str) -> Answer | None:
        """Return what a request did when it came before; None for a new one."""
        ...

    def done(self, request_id: str, answer: Answer) -> None:
        """Remember what a request did."""
        ...


class ShopStore(SheetAsked, Protocol):
    """The shop file. Reading sees what was committed, by this window or another."""

    def changing(self) -> AbstractContextManager[ShopWork]:
        """Begin an immediate transaction: it waits for another writer and then sees what that one wrote."""
        ...

    def order(self, number: int) -> WorkOrder | None:
        """Return an order; None when there is none."""
        ...

    def orders(
        self, find: Sequence[str] = (), state: OrderState | None = None, limit: int = 50, before: int | None = None
    ) -> tuple[OrderLine, ...]:
        """Return lines of orders, the highest number first, at most ``limit``, below the number ``before``.

        Each word of ``find`` (small letters and digits, as ``words_of`` gives them) is the beginning of one of the
        order's ``search_words``.
        """
        ...

    def version(self, number: int) -> int:
        """Return the version of an order without reading it; 0 when there is none."""
        ...

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        """Return the journal of an order after a version, the oldest first."""
        ...

    def change_count(self) -> int:
        """Return a number that grows with each change of any order: the list is read again when it has grown."""
        ...

    def people(self) -> tuple[Person, ...]:
        """Return the roster, by id, with those who left."""
        ...

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools, by number."""
        ...

    def shop_details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        ...

    def settings(self) -> ShopSettings:
        """Return the shop's settings."""
        ...

    def aircraft(self, registration: str) -> tuple[Aircraft, Customer] | None:
        """Return an aircraft and its customer as the newest order with exactly this registration has them."""
        ...


@dataclass(frozen=True, slots=True)
class Shop:
    """What every verb works with. ``missing_signs`` returns the signs of a text that paper cannot show."""

    store: ShopStore
    clock: Clock
    rulebook: Rulebook
    paperwork: Paperwork
    jobs: tuple[Job, ...] = ()
    missing_signs: Callable[[str], tuple[str, ...]] = lambda _text: ()
