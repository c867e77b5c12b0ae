"""The tables and triggers of a shop file, held against those that its form has.

The triggers keep signed records and journals from being changed by accident. They stop accidents, not people; but a
file without them, or without a table, was opened by somebody with another program.
"""

from functools import cache
from pathlib import Path

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.storage.steps.migrations import STEPS, migrate, version_of

Part = tuple[str, str, str, str]
"""The kind of a part of a file (table, index, trigger, view), its name, the table that it belongs to, and its text."""
PARTS = "SELECT type, name, tbl_name, sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY type, name"
_TRIGGERS = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' OR name = 'envelope'"
_RECORDS = "envelope"
_MOST_NAMED = 5
_MOST_SIGNS = 40


def refuse_without_guards(db: Database, place: Path) -> None:
    """Raise Refusal unless the file has the triggers and tables that its form has, and nothing more on its tables."""
    if odd := odd_guards(db):
        raise Refusal(
            f"{place} cannot be opened safely: what keeps its records from being changed was itself changed with "
            f"another program ({_named(odd)}). Run 'sparkwright verify' on it, then restore the newest sound backup."
        )
    if odd := odd_tables(db):
        raise Refusal(
            f"{place} cannot be opened safely: tables of it were changed or taken out with another program "
            f"({_named(odd)}). Restore the newest backup that is sound."
        )


def odd_guards(db: Database) -> tuple[str, ...]:
    """Return the names of the triggers, and of the table of records, that are missing, changed or strange in a file."""
    found = set(db.execute(_TRIGGERS).fetchall())
    wanted = {(part[1], part[3]) for part in parts_of(version_of(db)) if _is_guard(part)}
    return tuple(sorted({str(name) for name, _ in found ^ wanted}))


def odd_tables(db: Database) -> tuple[str, ...]:
    """Return the names of tables and indexes that are missing or changed, and of strange ones on tables of ours.

    A table of somebody else's is nothing to us: nobody here asks it anything. What went with its table is not named.
    """
    wanted = {part for part in parts_of(version_of(db)) if not _is_guard(part)}
    found = {part for part in db.execute(PARTS).fetchall() if not _is_guard(part)}
    ours = {part[2] for part in wanted}
    odd = (wanted - found) | {part for part in found - wanted if part[2] in ours}
    gone = {part[1] for part in wanted} - {part[1] for part in found}
    return tuple(sorted({str(name) for _, name, table, _ in odd if name == table or table not in gone}))


def _is_guard(part: Part) -> bool:
    kind, name, _, _ = part
    return kind == "trigger" or name == _RECORDS


@cache
def parts_of(version: int) -> tuple[Part, ...]:
    """Return what a form of the file consists of, from a file in memory that takes the same steps."""
    db = Database(memory=True, execute_plugins=False)
    migrate(db, STEPS[:version])
    found = tuple(db.execute(PARTS).fetchall())
    db.close()
    return found


def _named(names: tuple[str, ...]) -> str:
    """Name a few parts, each in a few visible signs: a stranger wrote them."""
    short = ["".join(sign if sign.isprintable() else " " for sign in name)[:_MOST_SIGNS] for name in names]
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return f"{', '.join(short[:_MOST_NAMED])}{more}"
