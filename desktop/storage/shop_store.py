"""The shop file as the verbs know it."""

import sqlite3
import uuid
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.shop.aircraft.aircraft import Aircraft
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import OrderLine
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person
from desktop.core.shop.settings import ShopSettings
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.tools import Tool
from desktop.storage.database import WAITING, immediate, make_database, open_database, roll_back, rows
from desktop.storage.in_hand import HandNote
from desktop.storage.last_time import forget, told_now
from desktop.storage.open_shops import OpenMark, mark_open, refuse_strange_id
from desktop.storage.order_index import empty_index, find_lines, put_in_index
from desktop.storage.places import Surroundings, refuse_new_place, refuse_place, this_machine
from desktop.storage.records.record_store import RecordFile
from desktop.storage.sheet_store import SheetFile
from desktop.storage.shop_reading import ShopReading
from desktop.storage.shop_work import FileWork
from desktop.storage.troubles import DAMAGED, KEPT, NOT_KEPT, raise_refusal, sentence_of
from desktop.usecases.records.checking.last_time import LastTime
from desktop.usecases.shop.ports import Change, ShopText


def new_shop(
    place: Path, name: str, text: ShopText, around: Surroundings | None = None, shop_id: str | None = None
) -> "ShopFile":
    """Make a new shop file and return it open. Raise Refusal when something is there, or it may not lie there."""
    around = around or this_machine()
    refuse_new_place(place, around)
    own = shop_id or uuid.uuid4().hex

    def fill(db: Database) -> None:
        db.execute("INSERT INTO shop (one, shop_id, name) VALUES (1, ?, ?)", (own, name))

    db = make_database(place, fill, around.patience)
    try:
        return ShopFile(place, db, text, around)
    except BaseException:
        place.unlink()
        raise


def open_shop(place: Path, text: ShopText, around: Surroundings | None = None) -> "ShopFile":
    """Open a shop file and return it.

    Raise Refusal, with the reason in plain words, for a place where none may lie, a file that is no shop file or a
    newer one, and a copy of a shop that is open from another place.
    """
    around = around or this_machine()
    refuse_place(place, around)
    return ShopFile(place, open_database(place, around.patience), text, around)


