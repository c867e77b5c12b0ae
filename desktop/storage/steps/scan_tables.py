"""Step 6 of the shop file: which prints were made, and scans of those that came back signed with ink; both only grow.

Final, imports nothing of ours.
"""

from sqlite_utils import Database

_TABLES = (
    """CREATE TABLE printed (
        code TEXT NOT NULL CHECK (length (code) <= 20),
        number INTEGER NOT NULL CHECK (number > 0),
        card INTEGER NOT NULL CHECK (card >= 0),
        kind TEXT NOT NULL CHECK (length (kind) <= 100),
        version INTEGER NOT NULL CHECK (version > 0),
        PRIMARY KEY (code, number, card, kind, version)
    ) STRICT""",
    """CREATE TABLE scan (
        digest TEXT PRIMARY KEY CHECK (length (digest) = 64),
        kind TEXT NOT NULL,
        bytes BLOB NOT NULL CHECK (length (bytes) <= 20000000)
    ) STRICT""",
)


def _only_grows(table: str, same: str) -> tuple[str, ...]:
    end = f"BEGIN SELECT RAISE (ABORT, '{table} only grows'); END"
    # INSERT OR REPLACE passes by the first two where recursive triggers are off: the third stops it.
    there = f"EXISTS (SELECT 1 FROM {table} WHERE {same})"  # noqa: S608 - names from this file
    return (
        f"CREATE TRIGGER {table}_stays BEFORE UPDATE ON {table} {end}",
        f"CREATE TRIGGER {table}_is_kept BEFORE DELETE ON {table} {end}",
        f"CREATE TRIGGER {table}_once BEFORE INSERT ON {table} WHEN {there} {end}",
    )


_GUARDS = (
    *_only_grows(
        "printed",
        "code = new.code AND number = new.number AND card = new.card AND kind = new.kind AND version = new.version",
    ),
    *_only_grows("scan", "digest = new.digest"),
)


def prints_and_scans(db: Database) -> None:
    """Take step 6."""
    for statement in (*_TABLES, *_GUARDS):
        db.execute(statement)
