"""One unit of work: everything in it stands at the end, or nothing of it."""

from sqlite_utils import Database

from desktop.core.shop.order import WorkOrder
from desktop.core.shop.people import Person
from desktop.core.shop.tools import Tool
from desktop.storage.database import rows
from desktop.storage.order_index import put_in_index
from desktop.storage.shop_reading import ShopReading
from desktop.usecases.shop.ports import Answer, Change, ShopText

Proof = tuple[str, tuple[object, ...]]


class FileWork:
    """What may be asked and kept inside one transaction; ValueError for anything after its end.

    ``proof`` is a question that finds a row when this work stands in the file, and only then: it is asked of the file
    when the disk did not say whether it kept the work. None while nothing was written.
    """

    def __init__(self, db: Database, text: ShopText) -> None:
        self._db = db
        self._text = text
        self._reading: ShopReading | None = ShopReading(db, text)
        self.proof: Proof | None = None

    def end(self) -> None:
        """Say that the transaction is over."""
        self._reading = None

    def order(self, number: int) -> WorkOrder | None:
        """Return an order; None when there is none."""
        return self._read.order(number)

    def put_order(self, order: WorkOrder, change: Change) -> None:
        """Keep a new order or a new version with its line of the journal; ValueError when one is left out."""
        kept = self._read.version(order.number)
        if order.version != kept + 1 or (not kept and order.number != self.next_order_number()):
            raise ValueError("a version or a number is left out")
        if (change.number, change.version) != (order.number, order.version):
            raise ValueError("the line of the journal is another version's")
        written = self._text.write_order(order)
        for digest, text in written.cards:
            if not rows(self._db, "SELECT 1 FROM task_card WHERE digest = ?", digest):
                self._db.execute("INSERT INTO task_card (digest, text) VALUES (?, ?)", (digest, text))
        if kept:
            sql = "UPDATE work_order SET text = ?, version = ? WHERE number = ?"
        else:
            sql = "INSERT INTO work_order (text, version, number) VALUES (?, ?, ?)"
        self._db.execute(sql, (written.text, order.version, order.number))
        said = self._text.write(change)
        self._db.execute(
            "INSERT INTO journal (number, version, text) VALUES (?, ?, ?)", (order.number, order.version, said)
        )
        put_in_index(self._db, order)
        self.proof = (
            "SELECT 1 FROM journal WHERE number = ? AND version = ? AND text = ?",
            (order.number, order.version, said),
        )

    def next_order_number(self) -> int:
        """Return one more than the last number. No order is ever erased, so none is used again."""
        return self._read.last_number() + 1

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        """Return the journal of an order after a version, the oldest first."""
        return self._read.changes_since(number, version)

    def person(self, person_id: str) -> Person | None:
        """Return a person of the roster."""
        return self._read.person(person_id)

    def people(self) -> tuple[Person, ...]:
        """Return the roster, by id, with those who left."""
        return self._read.people()

    def put_person(self, person: Person) -> None:
        """Keep a person."""
        self._put("person", person.id, self._text.write(person))

    def tool(self, tool_id: str) -> Tool | None:
        """Return a tool."""
        return self._read.tool(tool_id)

    def put_tool(self, tool: Tool) -> None:
        """Keep a tool."""
        self._put("tool", tool.id, self._text.write(tool))

    def already_done(self, request_id: str) -> Answer | None:
        """Return what a request did when it came before; None for a new one."""
        _ = self._read
        found = rows(self._db, "SELECT answer FROM request WHERE id = ?", request_id)
        return self._text.read(found[0][0], Answer) if found else None

    def done(self, request_id: str, answer: Answer) -> None:
        """Remember what a request did; the same request a second time is an error of the program."""
        _ = self._read
        self._db.execute("INSERT INTO request (id, answer) VALUES (?, ?)", (request_id, self._text.write(answer)))
        self.proof = ("SELECT 1 FROM request WHERE id = ?", (request_id,))

    @property
    def _read(self) -> ShopReading:
        if self._reading is None:
            raise ValueError("this transaction is over")
        return self._reading

    def _put(self, table: str, key: str, text: str) -> None:
        _ = self._read
        there = rows(self._db, f"SELECT 1 FROM {table} WHERE id = ?", key)  # noqa: S608 - person or tool
        change = f"UPDATE {table} SET text = ? WHERE id = ?"  # noqa: S608 - the same
        self._db.execute(change if there else f"INSERT INTO {table} (text, id) VALUES (?, ?)", (text, key))  # noqa: S608
        self.proof = (f"SELECT 1 FROM {table} WHERE id = ? AND text = ?", (key, text))  # noqa: S608 - the same