class ShopFile:
    """An open shop file. It belongs to the thread that opened it; a second window opens it for itself.

    Every verb raises Refusal when the disk, another program or the place stands against it, and says whether what was
    entered was kept.
    """

    def __init__(self, place: Path, db: Database, text: ShopText, around: Surroundings) -> None:
        self.place = place
        self._db = db
        self._text = text
        self._around = around
        self._is_lost = False
        self._mark: OpenMark | None = None
        self._note: HandNote | None = None
        self._told: tuple[Path, ...] = ()
        try:
            self._file = self._identity()
            with self._asking():
                self.shop_id, self.name = _shop_in(db, place)
            if around.state is not None:
                self._mark = mark_open(around.state, self.shop_id, place)
                self._note = HandNote(around.state, self.shop_id, place)
        except BaseException:
            db.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; a second time does nothing."""
        self._db.close()
        if self._note is not None:
            self._note.take_away()
        forget(self._told)
        if self._mark is not None:
            self._mark.take_away()

    def last_time(self) -> tuple[LastTime, ...]:
        """Return what windows of this file were keeping when they did not end by themselves; each is told once."""
        if self._around.state is None:
            return ()
        with self._asking():
            found, told = told_now(self._db, self._around.state, self.shop_id, self.place)
        self._told += told
        return found

    @contextmanager
    def changing(self) -> Iterator[FileWork]:
        """Begin an immediate transaction: it waits for another writer and then sees what that one wrote.

        Raise Refusal, with the words "was not kept" or "was kept", when the disk or another window stands against it.
        """
        self._refuse_other_file()
        self._take_up()
        try:
            self._db.execute("BEGIN IMMEDIATE")
        except sqlite3.Error as trouble:
            raise_refusal(trouble, NOT_KEPT)
            raise
        work = FileWork(self._db, self._text)
        try:
            yield work
            self._write_down(work)
        except BaseException as trouble:
            roll_back(self._db)
            if isinstance(trouble, sqlite3.Error):
                raise_refusal(trouble, NOT_KEPT)
            raise
        finally:
            work.end()
        self._commit(work)

    @contextmanager
    def not_waiting_for_the_disk(self) -> Iterator[None]:
        """Let what is entered meanwhile be lost in a power cut, which saves most of the time of many small entries.

        It is for a file that is made anew in one go and can be made again. At the end all of it is on the disk, and
        from then on each entry is again.
        """
        self._db.execute("PRAGMA synchronous = OFF")
        try:
            yield
        finally:
            self._db.execute(WAITING)
            # The first entry that waits brings everything before it to the disk.
            with immediate(self._db):
                self._db.execute("UPDATE shop SET name = name WHERE one = 1")

    def order(self, number: int) -> WorkOrder | None:
        """Return an order; None when there is none."""
        with self._asking() as asked:
            return asked.order(number)

    def orders(
        self, find: Sequence[str] = (), state: OrderState | None = None, limit: int = 50, before: int | None = None
    ) -> tuple[OrderLine, ...]:
        """Return lines of orders, the highest number first, at most ``limit``, below the number ``before``."""
        with self._asking():
            return find_lines(self._db, find, state, limit, before)

    def version(self, number: int) -> int:
        """Return the version of an order; 0 when there is none."""
        with self._asking() as asked:
            return asked.version(number)

    def changes_since(self, number: int, version: int) -> tuple[Change, ...]:
        """Return the journal of an order after a version, the oldest first."""
        with self._asking() as asked:
            return asked.changes_since(number, version)

    def change_count(self) -> int:
        """Return how many changes of orders there were: cheap enough to be asked every second."""
        with self._asking() as asked:
            return asked.change_count()

    def people(self) -> tuple[Person, ...]:
        """Return the roster, by id, with those who left."""
        with self._asking() as asked:
            return asked.people()

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools, by number."""
        with self._asking() as asked:
            return asked.tools()

    def aircraft(self, registration: str) -> tuple[Aircraft, Customer] | None:
        """Return an aircraft and its customer as the newest order with exactly this registration has them."""
        with self._asking() as asked:
            order = asked.newest_with(registration)
        return (order.aircraft, order.customer) if order else None

    def records(self) -> RecordFile:
        """Return the signed records of the file; what is asked of them raises Refusal for one that was changed."""
        with self._asking():
            return RecordFile(self._db, self.shop_id)

    def last_envelope(self) -> Envelope | None:
        """Return the newest sealed record; None in a shop without any."""
        with self._asking():
            return RecordFile(self._db, self.shop_id).last_envelope()

    def envelopes(self, start: int = 1) -> Iterator[Envelope]:
        """Give the sealed records from a number on, one at a time."""
        with self._asking():
            yield from RecordFile(self._db, self.shop_id).envelopes(start)

    def envelopes_about(self, order: int) -> tuple[Envelope, ...]:
        """Return the sealed records about an order and its cards, and those about one of them, the oldest first."""
        with self._asking():
            return RecordFile(self._db, self.shop_id).envelopes_about(order)

    def rebuild_record_index(self) -> None:
        """Drop the list of records and make it again from the sealed records, in one transaction."""
        with self.changing() as work:
            work.records().rebuild()

    def sheet_life(self, sheet_id: str) -> SheetLife | None:
        """Return the newest revision of a limits sheet, a draft or not."""
        with self._asking():
            return SheetFile(self._db, self._text).life(sheet_id)

    def sheet_lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every limits sheet, by id."""
        with self._asking():
            return SheetFile(self._db, self._text).lives()

    def sheet_pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        """Return the compared revisions of a limits sheet, the oldest first."""
        with self._asking():
            return SheetFile(self._db, self._text).pins(sheet_id)

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        """Return a compared revision; raise Refusal when it is not as it was pinned."""
        with self._asking():
            return SheetFile(self._db, self._text).pinned(pin)

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        """Return the newest compared revision, which is the current one."""
        with self._asking():
            return SheetFile(self._db, self._text).newest(sheet_id)

    def shop_details(self) -> ShopDetails:
        """Return what the shop says of itself; before it said anything, its name."""
        with self._asking() as asked:
            return asked.shop_details()

    def settings(self) -> ShopSettings:
        """Return the shop's settings."""
        with self._asking() as asked:
            return asked.settings()

    def rebuild_index(self) -> None:
        """Make the list and the search again from the orders themselves, in one transaction."""
        with self.changing():
            empty_index(self._db)
            for order in ShopReading(self._db, self._text).every_order():
                put_in_index(self._db, order)

    def faults(self) -> tuple[str, ...]:
        """Return what the database finds wrong in its own file; nothing for a sound one. It reads the whole file."""
        with self._asking():
            said = [text for (text,) in rows(self._db, "PRAGMA quick_check") if text != "ok"]
            loose = [f"{table}: a row refers to nothing" for table, *_ in rows(self._db, "PRAGMA foreign_key_check")]
        return (*said, *loose)

    @contextmanager
    def _asking(self) -> Iterator[ShopReading]:
        self._take_up()
        try:
            yield ShopReading(self._db, self._text)
        except sqlite3.Error as trouble:
            raise_refusal(trouble)
            raise

    def _write_down(self, work: FileWork) -> None:
        """Write down what is going to be kept: should this be the end of the program, the next start tells of it."""
        if self._note is not None and (hand := work.in_hand(datetime.now().astimezone())) is not None:
            self._note.write(hand)

    def _commit(self, work: FileWork) -> None:
        try:
            self._db.execute("COMMIT")
        except sqlite3.Error as trouble:
            sentence = sentence_of(trouble)
            if sentence is None:
                roll_back(self._db)
                raise
            # Whether the disk kept it is known only to the file: let go of it, take it up again and look.
            raise Refusal(f"{sentence} {KEPT if self._stands_after_all(work) else NOT_KEPT}") from trouble

    def _stands_after_all(self, work: FileWork) -> bool:
        self._db.close()
        self._is_lost = True
        try:
            self._refuse_other_file()
            self._take_up()
            return bool(work.proof and rows(self._db, work.proof[0], *work.proof[1]))
        except (Refusal, sqlite3.Error) as trouble:
            raise Refusal(
                f"{self.place} cannot be opened again after an error of the disk, and nobody can say yet whether what "
                "you just entered was kept. When the disk is there again, open the shop and look."
            ) from trouble

    def _take_up(self) -> None:
        """Open the file again when it was let go of after an error of the disk. Raise Refusal while it cannot be."""
        if self._is_lost:
            refuse_place(self.place, self._around)
            self._db = open_database(self.place, self._around.patience)
            self._is_lost = False

    def _identity(self) -> tuple[int, int] | None:
        try:
            found = self.place.stat()
        except OSError:
            return None
        return found.st_dev, found.st_ino

    def _refuse_other_file(self) -> None:
        """Raise Refusal when the file was moved or replaced: what is written now would be found by nobody."""
        if self._identity() != self._file:
            raise Refusal(f"{self.place} was moved or replaced while it was open. Open it again. {NOT_KEPT}")


def _shop_in(db: Database, place: Path) -> tuple[str, str]:
    found = rows(db, "SELECT shop_id, name FROM shop")
    if not found:
        raise Refusal(f"{place} holds no shop. Choose another shop file, or restore a backup.")
    shop_id, name = found[0]
    refuse_strange_id(shop_id, place)
    if not isinstance(name, str):
        raise Refusal(DAMAGED)
    return shop_id, name
