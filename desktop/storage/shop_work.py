"""One unit of work: everything in it stands at the end, or nothing of it."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.storage.database import rows
from desktop.storage.order_index import put_in_index
from desktop.storage.records.record_store import PROOF, RecordFile
from desktop.storage.sheet_store import SheetFile
from desktop.storage.shop_reading import ShopReading
from desktop.usecases.records.checking.last_time import InHand
from desktop.usecases.shop.ports import Answer, Change, ShopText

Proof = tuple[str, tuple[object, ...]]
STANDS = "SELECT 1 FROM request WHERE id = ?"
"""Finds a row when a request stands in the file."""
_MOST_SAID = 3
"""Changes of an order that are named one by one."""


@dataclass(slots=True)
class _Hand:
    """What a transaction was given so far."""

    what: str = ""
    by: str = ""
    request: str = ""
    record: int = 0
    seal: str = ""


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
        self._hand = _Hand()

    def in_hand(self, now: datetime) -> InHand | None:
        """Return what this work is going to keep, in words; None for what nobody entered, such as a try of a secret."""
        hand = self._hand
        if not hand.request and not hand.record:
            return None
        return InHand(hand.what, self._name_of(hand.by), now, hand.request, hand.record, hand.seal)

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
        if not self._hand.record:  # what is signed says it better
            words = "; ".join(change.said[:_MOST_SAID]) + ("; and more" if len(change.said) > _MOST_SAID else "")
            self._hand.what, self._hand.by = f"{order_name(order.number)}: {words}", change.by.person

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

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools, by number."""
        return self._read.tools()

    def put_tool(self, tool: Tool) -> None:
        """Keep a tool."""
        self._put("tool", tool.id, self._text.write(tool))

    def sheet_life(self, sheet_id: str) -> SheetLife | None:
        """Return the newest revision of a limits sheet, a draft or not."""
        return self._sheets.life(sheet_id)

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every limits sheet, by id."""
        return self._sheets.lives()

    def sheet_pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        """Return the compared revisions of a limits sheet, the oldest first."""
        return self._sheets.pins(sheet_id)

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        """Return a compared revision; raise Refusal when it is not as it was pinned."""
        return self._sheets.pinned(pin)

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        """Return the newest compared revision, which is the current one."""
        return self._sheets.newest(sheet_id)

    def put_sheet_life(self, life: SheetLife) -> None:
        """Keep a limits sheet as it is worked on; ValueError when a version is left out."""
        self.proof = self._sheets.put_life(life)
        self._hand.by = self._hand.by or life.passages[-1].by.person

    def put_compared_sheet(self, sheet: Sheet) -> SheetPin:
        """Keep a compared revision for ever and return its pin."""
        return self._sheets.put_compared(sheet)

    def shop_details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        return self._read.shop_details()

    def settings(self) -> ShopSettings:
        """Return the shop's settings."""
        return self._read.settings()

    def has_records(self) -> bool:
        """Tell whether the shop signs its records."""
        return self.last_envelope() is not None

    def is_enrolled(self, person_id: str) -> bool:
        """Tell whether somebody ever had a key."""
        _ = self._read
        return bool(rows(self._db, "SELECT 1 FROM person_key WHERE person = ? LIMIT 1", person_id))

    def put_shop_details(self, details: ShopDetails) -> None:
        """Keep what the shop says of itself."""
        self._put_text("details", self._text.write(details))

    def put_settings(self, settings: ShopSettings) -> None:
        """Keep the shop's settings."""
        self._put_text("settings", self._text.write(settings))

    def already_done(self, request_id: str) -> Answer | None:
        """Return what a request did when it came before; None for a new one."""
        _ = self._read
        found = rows(self._db, "SELECT answer FROM request WHERE id = ?", request_id)
        return self._text.read(found[0][0], Answer) if found else None

    def done(self, request_id: str, answer: Answer) -> None:
        """Remember what a request did; the same request a second time is an error of the program."""
        _ = self._read
        self._db.execute("INSERT INTO request (id, answer) VALUES (?, ?)", (request_id, self._text.write(answer)))
        self.proof = (STANDS, (request_id,))
        self._hand.request = request_id
        self._hand.what = self._hand.what or f"{answer.verb}: {answer.key}"

    def records(self) -> RecordFile:
        """Return the signed records as this transaction sees them."""
        [(shop_id,)] = rows(self._db, "SELECT shop_id FROM shop")
        _ = self._read
        return RecordFile(self._db, shop_id)

    def append_record(self, envelope: Envelope) -> None:
        """Keep a sealed record behind the last one; ValueError for one that does not follow it."""
        line = self.records().append(envelope)
        self.proof = (PROOF, (envelope.number, envelope.digest))
        hand = self._hand
        hand.what, hand.by = f"{line.kind}, {line.subject}", line.person
        hand.record, hand.seal = envelope.number, envelope.digest

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        return self.records().last_envelope()

    def envelopes_about(self, order: int) -> tuple[Envelope, ...]:
        """Return the sealed records about an order and its cards, and those about one of them, the oldest first."""
        return self.records().envelopes_about(order)

    @property
    def _sheets(self) -> SheetFile:
        _ = self._read
        return SheetFile(self._db, self._text)

    @property
    def _read(self) -> ShopReading:
        if self._reading is None:
            raise ValueError("this transaction is over")
        return self._reading

    def _name_of(self, person_id: str) -> str:
        with suppress(Refusal):  # a damaged roster keeps nobody from what has nothing to do with it
            person = self._read.person(person_id)
            return person.name if person else person_id
        return person_id

    def _put_text(self, name: str, text: str) -> None:
        _ = self._read
        self._db.execute(
            "INSERT INTO shop_text (name, text) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET text = excluded.text",
            (name, text),
        )
        self.proof = ("SELECT 1 FROM shop_text WHERE name = ? AND text = ?", (name, text))

    def _put(self, table: str, key: str, text: str) -> None:
        _ = self._read
        there = rows(self._db, f"SELECT 1 FROM {table} WHERE id = ?", key)  # noqa: S608 - person or tool
        change = f"UPDATE {table} SET text = ? WHERE id = ?"  # noqa: S608 - the same
        self._db.execute(change if there else f"INSERT INTO {table} (text, id) VALUES (?, ?)", (text, key))  # noqa: S608
        self.proof = (f"SELECT 1 FROM {table} WHERE id = ? AND text = ?", (key, text))  # noqa: S608 - the same
