r"""The one form of a record in bytes, so exact that a stranger can read and check it without this program.

A part is written as its length in bytes (decimal digits, no leading zero), a colon, the bytes themselves, and a comma::

    5:hello,

A record is three parts, one after the other and nothing behind them:

1. ``sparkwright record 1`` - the number is that of this form;
2. the kind of the record, in UTF-8;
3. the body: a JSON object in UTF-8 without a byte-order mark, its keys sorted by code point at every level, no space
   between its signs, ``"`` and ``\`` escaped with a ``\`` and no other sign escaped (no text holds a control sign).

The body has the keys ``about`` (list of objects with ``digest`` and ``number``), ``at``, ``countersigners`` (list of
signers), ``keys`` (list of ``person`` and ``public_key_hex``), ``kind``, ``sections`` (list of ``rows``, each ``label``
and ``text``, and ``title``), ``shop_id``, ``shop_name``, ``signer`` (``certificate_kind``, ``certificate_number``,
``meaning``, ``name``, ``person``, ``rights``) and ``subject``. ``number`` is an integer without a sign; everything else
is text in Unicode's form NFC. Readings, limits and units are text: there are no fractions or exponents.
"""

import json
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any

from desktop.core.records.record import About, PersonKey, Record, RecordKind, Row, Section, Signer

FORM = b"sparkwright record 1"
MOST_BYTES = 1_000_000
"""Most bytes of one record."""
_LENGTH_DIGITS = 7
_COLON, _COMMA = b":", b","
MOST_READ = 64
"""Records that are kept read."""


class NotARecord(ValueError):  # noqa: N818 - what the bytes are, not an error of the program
    """Bytes that this program would not have written for any record."""


def canonical_bytes(record: Record) -> bytes:
    """Return the bytes of a record. ValueError when they are more than a record may hold."""
    body = json.dumps(_table(record), sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    content = framed(FORM, record.kind.encode(), body.encode())
    if len(content) > MOST_BYTES:
        raise ValueError(f"a record of {len(content)} bytes; {MOST_BYTES} is the most")
    return content


@lru_cache(MOST_READ)
def read_record(content: bytes) -> Record:
    """Return the record of some bytes. NotARecord for anything that ``canonical_bytes`` would not write.

    The same bytes are the same record, so one that was read is kept for a while: each signature reads many.
    """
    if len(content) > MOST_BYTES:
        raise NotARecord("too long")
    try:
        _, _, body = unframed(content)
        record = _record(json.loads(body.decode()))
        same = canonical_bytes(record) == content
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as trouble:
        raise NotARecord("not the bytes of a record") from trouble
    if not same:
        raise NotARecord("not the one form of this record")
    return record


def framed(*parts: bytes) -> bytes:
    """Return parts with their lengths, so that no two lists of parts give the same bytes."""
    return b"".join(b"%d:%b," % (len(part), part) for part in parts)


def unframed(data: bytes) -> tuple[bytes, ...]:
    """Return the parts of framed bytes. NotARecord for bytes that are not framed exactly so."""
    parts: list[bytes] = []
    at = 0
    while at < len(data):
        colon = data.find(_COLON, at, at + _LENGTH_DIGITS + 1)
        digits = data[at:colon]
        if colon < 0 or not digits.isdigit() or digits != b"%d" % int(digits):
            raise NotARecord("no length")
        end = colon + 1 + int(digits)
        if data[end : end + 1] != _COMMA:
            raise NotARecord("not as long as it says")
        parts.append(data[colon + 1 : end])
        at = end + 1
    return tuple(parts)


def _table(value: Any) -> Any:  # noqa: ANN401 - any part of a record
    if isinstance(value, tuple):
        return [_table(entry) for entry in value]
    if is_dataclass(value):
        return {one.name: _table(getattr(value, one.name)) for one in fields(value)}
    return value


def _record(body: dict[str, Any]) -> Record:
    return Record(
        **{
            **body,
            "kind": RecordKind(body["kind"]),
            "signer": _signer(body["signer"]),
            "about": tuple(About(**one) for one in body["about"]),
            "sections": tuple(
                Section(one["title"], tuple(Row(**row) for row in one["rows"])) for one in body["sections"]
            ),
            "keys": tuple(PersonKey(**one) for one in body["keys"]),
            "countersigners": tuple(_signer(one) for one in body["countersigners"]),
        }
    )


def _signer(table: dict[str, Any]) -> Signer:
    return Signer(**{**table, "rights": tuple(table["rights"])})
