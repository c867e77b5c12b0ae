"""The list of records: lines made from the sealed records, dropped and made again at any time, believed for nothing."""

from collections.abc import Iterable
from typing import Any

from sqlite_utils import Database

from desktop.core.records.sealed.record_line import RecordLine
from desktop.storage.database import rows
from desktop.storage.steps.record_tables import LIST_TABLES

_COLUMNS = "number, kind, subject, order_number, card_number, person, name, at"


def put_in_list(db: Database, line: RecordLine) -> None:
    """Put a record into the list."""
    values = (line.number, line.kind, line.subject, line.order, line.card, line.person, line.name, line.at)
    db.execute(f"INSERT INTO record_line ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)", values)  # noqa: S608 - names from this file
    for place, about in enumerate(line.about):
        db.execute("INSERT INTO record_about (number, place, about) VALUES (?, ?, ?)", (line.number, place, about))


def make_list_again(db: Database, lines: Iterable[RecordLine]) -> None:
    """Drop the list and make it again from the lines of the sealed records."""
    db.execute("DROP TABLE IF EXISTS record_line")
    db.execute("DROP TABLE IF EXISTS record_about")
    for statement in LIST_TABLES:
        db.execute(statement)
    for line in lines:
        put_in_list(db, line)


def listed(db: Database) -> tuple[RecordLine, ...]:
    """Return every line, the oldest first."""
    about: dict[int, list[int]] = {}
    for number, other in rows(db, "SELECT number, about FROM record_about ORDER BY number, place"):
        about.setdefault(number, []).append(other)
    found = rows(db, f"SELECT {_COLUMNS} FROM record_line ORDER BY number")  # noqa: S608 - names from this file
    return tuple(_line(row, about.get(row[0], [])) for row in found)


def numbers_with_order(db: Database, order: int) -> tuple[int, ...]:
    """Return the numbers of the records about an order, the oldest first, and of those about one of these records."""
    sql = (
        "SELECT number FROM record_line WHERE order_number = ? UNION "
        "SELECT a.number FROM record_about a JOIN record_line l ON l.number = a.about WHERE l.order_number = ? "
        "ORDER BY number"
    )
    return tuple(number for (number,) in rows(db, sql, order, order))


def numbers_of_kinds(db: Database, kinds: Iterable[str]) -> tuple[int, ...]:
    """Return the numbers of the records of some kinds, the oldest first."""
    wanted = tuple(kinds)
    marks = ", ".join("?" * len(wanted))
    sql = f"SELECT number FROM record_line WHERE kind IN ({marks}) ORDER BY number"  # noqa: S608 - question marks
    return tuple(number for (number,) in rows(db, sql, *wanted))


def _line(row: tuple[Any, ...], about: list[int]) -> RecordLine:
    number, kind, subject, order, card, person, name, at = row
    return RecordLine(number, kind, subject, order, card, person, name, at, tuple(about))
