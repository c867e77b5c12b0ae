"""Whether a record was signed by the people whom it names, with the keys and rights that they had at that time."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Protocol

from desktop.core.records.keys.enrolment import is_said_of, person_in
from desktop.core.records.keys.key_book import KeyBook, Standing
from desktop.core.records.kinds import PEOPLE_KINDS, row_of
from desktop.core.records.record import Record, RecordKind, Signer
from desktop.core.records.sealed.envelope import Envelope, Signature
from desktop.core.records.subjects import person_named
from desktop.core.shop.people.people import Person, Right


class Verifies(Protocol):
    """Tells whether a signature is of a message and a key (Ed25519)."""

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:
        """Tell whether it is; False too for bytes that are no key or no signature."""
        ...


@dataclass(frozen=True, slots=True)
class _Look:
    """A record whose signatures are looked at, with what is known of people."""

    envelope: Envelope
    record: Record
    shop_id: str
    book: KeyBook
    verifies: Verifies

    @property
    def number(self) -> int:
        return self.envelope.number

    @property
    def day(self) -> date:
        return datetime.fromisoformat(self.record.at).date()

    def is_signed(self, one: Signature) -> bool:
        message = self.envelope.message(self.shop_id, one)
        return self.verifies.verify(one.public_key, message, one.signature)


def signature_troubles(
    envelope: Envelope, record: Record, shop_id: str, book: KeyBook, verifies: Verifies
) -> Iterator[str]:
    """Say what is wrong with the signatures of a record, in words that follow the record's name.

    ``book`` holds what earlier records say of people; what later ones say does not count here.
    """
    pairs = list(zip(envelope.signatures, record.signers, strict=False))
    are_the_named = all((one.person, one.meaning) == (signer.person, signer.meaning) for one, signer in pairs)
    if len(envelope.signatures) != len(record.signers) or not are_the_named:
        yield "is not signed by the people whom it names"
        return
    look = _Look(envelope, record, shop_id, book, verifies)
    for one, signer in pairs:
        yield from _of_one(look, one, signer)
    yield from _of_right(look)


def _of_one(look: _Look, one: Signature, signer: Signer) -> Iterator[str]:
    known = _known(look, one)
    if known is None:
        yield _strange_key(look.number, look.book, one, signer.name)
    elif not is_said_of(known, signer):
        yield f"says of {signer.person} what is not what they were enrolled with: name, certificate or rights"
    elif not known.is_here(look.day):
        yield f"is signed by {signer.name}, who was not with the shop on that day"
    if not look.is_signed(one):
        yield f"does not bear the signature of {signer.name}: what stands here is not what was signed"


def _known(look: _Look, one: Signature) -> Person | None:
    """Return the person whose key signed: by an earlier record, or by this one when it brings the signer's own key."""
    standing = _with_key(look.number, look.book, one)
    if standing is not None:
        return standing.person
    record = look.record
    brings = any(key.person == one.person and key.public_key_hex == one.public_key.hex() for key in record.keys)
    if not brings or record.kind not in PEOPLE_KINDS or person_named(record.subject) != one.person:
        return None
    before = look.book.standing(one.person, look.number)
    return person_in(record) or (before.person if before else None)


def _with_key(number: int, book: KeyBook, one: Signature) -> Standing | None:
    standing = book.standing(one.person, number)
    return standing if standing and standing.public_key and standing.public_key == one.public_key else None


def _strange_key(number: int, book: KeyBook, one: Signature, name: str) -> str:
    ended = book.ended(one.person, one.public_key)
    if ended is not None and ended < number:
        return f"is signed with a key of {name} that record {ended} had ended"
    return f"is signed with a key that was never enrolled for {name}"


def _of_right(look: _Look) -> Iterator[str]:
    """Say when nobody signed who might: the first signer, of records about people any of them."""
    envelope, record = look.envelope, look.record
    kind, rights = record.kind, row_of(record.kind).who
    signatures = envelope.signatures if kind in PEOPLE_KINDS else envelope.signatures[:1]
    standings = [_with_key(look.number, look.book, one) for one in signatures]
    able = [one.person for one in standings if one is not None and one.person.holds_one_of(rights)]
    if envelope.number == 1 and kind is RecordKind.PERSON_ENROLLED:
        # Nobody can enrol the first person of a shop but themselves.
        first = person_in(record)
        able = [first] if first and first.id == record.signer.person and Right.RECORDS in first.rights else []
    if not able:
        yield f"is signed by nobody who had the right of {' or '.join(rights)} at that time"
        return
    named = person_named(record.subject) or ""
    if kind is RecordKind.KEY_REPLACED and all(person.id == named for person in able):
        # Nobody countersigns for themselves, but for the only one who keeps the records there is nobody else.
        others = look.book.keepers(look.day, named, look.number)
        if others:
            yield f"is countersigned by no records keeper, and there was {others[0].name}"
