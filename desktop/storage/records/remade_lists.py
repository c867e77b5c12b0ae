"""The lists of a shop file, made again from what they list, also where a list is gone or no list of ours any more."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.remedies import CHECK, RESTORE
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import line_of, search_words
from desktop.storage import database
from desktop.storage.database import immediate, rows
from desktop.storage.guards import PARTS, odd_guards, odd_tables, parts_of, refuse_without_guards
from desktop.storage.order_index import find_lines, put_in_index
from desktop.storage.places import Surroundings, refuse_place
from desktop.storage.records.record_index import listed
from desktop.storage.records.record_store import RecordFile
from desktop.storage.shop_reading import ShopReading
from desktop.storage.steps.migrations import LATEST, version_of
from desktop.storage.troubles import DAMAGED, raise_refusal
from desktop.usecases.shop.ports import ShopText

_LISTS = ("record_line", "record_about", "order_line", "order_word", "order_find")
_SEARCH = "order_find"


def remake_lists(place: Path, text: ShopText, around: Surroundings) -> tuple[int, int]:
    """Make the lists of records and of work orders again, all of it or nothing; return how many lines each has.

    Nothing that somebody wrote or signed is changed. Raise Refusal when a record or an order is not as it was kept,
    when a record is gone that the list still names, and when more than a list was changed.
    """
    refuse_place(place, around)
    db = database._connect(place, around.patience, "rw")  # noqa: SLF001 - the same room
    with closing(db.conn):
        try:
            database._refuse_strangers(db, place)  # noqa: SLF001 - the same
            database._set(db, place)  # noqa: SLF001 - the same
            with immediate(db):
                made = _remade(db, place, text)
            refuse_without_guards(db, place)
        except sqlite3.Error as trouble:
            raise_refusal(trouble)
            raise Refusal(DAMAGED) from trouble
    return made


def order_is_listed(db: Database, order: WorkOrder) -> bool:
    """Tell whether the list of work orders, and its search, say of an order what the order says."""
    try:
        lines = find_lines(db, (), None, 1, order.number + 1)
        words = rows(db, "SELECT words FROM order_word WHERE number = ?", order.number)
    except (Refusal, sqlite3.OperationalError):
        return False
    return lines == (line_of(order),) and words == [(" ".join(search_words(order)),)]


def _remade(db: Database, place: Path, text: ShopText) -> tuple[int, int]:
    if version_of(db) < LATEST:
        raise Refusal(f"{place} has an older form. Open the shop once; that brings it to the newest.")
    odd = [name for name in (*odd_guards(db), *odd_tables(db)) if not _is_of_a_list(db, name)]
    if odd:
        raise Refusal(f"{place}: more than a list was changed with another program ({', '.join(odd[:3])}). {RESTORE}")
    [(shop_id,)] = rows(db, "SELECT shop_id FROM shop")
    records = RecordFile(db, shop_id)
    _refuse_cut(db, records)
    _drop_lists(db)
    records.rebuild()
    _make_order_lists(db)
    orders = list(ShopReading(db, text).every_order())
    for order in orders:
        put_in_index(db, order)
    return len(records.agreed_lines()), len(orders)


def _is_of_a_list(db: Database, name: str) -> bool:
    """Tell whether a part of the file, by its name, is a list or belongs to one."""
    parts = [*parts_of(version_of(db)), *db.execute(PARTS).fetchall()]
    tables = {table for _, found, table, _ in parts if found == name}
    return all(table in _LISTS or str(table).startswith(_SEARCH) for table in tables)


def _refuse_cut(db: Database, records: RecordFile) -> None:
    """Raise Refusal when the list names a record that is gone: it is the last that tells of it."""
    gone = {line.number for line in listed(db)} - {row.number for row in records.stored()}
    if gone:
        raise Refusal(f"Record {min(gone)} is missing, and only the list still names it. {CHECK}")


def _drop_lists(db: Database) -> None:
    for table in reversed(_LISTS):
        db.execute(f"DROP TABLE IF EXISTS {table}")


def _make_order_lists(db: Database) -> None:
    wanted = [part for part in parts_of(LATEST) if part[2] in _LISTS and not part[2].startswith("record")]
    order = ("table", "index", "trigger")
    for kind, _, table, text in sorted(wanted, key=lambda part: (order.index(part[0]), _LISTS.index(part[2]))):
        if kind == "table" or table in _LISTS:
            db.execute(text)
