"""A row of the shop file as it stands there, and the sealed record that it is: nothing is taken on trust.

Signatures are kept as framed text: person, public key (hex), signature (hex) and meaning of each, one after the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from desktop.core.records.record import is_hex
from desktop.core.records.sealed.canonical import NotARecord, framed, unframed
from desktop.core.records.sealed.envelope import Envelope, Signature

_PARTS = 4


@dataclass(frozen=True, slots=True)
class StoredRow:
    """The columns of one row, texts as the bytes that stand in the file; anything at all may stand in them."""

    number: int
    kind: bytes
    content: bytes
    previous: bytes
    digest: bytes
    signatures: bytes


def stored_row(envelope: Envelope) -> StoredRow:
    """Return the row of a sealed record."""
    return StoredRow(
        envelope.number,
        envelope.kind.encode(),
        envelope.content,
        envelope.previous.encode(),
        envelope.digest.encode(),
        signature_text(envelope.signatures).encode(),
    )


def envelope_of(row: StoredRow) -> Envelope:
    """Return the sealed record of a row. NotARecord when the columns cannot be one; its seal is not looked at here."""
    try:
        kind, previous, digest = row.kind.decode(), row.previous.decode(), row.digest.decode()
        signatures = _signatures(row.signatures)
    except NotARecord:
        raise
    except ValueError as trouble:
        raise NotARecord("a column that is no text") from trouble
    if not is_hex(previous) or not is_hex(digest):
        raise NotARecord("a seal that is none")
    return Envelope(row.number, kind, row.content, previous, digest, signatures)


def signature_text(signatures: Sequence[Signature]) -> str:
    """Return the text in which signatures are kept."""
    parts = [
        part.encode()
        for one in signatures
        for part in (one.person, one.public_key.hex(), one.signature.hex(), one.meaning)
    ]
    return framed(*parts).decode()


def _signatures(data: bytes) -> tuple[Signature, ...]:
    parts = [part.decode() for part in unframed(data)]
    if not parts or len(parts) % _PARTS:
        raise NotARecord("signatures that are not whole")
    found = tuple(
        Signature(parts[at], bytes.fromhex(parts[at + 1]), bytes.fromhex(parts[at + 2]), parts[at + 3])
        for at in range(0, len(parts), _PARTS)
    )
    if signature_text(found).encode() != data:
        raise NotARecord("signatures in another form")
    return found
