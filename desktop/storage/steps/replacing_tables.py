"""Step 7 of the shop file: no row is replaced by its place in the file, and none is given another's name.

``INSERT OR REPLACE`` and ``UPDATE OR REPLACE`` take away the row whose place or key the new one has, and where
recursive triggers are off no trigger against erasing sees it. A table without a number of its own has hidden row
numbers, and those are keys too. The guards of the steps before looked at the keys that people see. Final, imports
nothing of ours.
"""

from sqlite_utils import Database

_BY_PLACE = (
    *("request", "scan", "printed", "person", "tool", "task_card", "sheet", "sheet_revision"),
    *("key_tries", "signed_seen", "shop_text"),
)
_KEYS = {
    "person": ("id",),
    "tool": ("id",),
    "sheet": ("id",),
    "shop_text": ("name",),
    "key_tries": ("public_key",),
    "signed_seen": ("person",),
}


def _refuse(name: str, event: str, table: str, why: str, when: str) -> str:
    return f"CREATE TRIGGER {name} {event} ON {table} WHEN {when} BEGIN SELECT RAISE (ABORT, '{why}'); END"


def _guards() -> tuple[str, ...]:
    # A new row that is given no number is asked about with the number -1: so no row may have it.
    numbers = (
        _refuse(f"{table}_has_a_number", "AFTER INSERT", table, "rows count from 1", "new.rowid < 1")
        for table in _BY_PLACE
    )
    places = (
        _refuse(
            f"{table}_in_no_other_place",
            "BEFORE INSERT",
            table,
            "no row is replaced",
            f"EXISTS (SELECT 1 FROM {table} WHERE rowid = new.rowid)",  # noqa: S608 - names from this file
        )
        for table in _BY_PLACE
    )
    keys = (
        _refuse(
            f"{table}_keeps_its_name",
            "BEFORE UPDATE",
            table,
            "a row keeps its name and its place",
            " OR ".join(f"new.{name} IS NOT old.{name}" for name in ("rowid", *names)),
        )
        for table, names in _KEYS.items()
    )
    return (*places, *numbers, *keys)


def no_replacing(db: Database) -> None:
    """Take step 7."""
    for statement in _guards():
        db.execute(statement)
