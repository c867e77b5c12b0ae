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
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.storage.database import copy_database, rows
from desktop.storage.guards import odd_guards, odd_tables
from desktop.storage.records.key_store import kept_keys
from desktop.storage.records.record_index import listed
from desktop.storage.records.record_store import RecordFile
from desktop.storage.records.remade_lists import order_is_listed
from desktop.storage.records.scan_store import is_as_kept
from desktop.storage.sheet_store import SheetFile
from desktop.storage.shop_reading import ShopReading
from desktop.storage.steps.migrations import version_of
from desktop.storage.troubles import DAMAGED, raise_refusal
from desktop.usecases.records.checking.kept_besides import KeptKey
from desktop.usecases.shop.ports import ShopText

FIRST_WITH_KEYS = 4
"""The form of the file from which on it keeps keys."""
_GAPS = (
    "SELECT w.number FROM work_order w LEFT JOIN journal j ON j.number = w.number GROUP BY w.number "
    "HAVING count(j.id) <> w.version OR max(j.version) <> w.version ORDER BY w.number"
)
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
        if not isinstance(self.shop_id, str) or not isinstance(self.name, str):
            raise Refusal(DAMAGED)

    def stored_rows(self) -> Iterator[StoredRow]:
        """Give every row of the signed records; none of a file that has no place for them."""
        return RecordFile(self._db, self.shop_id).stored() if self._has("envelope") else iter(())

    def listed(self) -> tuple[RecordLine, ...]:
        """Return the list of records."""
        return listed(self._db)

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
        if not self._has("order_line"):
            return ""
        found = rows(self._db, "SELECT state FROM order_line WHERE number = ?", number)
        return str(found[0][0]) if found else ""

    def is_listed(self, order: WorkOrder) -> bool:
        """Tell whether the list of work orders, and its search, say of an order what the order says."""
        return order_is_listed(self._db, order)

    def journal_gaps(self) -> tuple[int, ...]:
        """Return the numbers of the work orders whose journal has not one line for each version."""
        return tuple(number for (number,) in rows(self._db, _GAPS))

    def keys(self) -> tuple[KeptKey, ...] | None:
        """Return the keys of people; None of a file whose form has no place for them."""
        if version_of(self._db) < FIRST_WITH_KEYS:
            return None
        return kept_keys(self._db) if self._has("person_key") else ()

    def seen(self) -> tuple[tuple[str, int], ...]:
        """Return people with the number of the newest record that they had before them when they signed last."""
        if not self._has("signed_seen"):
            return ()
        found = rows(self._db, "SELECT person, number FROM signed_seen ORDER BY person")
        return tuple((str(person), int(number)) for person, number in found)

    def details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        return self._reading.shop_details() if self._has("shop_text") else ShopDetails(self.name)

    def scans(self) -> Iterator[tuple[str, bool]]:
        """Give every scan, one at a time: the SHA-256 under which it is kept, and whether it is as it was kept."""
        if self._has("scan"):
            for (digest,) in rows(self._db, "SELECT digest FROM scan ORDER BY digest"):
                yield str(digest), is_as_kept(self._db, digest)

    def faults(self) -> tuple[str, ...]:
        """Return what the database finds wrong in its own file."""
        said = [str(text) for (text,) in rows(self._db, "PRAGMA integrity_check") if text != "ok"]
        loose = [f"{table}: a row refers to nothing" for table, *_ in rows(self._db, "PRAGMA foreign_key_check")]
        odd = [f"{name}: this part was changed or taken out" for name in odd_tables(self._db)]
        return (*said, *loose, *odd)

    def odd_guards(self) -> tuple[str, ...]:
        """Return the names of what was to keep records from being changed and is missing or was changed."""
        return odd_guards(self._db)

    def _as_compared(self, pin: SheetPin) -> Sheet | None:
        with suppress(Refusal):
            return self._sheets.pinned(pin)
        return None

    def _has(self, table: str) -> bool:
        return bool(rows(self._db, _TABLE, table))
