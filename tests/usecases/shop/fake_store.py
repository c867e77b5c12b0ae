"""A shop file in memory, with the same promises: one transaction a verb, all of it or nothing."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from copy import copy
from datetime import UTC, datetime, timedelta

from desktop.core.shop.aircraft.aircraft import Aircraft
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import OrderLine, is_found, line_of, search_words
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.files.shop_json import ShopJson, digest_of
from desktop.usecases.shop.ports import Answer, Change


class FakeWork:
    """What stands in the file, and one transaction on it."""

    def __init__(self) -> None:
        self.orders: dict[int, WorkOrder] = {}
        self.journal: tuple[Change, ...] = ()
        self.roster: dict[str, Person] = {}
        self.kit: dict[str, Tool] = {}
        self.answers: dict[str, Answer] = {}
        self.sheets: dict[tuple[str, int], Sheet] = {}
        self.lives: dict[str, SheetLife] = {}

        self.details = ShopDetails("Trial Shop")
        self.decided = ShopSettings()
        self.signs = False
        self.enrolled: set[str] = set()

    def copied(self) -> "FakeWork":
        """Return the same file, to be changed by itself."""
        other = copy(self)
        other.orders, other.roster = dict(self.orders), dict(self.roster)
        other.kit, other.answers, other.sheets = dict(self.kit), dict(self.answers), dict(self.sheets)
        other.lives = dict(self.lives)
        return other

    def order(self, number: int) -> WorkOrder | None:
        return self.orders.get(number)

    def put_order(self, order: WorkOrder, change: Change) -> None:
        kept = self.orders.get(order.number)
        if order.version != (kept.version if kept else 0) + 1 or (not kept and order.number != len(self.orders) + 1):
            raise ValueError("a version or a number is left out")
        assert (change.number, change.version) == (order.number, order.version)
        self.orders[order.number] = order
        self.journal += (change,)

    def next_order_number(self) -> int:
        return len(self.orders) + 1

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        return tuple(one for one in self.journal if one.number == number and one.version > version)

    def person(self, person_id: str) -> Person | None:
        return self.roster.get(person_id)

    def people(self) -> tuple[Person, ...]:
        return tuple(self.roster[key] for key in sorted(self.roster))

    def put_person(self, person: Person) -> None:
        self.roster[person.id] = person

    def tool(self, tool_id: str) -> Tool | None:
        return self.kit.get(tool_id)

    def tools(self) -> tuple[Tool, ...]:
        return tuple(self.kit[key] for key in sorted(self.kit))

    def put_tool(self, tool: Tool) -> None:
        self.kit[tool.id] = tool

    def sheet_life(self, sheet_id: str) -> SheetLife | None:
        return self.lives.get(sheet_id)

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        return tuple(self.lives[key] for key in sorted(self.lives))

    def put_sheet_life(self, life: SheetLife) -> None:
        kept = self.lives.get(life.sheet.id)
        if life.version != (kept.version if kept else 0) + 1:
            raise ValueError("a version is left out")
        self.lives[life.sheet.id] = life

    def put_compared_sheet(self, sheet: Sheet) -> SheetPin:
        assert sheet.compared_by is not None
        assert sheet.revision == len(self.sheet_pins(sheet.id)) + 1
        self.sheets[(sheet.id, sheet.revision)] = sheet
        return self.sheet_pins(sheet.id)[-1]

    def sheet_pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        return tuple(
            SheetPin(name, revision, digest_of(ShopJson().write(sheet)))
            for (name, revision), sheet in sorted(self.sheets.items())
            if name == sheet_id
        )

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        return self.sheets[(pin.sheet, pin.revision)]

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        return next((sheet for (name, _), sheet in sorted(self.sheets.items(), reverse=True) if name == sheet_id), None)

    def shop_details(self) -> ShopDetails:
        return self.details

    def settings(self) -> ShopSettings:
        return self.decided

    def has_records(self) -> bool:
        return self.signs

    def is_enrolled(self, person_id: str) -> bool:
        return person_id in self.enrolled

    def put_shop_details(self, details: ShopDetails) -> None:
        self.details = details

    def put_settings(self, settings: ShopSettings) -> None:
        self.decided = settings

    def already_done(self, request_id: str) -> Answer | None:
        return self.answers.get(request_id)

    def done(self, request_id: str, answer: Answer) -> None:
        self.answers[request_id] = answer


class FakeStore:
    """The store of the tests; what an exception leaves behind is thrown away."""

    def __init__(self) -> None:
        self.file = FakeWork()

    @contextmanager
    def changing(self) -> Iterator[FakeWork]:
        work = self.file.copied()
        yield work
        self.file = work

    def order(self, number: int) -> WorkOrder | None:
        return self.file.order(number)

    def orders(
        self, find: Sequence[str] = (), state: OrderState | None = None, limit: int = 50, before: int | None = None
    ) -> tuple[OrderLine, ...]:
        lines = [
            line_of(order)
            for number, order in sorted(self.file.orders.items(), reverse=True)
            if (before is None or number < before)
            and state in (None, order.state)
            and is_found(search_words(order), find)
        ]
        return tuple(lines[:limit])

    def version(self, number: int) -> int:
        order = self.file.order(number)
        return order.version if order else 0

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        return self.file.changes_since(number, version)

    def change_count(self) -> int:
        return len(self.file.journal)

    def people(self) -> tuple[Person, ...]:
        return self.file.people()

    def tools(self) -> tuple[Tool, ...]:
        return self.file.tools()

    def sheet_life(self, sheet_id: str) -> SheetLife | None:
        return self.file.sheet_life(sheet_id)

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        return self.file.sheet_lives()

    def sheet_pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        return self.file.sheet_pins(sheet_id)

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        return self.file.pinned_sheet(pin)

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        return self.file.newest_sheet(sheet_id)

    def shop_details(self) -> ShopDetails:
        return self.file.details

    def settings(self) -> ShopSettings:
        return self.file.decided

    def aircraft(self, registration: str) -> tuple[Aircraft, Customer] | None:
        for number in sorted(self.file.orders, reverse=True):
            order = self.file.orders[number]
            if order.aircraft.registration == registration:
                return order.aircraft, order.customer
        return None


class FakeClock:
    """A clock that goes on by a minute each time it is asked."""

    def __init__(self) -> None:
        self.time = datetime(2031, 3, 4, 9, 0, tzinfo=UTC)

    def now(self) -> datetime:
        self.time += timedelta(minutes=1)
        return self.time
