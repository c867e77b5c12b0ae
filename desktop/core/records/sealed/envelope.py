"""A sealed record: its bytes, its place in the chain, the signatures, and the seal over all of it.

Parts are framed as ``canonical`` says; hexadecimal digits are small, numbers decimal.

* What a signature signs: ``sparkwright signature 1``, kind, number, seal of the record before (hex), SHA-256 of the
  content (hex), shop id, person, public key (hex), meaning. So a signature holds for one record, in one place of one
  shop's chain, by one person with one key and one meaning, and nowhere else.
* The seal: SHA-256 over ``sparkwright envelope 1``, number, kind, content, seal of the record before (hex), and for
  each signature its person, public key (hex), signature (hex) and meaning.
* The seal before the first record: SHA-256 over ``sparkwright shop 1`` and the shop's id.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from desktop.core.records.record import About, Record
from desktop.core.records.sealed.canonical import canonical_bytes, framed

SHORT = 16
"""Digits of a seal that are shown and read aloud; the whole of it has 64."""


@dataclass(frozen=True, slots=True)
class Signature:
    """One person's signature (Ed25519: a key of 32 bytes, a signature of 64) and what it means."""

    person: str
    public_key: bytes
    signature: bytes
    meaning: str


@dataclass(frozen=True, slots=True)
class Envelope:
    """A sealed record as it is kept; ``previous`` and ``digest`` are seals. The content is stored, never made again."""

    number: int
    kind: str
    content: bytes
    previous: str
    digest: str
    signatures: tuple[Signature, ...]

    @property
    def about(self) -> About:
        """What a later record names this one by."""
        return About(self.number, self.digest)

    def message(self, shop_id: str, one: Signature) -> bytes:
        """Return what one of its signatures signs, in the shop of that id."""
        return signed_message(
            self.kind, self.number, self.previous, self.content, shop_id, one.person, one.public_key, one.meaning
        )


@dataclass(frozen=True, slots=True)
class Frozen:
    """A record that has its place in the chain and waits for its signatures."""

    record: Record
    number: int
    previous: str
    content: bytes

    def message(self, person: str, public_key: bytes, meaning: str) -> bytes:
        """Return what the signature of a person signs."""
        record = self.record
        return signed_message(
            record.kind, self.number, self.previous, self.content, record.shop_id, person, public_key, meaning
        )

    def sealed(self, signatures: Sequence[Signature]) -> Envelope:
        """Return the sealed record. ValueError unless everybody who signs has signed, in the record's order."""
        wanted = [(one.person, one.meaning) for one in self.record.signers]
        if [(one.person, one.meaning) for one in signatures] != wanted:
            raise ValueError("the signatures are not those of the people who sign this record")
        kind, given = self.record.kind.value, tuple(signatures)
        digest = seal_of(self.number, kind, self.content, self.previous, given)
        return Envelope(self.number, kind, self.content, self.previous, digest, given)


def freeze(record: Record, last: Envelope | None) -> Frozen:
    """Give a record its place after the last one of its shop."""
    number = last.number + 1 if last else 1
    return Frozen(record, number, head_of(record.shop_id, last), canonical_bytes(record))


def head_of(shop_id: str, last: Envelope | None) -> str:
    """Return the seal of the last record; of a shop without records the one that its id gives."""
    return last.digest if last else sha256(framed(b"sparkwright shop 1", _bytes(shop_id))).hexdigest()


def seal_of(number: int, kind: str, content: bytes, previous: str, signatures: Sequence[Signature]) -> str:
    """Return the seal over everything that is kept of a record."""
    parts = [b"sparkwright envelope 1", b"%d" % number, _bytes(kind), content, _bytes(previous)]
    for one in signatures:
        parts += [_bytes(one.person), _hex(one.public_key), _hex(one.signature), _bytes(one.meaning)]
    return sha256(framed(*parts)).hexdigest()


def signed_message(
    kind: str,
    number: int,
    previous: str,
    content: bytes,
    shop_id: str,
    person: str,
    public_key: bytes,
    meaning: str,
) -> bytes:
    """Return what one signature signs."""
    return framed(
        b"sparkwright signature 1",
        _bytes(kind),
        b"%d" % number,
        _bytes(previous),
        sha256(content).hexdigest().encode(),
        _bytes(shop_id),
        _bytes(person),
        _hex(public_key),
        _bytes(meaning),
    )


def shown(seal: str) -> str:
    """Return the digits of a seal that people see."""
    return seal[:SHORT]


def _bytes(text: str) -> bytes:
    return text.encode("utf-8")


def _hex(data: bytes) -> bytes:
    return data.hex().encode("ascii")
