"""Whether a record was signed by the people whom it names, with the keys and rights that they had at that time."""

from collections.abc import Iterator
from datetime import datetime
from typing import Protocol

from desktop.core.records.keys.enrolment import person_in, signer_of
from desktop.core.records.keys.key_book import KeyBook, Standing
from desktop.core.records.kinds import PEOPLE_KINDS, row_of
from desktop.core.records.record import Record, RecordKind, Signer
from desktop.core.records.sealed.envelope import Envelope, Signature, signed_message
from desktop.core.records.subjects import person_named
from desktop.core.shop.people.people import Person, Right


class Verifies(Protocol):
    """Tells whether a signature is of a message and a key (Ed25519)."""

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:
        """Tell whether it is; False too for bytes that are no key or no signature."""
        ...


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
    for one, signer in pairs:
        yield from _of_one(envelope, record, shop_id, book, verifies, one, signer)
    if not _has_right(envelope, record, book):
        rights = " or ".join(row_of(record.kind).who)
        yield f"is signed by nobody who had the right of {rights} at that time"


def _of_one(
    envelope: Envelope,
    record: Record,
    shop_id: str,
    book: KeyBook,
    verifies: Verifies,
    one: Signature,
    signer: Signer,
) -> Iterator[str]:
    known = _known(envelope, record, book, one)
    if known is None:
        yield _strange_key(envelope.number, book, one, signer.name)
    elif signer_of(known, signer.meaning) != signer:
        yield f"says of {signer.person} what is not what they were enrolled with: name, certificate or rights"
    elif not known.is_here(datetime.fromisoformat(record.at).date()):
        yield f"is signed by {signer.name}, who was not with the shop on that day"
    message = signed_message(
        envelope.kind,
        envelope.number,
        envelope.previous,
        envelope.content,
        shop_id,
        one.person,
        one.public_key,
        one.meaning,
    )
    if not verifies.verify(one.public_key, message, one.signature):
        yield f"does not bear the signature of {signer.name}: what stands here is not what was signed"


def _known(envelope: Envelope, record: Record, book: KeyBook, one: Signature) -> Person | None:
    """Return the person whose key signed: by an earlier record, or by this one when it brings the signer's own key."""
    standing = _with_key(envelope.number, book, one)
    if standing is not None:
        return standing.person
    brings = any(key.person == one.person and key.public_key_hex == one.public_key.hex() for key in record.keys)
    if not brings or record.kind not in PEOPLE_KINDS or person_named(record.subject) != one.person:
        return None
    before = book.standing(one.person, envelope.number)
    return person_in(record) or (before.person if before else None)


def _with_key(number: int, book: KeyBook, one: Signature) -> Standing | None:
    standing = book.standing(one.person, number)
    return standing if standing and standing.public_key and standing.public_key == one.public_key else None


def _strange_key(number: int, book: KeyBook, one: Signature, name: str) -> str:
    ended = book.ended(one.person, one.public_key)
    if ended is not None and ended < number:
        return f"is signed with a key of {name} that record {ended} had ended"
    return f"is signed with a key that was never enrolled for {name}"


def _has_right(envelope: Envelope, record: Record, book: KeyBook) -> bool:
    """Tell whether somebody signed who might: the first signer, of records about people any of them."""
    if envelope.number == 1 and record.kind is RecordKind.PERSON_ENROLLED:
        # Nobody can enrol the first person of a shop but themselves.
        first = person_in(record)
        return first is not None and first.id == record.signer.person and Right.RECORDS in first.rights
    signatures = envelope.signatures if record.kind in PEOPLE_KINDS else envelope.signatures[:1]
    for one in signatures:
        standing = _with_key(envelope.number, book, one)
        if standing is None:
            continue
        own = person_named(record.subject) == one.person
        # Nobody countersigns for themselves, but who still has the old key may put a new one in its place.
        if record.kind is RecordKind.KEY_REPLACED and own:
            return True
        if standing.person.holds_one_of(row_of(record.kind).who):
            return True
    return False
