"""The texts of an export in their forms, as the format note in it says: JSON lines, CSV, the list of hashes."""

import csv
import io
import json
from base64 import b64encode
from collections.abc import Iterable, Iterator, Mapping, Sequence
from importlib.resources import files
from typing import Any

from desktop.core.records.record import is_hex
from desktop.core.records.sealed.canonical import NotARecord, read_record, unframed
from desktop.core.records.sealed.stored import StoredRow, envelope_of

FORM = 1
"""The number of the form of an export."""
HASHES = "SHA256SUMS"
"""The name of the list of hashes."""
FIXED = ("format.txt", "verify_records.py")
"""The files that are the same in every export."""
_COMPUTED = ("=", "+", "-", "@", "\t", "\r")


class ExportJson:
    """Writes JSON lines and CSV."""

    def shop(self, shop_id: str, count: int, head: str, order: int) -> bytes:
        """Return whose records these are, how many the shop holds, its last seal, and of which order they are a part.

        A seal that is none is left out.
        """
        seal = head if is_hex(head) else ""
        return _line({"count": count, "form": FORM, "head": seal, "order": order, "shop_id": shop_id})

    def record(self, row: StoredRow) -> bytes:
        """Return a record as one line; what cannot be read in its row stands there as null."""
        return _line(
            {
                "content": b64encode(row.content).decode(),
                "digest": _shown(row.digest),
                "kind": _shown(row.kind),
                "number": row.number,
                "previous": _shown(row.previous),
                "record": _body(row),
                "signatures": _signatures(row),
            }
        )

    def table(self, rows: Iterable[Sequence[str]]) -> Iterator[bytes]:
        """Yield rows as CSV; a cell that a spreadsheet would compute has an apostrophe before it."""
        for row in rows:
            out = io.StringIO(newline="")
            csv.writer(out, quoting=csv.QUOTE_ALL).writerow([plain_cell(cell) for cell in row])
            yield out.getvalue().encode("utf-8")


def plain_cell(text: str) -> str:
    """Return a cell that no spreadsheet computes."""
    return f"'{text}" if text.startswith(_COMPUTED) else text


def hash_list(hashes: Mapping[str, str]) -> bytes:
    """Return the list of hashes of files by their names, as ``sha256sum -c`` reads it."""
    return "".join(f"{digest}  {name}\n" for name, digest in sorted(hashes.items())).encode("utf-8")


def fixed_files() -> tuple[tuple[str, bytes], ...]:
    """Return the format note and the checking program."""
    place = files("resources").joinpath("export")
    return tuple((name, place.joinpath(name).read_bytes()) for name in FIXED)


def _body(row: StoredRow) -> Any:  # noqa: ANN401 - any JSON
    try:
        read_record(row.content)
    except NotARecord:
        return None
    return json.loads(unframed(row.content)[2])


def _signatures(row: StoredRow) -> list[dict[str, str]] | None:
    try:
        envelope = envelope_of(row)
    except NotARecord:
        return None
    return [
        {
            "meaning": one.meaning,
            "person": one.person,
            "public_key": one.public_key.hex(),
            "signature": one.signature.hex(),
        }
        for one in envelope.signatures
    ]


def _shown(data: bytes) -> str | None:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return None


def _line(table: dict[str, Any]) -> bytes:
    text = json.dumps(table, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return text.encode("utf-8") + b"\n"
