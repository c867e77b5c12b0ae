"""What was printed, and scans of what came back signed: kept in the shop file, and only added to."""

from hashlib import sha256

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Printed, Scan, ScanKind
from desktop.storage.database import rows
from desktop.storage.shop_work import FileWork
from desktop.usecases.shop.ports import ShopWork

_KEY = "code = ? AND number = ? AND card = ? AND kind = ? AND version = ?"


_ONE = "SELECT kind, bytes FROM scan WHERE digest = ?"


def is_as_kept(db: Database, digest: str) -> bool:
    """Tell whether a scan that is there is one of a known kind, and its bytes are those of its SHA-256."""
    return all(_is_sound(kind, data, digest) for kind, data in rows(db, _ONE, digest))


def _is_sound(kind: str, data: bytes, digest: str) -> bool:
    return kind in set(ScanKind) and sha256(data).hexdigest() == digest


class FileScans:
    """Prints and scans inside one transaction of a shop file; ValueError for anything after its end."""

    def __init__(self, work: FileWork) -> None:
        _ = work._read  # noqa: SLF001 - the same room; it raises after the end
        self._work = work
        self._db = work._db  # noqa: SLF001 - the same room

    def put_scan(self, scan: Scan) -> None:
        """Keep a scan under its SHA-256; one that is there already stays."""
        if not rows(self._db, "SELECT 1 FROM scan WHERE digest = ?", scan.digest):
            sql = "INSERT INTO scan (digest, kind, bytes) VALUES (?, ?, ?)"
            self._db.execute(sql, (scan.digest, scan.kind.value, scan.data))

    def scan(self, digest: str) -> Scan | None:
        """Return a scan; None when there is none. Raise Refusal for one that is not as it was kept."""
        found = rows(self._db, _ONE, digest)
        if not found:
            return None
        [(kind, data)] = found
        if not _is_sound(kind, data, digest):
            raise Refusal("The shop file holds a damaged scan. Restore the newest backup that is sound.")
        return Scan(ScanKind(kind), data)

    def note_printed(self, printed: Printed) -> None:
        """Remember a print; the same one again is remembered once."""
        values = (printed.code, printed.order, printed.card, printed.paper, printed.version)
        if not rows(self._db, f"SELECT 1 FROM printed WHERE {_KEY}", *values):  # noqa: S608 - names from this file
            sql = "INSERT INTO printed (code, number, card, kind, version) VALUES (?, ?, ?, ?, ?)"
            self._db.execute(sql, values)
        self._work.proof = (f"SELECT 1 FROM printed WHERE {_KEY}", values)  # noqa: S608 - the same

    def printed_with(self, code: str) -> tuple[Printed, ...]:
        """Return the prints that bear a code, the newest version first."""
        sql = "SELECT code, number, card, kind, version FROM printed WHERE code = ? ORDER BY version DESC, number, card"
        return tuple(Printed(*row) for row in rows(self._db, sql, code))


class ScanStore:
    """Where a shop's prints and scans are kept."""

    def within(self, work: ShopWork) -> FileScans:
        """Return them inside a transaction of a shop file."""
        if not isinstance(work, FileWork):
            raise TypeError("scans are kept in a shop file")
        return FileScans(work)
