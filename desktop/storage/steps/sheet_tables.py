"""Step 3 of the shop file: limits sheets, the one that is worked on and every revision that was compared.

``sheet`` holds the newest revision of each sheet, a draft or not, and changes a version at a time. ``sheet_revision``
holds the exact text of each compared revision and only grows. This step is final and imports nothing of ours.
"""

from sqlite_utils import Database

_TABLES = (
    """CREATE TABLE sheet (
        id TEXT PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        text TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE sheet_revision (
        id TEXT NOT NULL REFERENCES sheet (id),
        revision INTEGER NOT NULL CHECK (revision > 0),
        digest TEXT NOT NULL,
        kind TEXT NOT NULL,
        text TEXT NOT NULL,
        PRIMARY KEY (id, revision)
    ) STRICT""",
)


def _refuse(name: str, event: str, table: str, why: str, when: str = "") -> str:
    condition = f"WHEN {when} " if when else ""
    return f"CREATE TRIGGER {name} BEFORE {event} ON {table} {condition}BEGIN SELECT RAISE (ABORT, '{why}'); END"


_ONLY_GROWS = "compared limits sheets only grow"
_GUARDS = (
    _refuse("sheet_is_kept", "DELETE", "sheet", "no limits sheet is erased"),
    _refuse(
        "sheet_versions",
        "UPDATE",
        "sheet",
        "versions have no gaps",
        "new.id <> old.id OR new.version <> old.version + 1",
    ),
    _refuse(
        "sheet_once",
        "INSERT",
        "sheet",
        "versions have no gaps",
        "new.version <> 1 OR EXISTS (SELECT 1 FROM sheet WHERE id = new.id)",
    ),
    _refuse("sheet_revision_stays", "UPDATE", "sheet_revision", _ONLY_GROWS),
    _refuse("sheet_revision_is_kept", "DELETE", "sheet_revision", _ONLY_GROWS),
    # INSERT OR REPLACE passes by the first two where recursive triggers are off: this one stops it.
    _refuse(
        "sheet_revision_in_order",
        "INSERT",
        "sheet_revision",
        "revisions have no gaps",
        "new.revision <> (SELECT coalesce(max(revision), 0) + 1 FROM sheet_revision WHERE id = new.id)",
    ),
)


def limits_sheets(db: Database) -> None:
    """Take step 3."""
    for statement in (*_TABLES, *_GUARDS):
        db.execute(statement)
