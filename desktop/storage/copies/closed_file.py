"""Reading a shop file or a copy of one without ever writing to it, and saying what it holds and what is wrong with it.

A file from outside may hold what another program put there: its tables are compared with ours, word for word, before
anything in it is run, and no function of its own text is trusted.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.records.sealed.chain import check_chain
from desktop.core.records.sealed.envelope import head_of
from desktop.core.records.sealed.signatures import Verifies
from desktop.storage.database import APPLICATION_ID, rows
from desktop.storage.guards import PARTS, parts_of
from desktop.storage.records.record_store import RecordFile
from desktop.storage.steps.migrations import LATEST, version_of
from desktop.storage.troubles import DAMAGED, raise_refusal
from desktop.usecases.records.copies.copy_ports import Chain, Holds, Pace

FIRST_WITH_RECORDS = 2
"""The form of a file from which on it holds signed records."""
_MOST_SAID = 200
_STEPS_BETWEEN_LOOKS = 200_000
_ROWS_BETWEEN_LOOKS = 1_000
_WHAT_IT_IS = {"table": "table", "index": "index", "trigger": "guard", "view": "view"}
_OPENS = ("trusted_schema = OFF", "cell_size_check = ON", "query_only = ON", "mmap_size = 0")


def chain_of(db: Database, shop_id: str, verifies: Verifies) -> Chain:
    """Read every signed record of a file: how many there are, the seal after the last, and what is wrong with them."""
    if version_of(db) < FIRST_WITH_RECORDS:
        return Chain(0, head_of(shop_id, None))
    records = RecordFile(db, shop_id)
    walk = check_chain(records.stored(), shop_id, verifies, {line.number: line for line in records.lines()})
    return Chain(walk.count, walk.head, tuple(problem.sentence for problem in walk.problems))


@contextmanager
def reading(place: Path, pace: Pace, *, is_private: bool = False, plays_back: bool = False) -> Iterator[Database]:
    """Open a file for reading only. Raise Refusal when the disk or the file stands against it, or somebody stops.

    ``is_private`` says that nobody else knows the file: no lock is asked for, and a journal beside it is not looked at.
    ``plays_back`` lets a journal that a power cut left be played back first: without that such a file cannot be read.
    """
    mode = "mode=ro&immutable=1" if is_private else "mode=rw" if plays_back else "mode=ro"
    try:
        connection = sqlite3.connect(f"{place.absolute().as_uri()}?{mode}", uri=True, isolation_level=None)
        with closing(connection):
            for setting in _OPENS:
                connection.execute(f"PRAGMA {setting}")
            connection.text_factory = readable
            connection.set_progress_handler(lambda: not pace(0, 0), _STEPS_BETWEEN_LOOKS)
            yield Database(connection, execute_plugins=False)
    except sqlite3.Error as trouble:
        if getattr(trouble, "sqlite_errorcode", 0) == sqlite3.SQLITE_INTERRUPT:
            raise Refusal("Stopped. Nothing was changed.") from trouble
        raise_refusal(trouble)
        raise Refusal(DAMAGED) from trouble
    except UnicodeDecodeError as trouble:  # what the library says of a damaged file may be no text itself
        raise Refusal(DAMAGED) from trouble


def readable(data: bytes) -> str:
    """Read any bytes: what stands in a stranger's file may be no text at all."""
    return data.decode("utf-8", "backslashreplace")


def form_of(db: Database, place: Path) -> int:
    """Return how many steps a shop file has seen. Raise Refusal for one that is another program's or a newer one."""
    [(owner,)] = rows(db, "PRAGMA application_id")
    version = version_of(db)
    if owner != APPLICATION_ID or version < 1:
        raise Refusal(f"{place} is no shop file: another program wrote it.")
    if version > LATEST:
        raise Refusal(
            f"{place} was written by a newer Sparkwright (form {version}; this one knows {LATEST}). "
            "Install the newer program on this machine."
        )
    return version


