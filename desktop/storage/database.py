"""Opening the database of a shop file: whose it is, which form it has, and the settings that everything rests on.

Whose file it is is asked through SQLite and never by reading it with Python: closing any other handle on the file
would drop the locks that a second window of this process holds on it.
"""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.storage.guards import refuse_without_guards
from desktop.storage.steps.migrations import LATEST, migrate, version_of
from desktop.storage.troubles import DAMAGED, code_of, raise_refusal

APPLICATION_ID = 0x5370776B
"""Stands in the header of every shop file; "Spwk" in ASCII."""
PATIENCE = 5.0
"""Seconds that a change waits for another window."""

# With the rollback journal and EXTRA, no acknowledged entry is lost in a power cut; with weaker settings some are.
_SETTINGS: tuple[tuple[str, str, str | int], ...] = (
    ("journal_mode", "DELETE", "delete"),
    ("synchronous", "EXTRA", 3),
    ("foreign_keys", "ON", 1),
    ("recursive_triggers", "ON", 1),
)

WAITING = "PRAGMA synchronous = EXTRA"
"""Each entry waits until the disk has it."""


def open_database(place: Path, patience: float = PATIENCE) -> Database:
    """Open the database of a shop file that is there, bring it to the newest form, and return it.

    Raise Refusal for another program's file, a newer one, one that is no shop file or not whole, and for a setting that
    does not hold. Nothing is written to a file that is refused for what it is.
    """
    with _closed_on_trouble(_connect(place, patience, "rw")) as db:
        try:
            _refuse_strangers(db, place)
            _set(db, place)
            refuse_without_guards(db, place)
            if version_of(db) < LATEST:
                with immediate(db):
                    migrate(db)
                refuse_without_guards(db, place)
        except sqlite3.Error as trouble:
            raise_refusal(trouble)
            # What is asked here is asked of every file: one that does not understand it is no file of ours any more.
            raise Refusal(DAMAGED) from trouble
        return db


def copy_database(place: Path, patience: float = PATIENCE) -> Database:
    """Return a copy in memory of a shop file as it is at one moment, whatever stands in it; the file is only read.

    Raise Refusal for another program's file, a newer one, and one that cannot be read. Text that is no text reads with
    a sign that says so, in the place of each wrong byte.
    """
    copy = Database(memory=True, execute_plugins=False)
    with _closed_on_trouble(copy), _closed_on_trouble(_connect(place, patience, "ro")) as db:
        try:
            _refuse_strangers(db, place)
            db.conn.backup(copy.conn)
        except sqlite3.Error as trouble:
            if getattr(trouble, "sqlite_errorcode", 0) == sqlite3.SQLITE_READONLY_ROLLBACK:
                raise Refusal(
                    f"{place} was left unfinished, by a power cut or a crash. Open the shop once; that puts it right."
                ) from trouble
            raise
        db.close()
        copy.conn.text_factory = lambda data: data.decode("utf-8", "replace")
        return copy


def make_database(place: Path, fill: Callable[[Database], None], patience: float = PATIENCE) -> Database:
    """Make a new shop file where there is nothing, filled in one transaction, and return its database.

    Raise Refusal when something stands there already: it is never written over. What cannot be made whole is removed.
    """
    try:
        place.open("xb").close()
    except FileExistsError:
        raise Refusal(f"{place} is there already, and nothing is written over. Choose another name.") from None
    except OSError as trouble:
        raise Refusal(f"{place} cannot be made: {trouble.strerror}. Choose another folder.") from trouble
    try:
        with _closed_on_trouble(_connect(place, patience, "rw")) as db:
            _set(db, place)
            with immediate(db):
                db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                migrate(db)
                fill(db)
            return db
    except BaseException:
        place.unlink(missing_ok=True)
        raise


@contextmanager
def immediate(db: Database) -> Iterator[None]:
    """Hold the only right to write: wait for another writer first, keep all of it at the end or nothing.

    A deferred transaction that reads before it writes fails at once when another one writes; this one waits.
    """
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        roll_back(db)
        raise


def roll_back(db: Database) -> None:
    """Undo what was begun. A disk that fails even here is dealt with at the next opening, by the journal."""
    with suppress(sqlite3.Error):
        db.rollback()


def rows(db: Database, sql: str, *values: object) -> list[tuple[Any, ...]]:
    """Return every row of a question. Nothing is left half read: that would hold the file for everybody else.

    Raise Refusal when the file is so damaged that it cannot be read; other troubles are the caller's.
    """
    try:
        return db.execute(sql, values).fetchall()
    except UnicodeDecodeError as trouble:
        raise Refusal(DAMAGED) from trouble
    except sqlite3.DatabaseError as trouble:
        if code_of(trouble) == sqlite3.SQLITE_CORRUPT:
            raise Refusal(DAMAGED) from trouble
        raise


def _connect(place: Path, patience: float, mode: str) -> Database:
    # Without a mode a misspelt name would make a file. Plug-ins of the library belong to its own command line.
    uri = f"{place.absolute().as_uri()}?mode={mode}"
    try:
        connection = sqlite3.connect(uri, uri=True, timeout=patience, isolation_level=None)
    except sqlite3.Error as trouble:
        raise_refusal(trouble)
        raise
    return Database(connection, execute_plugins=False)


@contextmanager
def _closed_on_trouble(db: Database) -> Iterator[Database]:
    try:
        yield db
    except (sqlite3.Error, UnicodeDecodeError) as trouble:
        db.close()
        if isinstance(trouble, UnicodeDecodeError):
            # The library quotes a damaged description of a table, and the quotation is no text.
            raise Refusal(DAMAGED) from trouble
        raise_refusal(trouble)
        raise
    except BaseException:
        db.close()
        raise


def _refuse_strangers(db: Database, place: Path) -> None:
    try:
        [(owner,)] = rows(db, "PRAGMA application_id")
    except sqlite3.DatabaseError as trouble:
        if getattr(trouble, "sqlite_errorcode", 0) != sqlite3.SQLITE_NOTADB:
            raise
        raise Refusal(f"{place} is no shop file: another program wrote it. Choose a shop file.") from trouble
    if owner != APPLICATION_ID:
        raise Refusal(f"{place} is no shop file: another program wrote it. Choose a shop file.")
    version = version_of(db)
    if version < 1:
        raise Refusal(f"{place} holds no shop. Choose another shop file, or restore a backup.")
    if version > LATEST:
        raise Refusal(
            f"{place} was written by a newer Sparkwright (form {version}; this one knows {LATEST}). "
            "Install the newer program on this machine."
        )


def _set(db: Database, place: Path) -> None:
    """Set what everything rests on, and look whether it holds."""
    for name, wanted, _ in _SETTINGS:
        rows(db, f"PRAGMA {name} = {wanted}")
    for name, wanted, value in _SETTINGS:
        [(found,)] = rows(db, f"PRAGMA {name}")
        if found != value:
            raise Refusal(
                f"{place} cannot be opened safely: {name.replace('_', ' ')} is {found}, not {wanted}. "
                "Close every other program that has the file open, then open it again."
            )
    if db.conn.isolation_level is not None:
        raise Refusal(f"{place} cannot be opened safely: transactions would begin by themselves. Report this.")
