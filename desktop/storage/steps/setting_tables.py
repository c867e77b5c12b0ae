"""Step 5 of the shop file: texts about the shop itself, such as its address and settings.

It is final and imports nothing of ours.
"""

from sqlite_utils import Database


def shop_texts(db: Database) -> None:
    """Take step 5."""
    db.execute("CREATE TABLE shop_text (name TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT")
    db.execute(
        "CREATE TRIGGER shop_text_is_kept BEFORE DELETE ON shop_text "
        "BEGIN SELECT RAISE (ABORT, 'what a shop says of itself is not erased'); END"
    )
