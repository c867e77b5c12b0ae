"""The list of records: lines made from the sealed records, dropped and made again at any time, believed for nothing."""

import sqlite3
from collections.abc import Iterable
from typing import Any

from sqlite_utils import Database

from desktop.core.records.sealed.record_line import RecordLine
from desktop.storage.database import rows
from desktop.storage.steps.record_tables import LIST_TABLES
from desktop.storage.troubles import code_of

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
    """Return every line, the oldest first; none where there is no list of ours."""
    try:
        return _listed(db)
    except sqlite3.OperationalError as trouble:
        if code_of(trouble) != sqlite3.SQLITE_ERROR:  # no such table, no such column
            raise
        return ()


def _listed(db: Database) -> tuple[RecordLine, ...]:
    about: dict[int, list[int]] = {}
    for number, other in rows(db, "SELECT number, about FROM record_about ORDER BY number, place"):
        about.setdefault(number, []).append(other)
    found = rows(db, f"SELECT {_COLUMNS} FROM record_line ORDER BY number")  # noqa: S608 - names from this file
    return tuple(_line(row, about.get(row[0], [])) for row in found)


def _line(row: tuple[Any, ...], about: list[int]) -> RecordLine:
    number, kind, subject, order, card, person, name, at = row
    return RecordLine(number, kind, subject, order, card, person, name, at, tuple(about))
