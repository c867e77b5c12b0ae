"""Step 2 of the shop file: signed records, and the list of them.

``envelope`` only grows, by one row at a time: it is the record. ``record_line`` and ``record_about`` are a list made
from it, which can be dropped and made again. This step is final and imports nothing of ours.
"""

from sqlite_utils import Database

_TABLES = (
    """CREATE TABLE envelope (
        number INTEGER PRIMARY KEY CHECK (number > 0),
        kind TEXT NOT NULL,
        content BLOB NOT NULL CHECK (length (content) <= 1000000),
        previous TEXT NOT NULL,
        digest TEXT NOT NULL UNIQUE,
        signatures TEXT NOT NULL CHECK (length (signatures) <= 100000)
    ) STRICT""",
)

LIST_TABLES = (
    """CREATE TABLE record_line (
        number INTEGER PRIMARY KEY,
        kind TEXT NOT NULL,
        subject TEXT NOT NULL,
        order_number INTEGER NOT NULL,
        card_number INTEGER NOT NULL,
        person TEXT NOT NULL,
        name TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE record_about (
        number INTEGER NOT NULL,
        place INTEGER NOT NULL,
        about INTEGER NOT NULL,
        PRIMARY KEY (number, place)
    ) STRICT""",
    "CREATE INDEX record_line_by_order ON record_line (order_number, number)",
    "CREATE INDEX record_line_by_kind ON record_line (kind, number)",
    "CREATE INDEX record_about_by_about ON record_about (about, number)",
)

_ONLY_GROWS = "SELECT RAISE (ABORT, 'signed records only grow')"
_GUARDS = (
    f"CREATE TRIGGER envelope_stays BEFORE UPDATE ON envelope BEGIN {_ONLY_GROWS}; END",
    f"CREATE TRIGGER envelope_is_kept BEFORE DELETE ON envelope BEGIN {_ONLY_GROWS}; END",
    # INSERT OR REPLACE passes by the first two where recursive triggers are off: this one stops it.
    """CREATE TRIGGER envelope_in_order BEFORE INSERT ON envelope
    WHEN new.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM envelope)
    OR EXISTS (SELECT 1 FROM envelope WHERE digest = new.digest)
    BEGIN SELECT RAISE (ABORT, 'signed records have no gaps'); END""",
)


def signed_records(db: Database) -> None:
    """Take step 2."""
    for statement in (*_TABLES, *LIST_TABLES, *_GUARDS):
        db.execute(statement)
