"""What the tables of a shop file are, as numbered steps from nothing to the present.

A step that was ever released never changes: a later wish is a later step. Steps import nothing of ours, so that they
still run when the program around them has changed. The number of steps that a file has seen is its ``user_version``.

``work_order`` holds drafts: what is written on an order while it is worked on. What people sign comes into tables of
its own. Tables hold no number that was measured: readings stay in the text of the order, as they were typed.
"""

from collections.abc import Callable, Sequence

from sqlite_utils import Database

from desktop.storage.steps.key_tables import signing_keys
from desktop.storage.steps.record_tables import signed_records
from desktop.storage.steps.replacing_tables import no_replacing
from desktop.storage.steps.scan_tables import prints_and_scans
from desktop.storage.steps.setting_tables import shop_texts
from desktop.storage.steps.sheet_tables import limits_sheets

Step = Callable[[Database], None]

_TABLES = (
    """CREATE TABLE shop (
        one INTEGER PRIMARY KEY CHECK (one = 1),
        shop_id TEXT NOT NULL,
        name TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE person (
        id TEXT PRIMARY KEY,
        text TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE tool (
        id TEXT PRIMARY KEY,
        text TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE task_card (
        digest TEXT PRIMARY KEY,
        text TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE work_order (
        number INTEGER PRIMARY KEY CHECK (number > 0),
        version INTEGER NOT NULL CHECK (version > 0),
        text TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE journal (
        id INTEGER PRIMARY KEY,
        number INTEGER NOT NULL REFERENCES work_order (number),
        version INTEGER NOT NULL,
        text TEXT NOT NULL,
        UNIQUE (number, version)
    ) STRICT""",
    """CREATE TABLE request (
        id TEXT PRIMARY KEY,
        answer TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE order_line (
        number INTEGER PRIMARY KEY REFERENCES work_order (number),
        version INTEGER NOT NULL,
        state TEXT NOT NULL,
        customer TEXT NOT NULL,
        registration TEXT NOT NULL,
        aircraft_type TEXT NOT NULL,
        position TEXT NOT NULL,
        opened_by TEXT NOT NULL,
        opened_at TEXT NOT NULL,
        opened_under TEXT NOT NULL,
        promised TEXT,
        asked TEXT NOT NULL,
        cards INTEGER NOT NULL,
        mechanics TEXT NOT NULL,
        not_normal INTEGER NOT NULL
    ) STRICT""",
    "CREATE INDEX order_line_by_state ON order_line (state, number)",
    "CREATE INDEX order_line_by_registration ON order_line (registration, number)",
    """CREATE TABLE order_word (
        number INTEGER PRIMARY KEY REFERENCES work_order (number),
        words TEXT NOT NULL
    ) STRICT""",
    # The words are small letters and digits already: the plain tokenizer parts them at the spaces and nowhere else.
    """CREATE VIRTUAL TABLE order_find USING fts5 (
        words, content = 'order_word', content_rowid = 'number', tokenize = 'ascii', detail = 'none', prefix = '1 2 3'
    )""",
)

_WORDS_FOLLOW = (
    """CREATE TRIGGER order_word_new AFTER INSERT ON order_word BEGIN
        INSERT INTO order_find (rowid, words) VALUES (new.number, new.words);
    END""",
    """CREATE TRIGGER order_word_gone AFTER DELETE ON order_word BEGIN
        INSERT INTO order_find (order_find, rowid, words) VALUES ('delete', old.number, old.words);
    END""",
    """CREATE TRIGGER order_word_changed AFTER UPDATE ON order_word BEGIN
        INSERT INTO order_find (order_find, rowid, words) VALUES ('delete', old.number, old.words);
        INSERT INTO order_find (rowid, words) VALUES (new.number, new.words);
    END""",
)


def _refuse(name: str, event: str, table: str, why: str, when: str = "") -> str:
    """Return a trigger that stops an event; it stops accidents, not people with a database tool."""
    condition = f"WHEN {when} " if when else ""
    return f"CREATE TRIGGER {name} BEFORE {event} ON {table} {condition}BEGIN SELECT RAISE (ABORT, '{why}'); END"


def _only_grows(table: str, key: str) -> tuple[str, ...]:
    # INSERT OR REPLACE passes by the first two where recursive triggers are off: the third stops it.
    there = f"EXISTS (SELECT 1 FROM {table} WHERE {key} = new.{key})"  # noqa: S608 - names from this file
    return (
        _refuse(f"{table}_stays", "UPDATE", table, f"{table} only grows"),
        _refuse(f"{table}_is_kept", "DELETE", table, f"{table} only grows"),
        _refuse(f"{table}_once", "INSERT", table, f"{table} only grows", there),
    )


_GUARDS = (
    *_only_grows("journal", "id"),
    _refuse(
        "journal_in_order",
        "INSERT",
        "journal",
        "the journal has no gaps",
        "new.version <> (SELECT coalesce(max(version), 0) + 1 FROM journal WHERE number = new.number)",
    ),
    *_only_grows("request", "id"),
    *_only_grows("task_card", "digest"),
    _refuse(
        "work_order_in_order",
        "INSERT",
        "work_order",
        "order numbers have no gaps",
        "new.version <> 1 OR new.number <> (SELECT coalesce(max(number), 0) + 1 FROM work_order)",
    ),
    _refuse(
        "work_order_versions",
        "UPDATE",
        "work_order",
        "versions have no gaps",
        "new.number <> old.number OR new.version <> old.version + 1",
    ),
    _refuse("work_order_is_kept", "DELETE", "work_order", "an order is never erased"),
    _refuse("shop_once", "INSERT", "shop", "a file is one shop", "EXISTS (SELECT 1 FROM shop)"),
    _refuse("shop_stays", "UPDATE", "shop", "a shop keeps its id", "new.shop_id <> old.shop_id"),
    _refuse("shop_is_kept", "DELETE", "shop", "a file is one shop"),
    _refuse("person_is_kept", "DELETE", "person", "nobody is taken off the roster"),
    _refuse("person_once", "INSERT", "person", "twice", "EXISTS (SELECT 1 FROM person WHERE id = new.id)"),
    _refuse("tool_is_kept", "DELETE", "tool", "no tool is taken off the list"),
    _refuse("tool_once", "INSERT", "tool", "twice", "EXISTS (SELECT 1 FROM tool WHERE id = new.id)"),
)


def work_orders(db: Database) -> None:
    """Step 1: the shop, its people and tools, orders with their journal, and the index of orders."""
    for statement in (*_TABLES, *_WORDS_FOLLOW, *_GUARDS):
        db.execute(statement)


STEPS: tuple[Step, ...] = (
    work_orders,
    signed_records,
    limits_sheets,
    signing_keys,
    shop_texts,
    prints_and_scans,
    no_replacing,
)
LATEST = len(STEPS)
"""The number of the newest form of the file that this program knows."""


def version_of(db: Database) -> int:
    """Return how many steps a file has seen."""
    return int(db.execute("PRAGMA user_version").fetchall()[0][0])


def migrate(db: Database, steps: Sequence[Step] = STEPS) -> None:
    """Take the steps that a file has not seen yet; all of them stand afterwards, or none.

    The caller has begun an immediate transaction: two windows that open an old file at once wait for each other, and
    the second one finds nothing left to do.
    """
    for number in range(version_of(db), len(steps)):
        with db.atomic():
            steps[number](db)
            db.execute(f"PRAGMA user_version = {number + 1}")
