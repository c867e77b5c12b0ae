"""Step 4 of a shop file: keys, sealed under their owners' secrets, the tries of each, and what happened to them.

Keys and events only grow. A count of tries never falls: what is forgiven is a second count that follows the first.
The triggers stop accidents; that a count was set back with a database tool is noticed by the count of the machine.
"""

from sqlite_utils import Database

_TABLES = (
    """CREATE TABLE person_key (
        number INTEGER PRIMARY KEY CHECK (number > 0),
        person TEXT NOT NULL REFERENCES person (id),
        public_key TEXT NOT NULL UNIQUE,
        wrapped TEXT NOT NULL,
        salt TEXT NOT NULL,
        nonce TEXT NOT NULL,
        memory INTEGER NOT NULL,
        passes INTEGER NOT NULL,
        lanes INTEGER NOT NULL
    ) STRICT""",
    "CREATE INDEX person_key_by_person ON person_key (person, number)",
    """CREATE TABLE key_tries (
        public_key TEXT PRIMARY KEY REFERENCES person_key (public_key),
        begun INTEGER NOT NULL,
        forgiven INTEGER NOT NULL CHECK (forgiven BETWEEN 0 AND begun),
        last TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE key_event (
        number INTEGER PRIMARY KEY CHECK (number > 0),
        public_key TEXT NOT NULL REFERENCES person_key (public_key),
        what TEXT NOT NULL,
        person TEXT NOT NULL,
        at TEXT NOT NULL,
        wrong INTEGER NOT NULL
    ) STRICT""",
    """CREATE TABLE signed_seen (
        person TEXT PRIMARY KEY REFERENCES person (id),
        number INTEGER NOT NULL CHECK (number >= 0)
    ) STRICT""",
)


def _refuse(name: str, event: str, table: str, why: str, when: str = "") -> str:
    condition = f"WHEN {when} " if when else ""
    return f"CREATE TRIGGER {name} BEFORE {event} ON {table} {condition}BEGIN SELECT RAISE (ABORT, '{why}'); END"


def _once(table: str, *keys: str) -> str:
    there = " OR ".join(f"EXISTS (SELECT 1 FROM {table} WHERE {key} = new.{key})" for key in keys)  # noqa: S608
    return _refuse(f"{table}_once", "INSERT", table, f"{table} only grows", there)


def _only_grows(table: str, *keys: str) -> tuple[str, ...]:
    return (
        _refuse(f"{table}_stays", "UPDATE", table, f"{table} only grows"),
        _refuse(f"{table}_is_kept", "DELETE", table, f"{table} only grows"),
        _once(table, *keys),
    )


_GUARDS = (
    *_only_grows("person_key", "number", "public_key"),
    *_only_grows("key_event", "number"),
    _refuse(
        "key_tries_grow",
        "UPDATE",
        "key_tries",
        "a count of tries only grows",
        "new.public_key <> old.public_key OR new.begun < old.begun OR new.forgiven < old.forgiven",
    ),
    _refuse("key_tries_are_kept", "DELETE", "key_tries", "a count of tries only grows"),
    _once("key_tries", "public_key"),
    _refuse(
        "signed_seen_grows",
        "UPDATE",
        "signed_seen",
        "signed_seen only grows",
        "new.person <> old.person OR new.number < old.number",
    ),
    _refuse("signed_seen_is_kept", "DELETE", "signed_seen", "signed_seen only grows"),
    _once("signed_seen", "person"),
)


def signing_keys(db: Database) -> None:
    """Step 4: keys, the tries of each, what happened to them, and what each person saw of their own signatures."""
    for statement in (*_TABLES, *_GUARDS):
        db.execute(statement)
