"""A shop file as whoever checks it reads it: a copy at one moment, nothing taken on trust, nothing written."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.tools import Tool
from desktop.storage.database import copy_database, rows
from desktop.storage.guards import odd_guards
from desktop.storage.records.record_index import listed
from desktop.storage.records.record_store import RecordFile
from desktop.storage.sheet_store import SheetFile
from desktop.storage.shop_reading import ShopReading
from desktop.storage.troubles import DAMAGED, raise_refusal
from desktop.usecases.shop.ports import ShopText

_TABLE = "SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?"


@contextmanager
def shop_to_check(place: Path, text: ShopText) -> Iterator["CheckedFile"]:
    """Give a shop file to somebody who checks it. Raise Refusal when it cannot be read, also from inside.

    The place does not matter: a copy on a stick, a backup or a file that is open in a window can be checked.
    """
    db = copy_database(place)
    try:
        yield CheckedFile(db, text)
    except sqlite3.Error as trouble:
        raise_refusal(trouble)
        raise Refusal(DAMAGED) from trouble
    finally:
        db.close()


class CheckedFile:
    """What the check asks of a file. What is damaged beyond its form raises Refusal."""

    def __init__(self, db: Database, text: ShopText) -> None:
        self._db = db
        self._reading = ShopReading(db, text)
        self._sheets = SheetFile(db, text)
        found = rows(db, "SELECT shop_id, name FROM shop")
        if len(found) != 1:
            raise Refusal("The shop file holds no shop, or more than one. Restore the newest backup that is sound.")
        [(self.shop_id, self.name)] = found

    def stored_rows(self) -> Iterator[StoredRow]:
        """Give every row of the signed records; none of a file that has no place for them."""
        return RecordFile(self._db, self.shop_id).stored() if self._has("envelope") else iter(())

    def listed(self) -> tuple[RecordLine, ...]:
        """Return the list of records."""
        return listed(self._db) if self._has("record_line") and self._has("record_about") else ()

    def people(self) -> tuple[Person, ...]:
        """Return the roster."""
        return self._reading.people()

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools."""
        return self._reading.tools()

    def compared_sheets(self) -> tuple[tuple[SheetPin, Sheet | None], ...]:
        """Return every compared revision with its pin; None in place of one whose text is not as it was compared."""
        pins = self._sheets.every_pin() if self._has("sheet_revision") else ()
        return tuple((pin, self._as_compared(pin)) for pin in pins)

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every limits sheet."""
        return self._sheets.lives() if self._has("sheet") else ()

    def order_numbers(self) -> tuple[int, ...]:
        """Return the numbers of the work orders."""
        return tuple(number for (number,) in rows(self._db, "SELECT number FROM work_order ORDER BY number"))

    def order(self, number: int) -> WorkOrder | None:
        """Return a work order."""
        return self._reading.order(number)

    def listed_state(self, number: int) -> str:
        """Return the state in which the list of work orders shows one; empty when it does not."""
        found = rows(self._db, "SELECT state FROM order_line WHERE number = ?", number)
        return str(found[0][0]) if found else ""

    def faults(self) -> tuple[str, ...]:
        """Return what the database finds wrong in its own file."""
        said = [str(text) for (text,) in rows(self._db, "PRAGMA integrity_check") if text != "ok"]
        loose = [f"{table}: a row refers to nothing" for table, *_ in rows(self._db, "PRAGMA foreign_key_check")]
        return (*said, *loose)

    def odd_guards(self) -> tuple[str, ...]:
        """Return the names of what was to keep records from being changed and is missing or was changed."""
        return odd_guards(self._db)

    def _as_compared(self, pin: SheetPin) -> Sheet | None:
        with suppress(Refusal):
            return self._sheets.pinned(pin)
        return None

    def _has(self, table: str) -> bool:
        return bool(rows(self._db, _TABLE, table))