def schema_faults(db: Database, version: int) -> tuple[str, ...]:
    """Return what is missing, strange or changed among the tables and guards of a file of a form."""
    wanted = {row[:3]: row[3] for row in parts_of(version)}
    found = {row[:3]: row[3] for row in rows(db, PARTS)}
    said = []
    for key in sorted(wanted.keys() | found.keys(), key=repr):
        what = f"{_WHAT_IT_IS.get(key[0], 'part')} {_short(str(key[1]))}"
        if key not in found:
            said.append(f"the {what} is missing")
        elif key not in wanted:
            said.append(f"the {what} is not ours")
        elif wanted[key] != found[key]:
            said.append(f"the {what} was changed")
    return tuple(said)


def page_faults(db: Database) -> tuple[str, ...]:
    """Return what the database finds wrong in its own pages and references. It reads the whole file."""
    said = tuple(_short(text) for (text,) in rows(db, "PRAGMA quick_check") if text != "ok")
    loose = tuple(f"{table}: a row refers to nothing" for table, *_ in rows(db, "PRAGMA foreign_key_check"))
    return (*said, *loose)


def _short(text: str) -> str:
    """Bring what the library says into one line."""
    return " ".join(text.split())[:_MOST_SAID]


def holds(db: Database, place: Path, version: int, verifies: Verifies) -> Holds:
    """Return what a file holds. Raise Refusal when it holds no shop."""
    shop = rows(db, "SELECT shop_id, name FROM shop")
    if not shop:
        raise Refusal(f"{place} holds no shop.")
    [(orders,)] = rows(db, "SELECT count(*) FROM work_order")
    [(changes,)] = rows(db, "SELECT count(*) FROM journal")
    shop_id, name = shop[0]
    if not isinstance(shop_id, str) or not isinstance(name, str):
        raise Refusal(DAMAGED)
    return Holds(shop_id, name, version, orders, changes, chain_of(db, shop_id, verifies))


@dataclass(frozen=True, slots=True)
class LastWork:
    """The last line of a file's journal, whole, and its last request: no two files that parted have the same."""

    change: tuple[object, ...] | None
    request: str | None


def last_work(db: Database) -> LastWork:
    """Return what was done last in a file."""
    change = rows(db, "SELECT id, number, version, text FROM journal ORDER BY id DESC LIMIT 1")
    request = rows(db, "SELECT id FROM request ORDER BY rowid DESC LIMIT 1")
    return LastWork(tuple(change[0]) if change else None, request[0][0] if request else None)


def has_work(db: Database, last: LastWork) -> bool:
    """Tell whether this was done in a file too; nothing done is the beginning of every file."""
    line = "SELECT 1 FROM journal WHERE id = ? AND number = ? AND version = ? AND text = ?"
    return (last.change is None or bool(rows(db, line, *last.change))) and (
        last.request is None or bool(rows(db, "SELECT 1 FROM request WHERE id = ?", last.request))
    )


def has_record(db: Database, chain: Chain) -> bool:
    """Tell whether a file has the last record of another chain, under the same number and seal."""
    return bool(rows(db, "SELECT 1 FROM envelope WHERE number = ? AND digest = ?", chain.records, chain.seal))


def digest_of(db: Database, pace: Pace) -> str:
    """Return the SHA-256 of every row of every table, with the tables' own text: two equal files give the same."""
    whole = sha256()
    done = 0
    for kind, name, _, text in rows(db, PARTS):
        whole.update(repr((kind, name, text)).encode())
        if kind != "table" or text.startswith("CREATE VIRTUAL"):
            continue
        with closing(db.conn.cursor()) as cursor:
            for row in cursor.execute(f'SELECT * FROM "{name}"'):  # noqa: S608 - the name of a table of this file
                whole.update(repr(row).encode())
                done += 1
                if done % _ROWS_BETWEEN_LOOKS == 0 and not pace(0, 0):
                    raise Refusal("Stopped. Nothing was changed.")
    return whole.hexdigest()
