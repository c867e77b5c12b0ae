"""Reading a shop file, inside a transaction or outside of one: each question is one statement, answered whole."""

from collections.abc import Iterator
from typing import TypeVar

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.storage.database import rows
from desktop.storage.order_index import MOST
from desktop.usecases.shop.ports import Change, ShopText

Kept = TypeVar("Kept", Person, Tool)
_PERSON = "SELECT text FROM person WHERE id = ?"
_PEOPLE = "SELECT text FROM person ORDER BY id"
_TOOL = "SELECT text FROM tool WHERE id = ?"
_SHOP_TEXT = "SELECT text FROM shop_text WHERE name = ?"
_TOOLS = "SELECT text FROM tool ORDER BY id"


class ShopReading:
    """Answers what is asked of a shop file. Raise Refusal for a text that is not as it was written."""

    def __init__(self, db: Database, text: ShopText) -> None:
        self._db = db
        self._text = text

    def order(self, number: int) -> WorkOrder | None:
        """Return an order; None when there is none."""
        if not 0 < number <= MOST:
            return None
        found = rows(self._db, "SELECT text FROM work_order WHERE number = ?", number)
        return self._text.read_order(found[0][0], self._task_card) if found else None

    def every_order(self) -> Iterator[WorkOrder]:
        """Give every order, the oldest first, one at a time: a large shop need not fit into memory."""
        for (number,) in rows(self._db, "SELECT number FROM work_order ORDER BY number"):
            for (text,) in rows(self._db, "SELECT text FROM work_order WHERE number = ?", number):
                yield self._text.read_order(text, self._task_card)

    def version(self, number: int) -> int:
        """Return the version of an order; 0 when there is none."""
        if not 0 < number <= MOST:
            return 0
        found = rows(self._db, "SELECT version FROM work_order WHERE number = ?", number)
        return int(found[0][0]) if found else 0

    def last_number(self) -> int:
        """Return the number of the newest order; 0 when there is none."""
        [(number,)] = rows(self._db, "SELECT coalesce(max(number), 0) FROM work_order")
        return int(number)

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        """Return the journal of an order after a version, the oldest first."""
        if not 0 < number <= MOST or version > MOST:
            return ()
        sql = "SELECT text FROM journal WHERE number = ? AND version > ? ORDER BY version"
        found = rows(self._db, sql, number, max(version, 0))
        return tuple(self._text.read(text, Change) for (text,) in found)

    def change_count(self) -> int:
        """Return how many changes the journal holds; nothing is ever taken out of it, so the last number says it."""
        [(count,)] = rows(self._db, "SELECT coalesce(max(id), 0) FROM journal")
        return int(count)

    def person(self, person_id: str) -> Person | None:
        """Return a person of the roster."""
        return self._one(_PERSON, person_id, Person)

    def people(self) -> tuple[Person, ...]:
        """Return the roster, by id."""
        return self._all(_PEOPLE, Person)

    def tool(self, tool_id: str) -> Tool | None:
        """Return a tool."""
        return self._one(_TOOL, tool_id, Tool)

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools, by number."""
        return self._all(_TOOLS, Tool)

    def shop_details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        found = rows(self._db, _SHOP_TEXT, "details")
        if found:
            return self._text.read(found[0][0], ShopDetails)
        [(name,)] = rows(self._db, "SELECT name FROM shop")
        return ShopDetails(name)

    def settings(self) -> ShopSettings:
        """Return the shop's settings."""
        found = rows(self._db, _SHOP_TEXT, "settings")
        return self._text.read(found[0][0], ShopSettings) if found else ShopSettings()

    def newest_with(self, registration: str) -> WorkOrder | None:
        """Return the newest order whose aircraft has exactly this registration."""
        sql = "SELECT number FROM order_line WHERE registration = ? ORDER BY number DESC LIMIT 1"
        found = rows(self._db, sql, registration)
        return self.order(found[0][0]) if found else None

    def _one(self, sql: str, key: str, kind: type[Kept]) -> Kept | None:
        found = rows(self._db, sql, key)
        return self._text.read(found[0][0], kind) if found else None

    def _all(self, sql: str, kind: type[Kept]) -> tuple[Kept, ...]:
        return tuple(self._text.read(text, kind) for (text,) in rows(self._db, sql))

    def _task_card(self, digest: str) -> str:
        found = rows(self._db, "SELECT text FROM task_card WHERE digest = ?", digest)
        if not found:
            raise Refusal("The shop file holds a damaged order: its task card is missing. Restore the newest backup.")
        text: str = found[0][0]
        return text
