"""Limits sheets in the shop file: the newest of each as it is worked on, and compared revisions, which only grow."""

from hashlib import sha256

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_life import SheetLife
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet
from desktop.storage.database import rows
from desktop.usecases.shop.ports import ShopText

Proof = tuple[str, tuple[object, ...]]

_KINDS: dict[str, type[EngineSheet] | type[MagnetoSheet]] = {
    SheetKind.ENGINE.value: EngineSheet,
    SheetKind.MAGNETO.value: MagnetoSheet,
}
_DAMAGED = "The shop file holds a damaged limits sheet: {what}. Restore the newest backup that is sound."
MOST_REVISION = 2**62


class SheetFile:
    """Asks and keeps limits sheets; whoever keeps one has begun a transaction."""

    def __init__(self, db: Database, text: ShopText) -> None:
        self._db = db
        self._text = text

    def life(self, sheet_id: str) -> SheetLife | None:
        """Return the newest revision of a sheet with what was done to it."""
        found = rows(self._db, "SELECT text FROM sheet WHERE id = ?", sheet_id)
        return self._text.read(found[0][0], SheetLife) if found else None

    def lives(self) -> tuple[SheetLife, ...]:
        """Return the newest revision of every sheet, by id."""
        return tuple(
            self._text.read(text, SheetLife) for (text,) in rows(self._db, "SELECT text FROM sheet ORDER BY id")
        )

    def put_life(self, life: SheetLife) -> Proof:
        """Keep a sheet as it is worked on; return what proves that it stands. ValueError when a version is left out."""
        kept = self.life(life.sheet.id)
        if life.version != (kept.version if kept else 0) + 1:
            raise ValueError("a version is left out")
        text = self._text.write(life)
        sql = "UPDATE sheet SET version = ?, text = ? WHERE id = ?"
        self._db.execute(
            sql if kept else "INSERT INTO sheet (version, text, id) VALUES (?, ?, ?)",
            (life.version, text, life.sheet.id),
        )
        proof = "SELECT 1 FROM sheet WHERE id = ? AND version = ? AND text = ?"
        return proof, (life.sheet.id, life.version, text)

    def put_compared(self, sheet: Sheet) -> SheetPin:
        """Keep a compared revision for ever and return its pin. ValueError for one that was not compared."""
        if sheet.compared_by is None:
            raise ValueError("only a compared revision is kept for ever")
        text = self._text.write(sheet)
        pin = SheetPin(sheet.id, sheet.revision, _digest(text))
        self._db.execute(
            "INSERT INTO sheet_revision (id, revision, digest, kind, text) VALUES (?, ?, ?, ?, ?)",
            (pin.sheet, pin.revision, pin.digest, sheet.kind.value, text),
        )
        return pin

    def pins(self, sheet_id: str) -> tuple[SheetPin, ...]:
        """Return the compared revisions of a sheet, the oldest first."""
        sql = "SELECT id, revision, digest FROM sheet_revision WHERE id = ? ORDER BY revision"
        return tuple(SheetPin(*row) for row in rows(self._db, sql, sheet_id))

    def every_pin(self) -> tuple[SheetPin, ...]:
        """Return the compared revisions of all sheets, by id and revision."""
        found = rows(self._db, "SELECT id, revision, digest FROM sheet_revision ORDER BY id, revision")
        return tuple(SheetPin(*row) for row in found)

    def pinned(self, pin: SheetPin) -> Sheet:
        """Return a compared revision; raise Refusal when it is not there or not as it was pinned."""
        sql = "SELECT kind, digest, text FROM sheet_revision WHERE id = ? AND revision = ?"
        found = rows(self._db, sql, pin.sheet, pin.revision) if 0 < pin.revision < MOST_REVISION else []
        if not found:
            raise Refusal(_DAMAGED.format(what=f"{pin.sheet}, revision {pin.revision}, is missing"))
        kind, digest, text = found[0]
        if not digest == pin.digest == _digest(text) or kind not in _KINDS:
            raise Refusal(_DAMAGED.format(what=f"{pin.sheet}, revision {pin.revision}, is not as it was compared"))
        sheet = self._text.read(text, _KINDS[kind])
        if (sheet.id, sheet.revision) != (pin.sheet, pin.revision):
            raise Refusal(_DAMAGED.format(what=f"{pin.sheet}, revision {pin.revision}, is another sheet's"))
        return sheet

    def newest(self, sheet_id: str) -> Sheet | None:
        """Return the newest compared revision of a sheet, which is the current one."""
        pins = self.pins(sheet_id)
        return self.pinned(pins[-1]) if pins else None


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8")).hexdigest()
