"""Which database library this program runs on."""

import sqlite3


def sqlite_version() -> str:
    """Return the version of SQLite in this process."""
    return sqlite3.sqlite_version
