"""What the database says when the world is at fault, in plain words; a fault of the program stays what it is."""

import sqlite3

from desktop.core.errors import Refusal

NOT_KEPT = "What you just entered was not kept."
KEPT = "What you just entered was kept. Look at it as it is now."
DAMAGED = "The shop file is damaged and cannot be read. Restore the newest backup that is sound."
_LOW_BYTE = 0xFF
# Python itself, not the database, finds bytes that are no text; everything that is kept was text. What the database
# says of a header or of the search that are none of ours has no code of its own.
_NOT_OURS = (
    "Could not decode to UTF-8",
    "unsupported file format",
    "invalid fts5 file format",
    "vtable constructor failed",
)

_SENTENCES = {
    sqlite3.SQLITE_BUSY: "Another window is writing to the shop file. Wait a moment and do it again.",
    sqlite3.SQLITE_LOCKED: "Another window is writing to the shop file. Wait a moment and do it again.",
    sqlite3.SQLITE_FULL: "The disk is full. Make room on it and do it again.",
    sqlite3.SQLITE_READONLY: "The shop file may not be written to. Put it into a folder that you may write to.",
    sqlite3.SQLITE_PERM: "The shop file may not be written to. Put it into a folder that you may write to.",
    sqlite3.SQLITE_AUTH: "The shop file may not be written to. Put it into a folder that you may write to.",
    sqlite3.SQLITE_CANTOPEN: "The shop file cannot be opened. Look whether its folder is there and may be written to.",
    sqlite3.SQLITE_IOERR: "The disk reported an error. Look whether it is connected and sound, then do it again.",
    sqlite3.SQLITE_NOMEM: "The machine has no memory left. Close something and do it again.",
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: DAMAGED,
    sqlite3.SQLITE_TOOBIG: "This is too long to be kept. Write less.",
}


def code_of(trouble: sqlite3.Error) -> int:
    """Return the primary result code of a trouble; SQLITE_ERROR for one that did not come from the library."""
    code: int = getattr(trouble, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    return code & _LOW_BYTE


def sentence_of(trouble: sqlite3.Error) -> str | None:
    """Say what is wrong with the world; None when it is the program that is wrong."""
    if str(trouble).startswith(_NOT_OURS):
        return DAMAGED
    return _SENTENCES.get(code_of(trouble))


def raise_refusal(trouble: sqlite3.Error, then: str = "") -> None:
    """Raise Refusal with the sentence and ``then``; return when the program is wrong, so that the caller raises."""
    if sentence := sentence_of(trouble):
        raise Refusal(f"{sentence} {then}".strip()) from trouble
