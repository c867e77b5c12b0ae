"""The triggers of a shop file: what keeps signed records and journals from being changed by accident.

They stop accidents, not people; but a file without them was opened by somebody with another program.
"""

from functools import cache
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.storage.steps.migrations import STEPS, migrate, version_of

_TRIGGERS = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' OR name = 'envelope'"


def refuse_without_guards(db: Database, place: Path) -> None:
    """Raise Refusal unless the file has exactly the triggers that its form has."""
    if odd := odd_guards(db):
        raise Refusal(
            f"{place} cannot be opened safely: what keeps its records from being changed was itself changed with "
            f"another program ({', '.join(odd)}). Run 'sparkwright verify' on it, then restore the newest sound backup."
        )


def odd_guards(db: Database) -> tuple[str, ...]:
    """Return the names of the triggers, and of the table of records, that are missing, changed or strange in a file."""
    found = set(db.execute(_TRIGGERS).fetchall())
    return tuple(sorted({str(name) for name, _ in found ^ _expected(version_of(db))}))


@cache
def _expected(version: int) -> frozenset[tuple[str, str]]:
    """Return what a form of the file has, from a file in memory that takes the same steps."""
    db = Database(memory=True, execute_plugins=False)
    migrate(db, STEPS[:version])
    found = frozenset(db.execute(_TRIGGERS).fetchall())
    db.close()
    return found
