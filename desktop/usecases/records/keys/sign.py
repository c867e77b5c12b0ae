"""Signing: a record gets its place, its signatures are made and looked at, and it is kept, all in one transaction."""

from desktop.core.errors import NotReady
from desktop.core.records.keys.enrolment import signer_of
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.records.record import Record, RecordKind, Signer, texts_in, visible
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.envelope import Envelope, Signature, freeze
from desktop.core.records.sealed.signatures import signature_troubles
from desktop.usecases.records.keys.people_ports import SigningWork
from desktop.usecases.records.keys.secrets import Hand
from desktop.usecases.records.keys.signing_desk import (
    SigningDesk,
    people_signed,
    refuse_unsigned_change,
    refuse_without_right,
    signer_at,
)
from desktop.usecases.shop.ports import ShopWork


def signer_for(desk: SigningDesk, work: ShopWork, person_id: str, kind: RecordKind, meaning: str) -> Signer:
    """Return somebody as the signer of a kind of record, with name, certificate and rights as enrolled.

    Raise Refusal when they may not sign it today.
    """
    signing = desk.keys.within(work)
    person, standing = signer_at(desk, work, signing, person_id, desk.shop.clock.now().date())
    refuse_unsigned_change(person, standing)
    refuse_without_right(standing, kind)
    return signer_of(standing.person, meaning)


def sign_with(desk: SigningDesk, work: ShopWork, record: Record, *hands: Hand) -> Envelope:
    """Sign a record, look at the signatures, keep it in the running transaction, and return it as it was read back.

    There is a hand for each of the record's signers, in their order. Raise NotReady when a signer may not sign this, by
    their rights and enrolment on the record's day; nothing is kept then. Several records of one act are signed one
    after the other; ``put_down`` ends the act.
    """
    signing = desk.keys.within(work)
    if [hand.person for hand in hands] != [signer.person for signer in record.signers]:
        raise ValueError("the hands are not those of the people who sign this record")
    if record.shop_id != desk.shop_id:
        raise ValueError("this record is another shop's")
    _refuse_unseen(record)
    _look_at_signers(desk, work, signing, record)
    book = people_signed(desk, signing)
    frozen = freeze(record, signing.last_envelope())
    signatures = [
        Signature(
            signer.person,
            hand.key.public_key,
            hand.key.sign(frozen.message(signer.person, hand.key.public_key, signer.meaning)),
            signer.meaning,
        )
        for signer, hand in zip(record.signers, hands, strict=True)
    ]
    envelope = frozen.sealed(signatures)
    troubles = [*signature_troubles(envelope, record, desk.shop_id, book, desk.verifier)]
    if trouble := book.take(envelope.number, record):
        troubles.append(trouble)
    if troubles:
        raise NotReady([f"This record {trouble}. It was not signed." for trouble in troubles])
    signing.append_record(envelope)
    for hand in hands:
        signing.put_seen(hand.person, hand.seen)
    kept = signing.last_envelope()
    if kept != envelope or read_record(kept.content) != record:
        raise ValueError("what was kept is not what was signed")
    return kept


def _look_at_signers(desk: SigningDesk, work: ShopWork, signing: SigningWork, record: Record) -> None:
    """Raise Refusal unless roster and records agree about everybody who signs, and the first signer may.

    Records about people are left to the rules of the chain: somebody who signs there may not be enrolled yet.
    """
    if record.kind in PEOPLE_KINDS:
        return
    for place, signer in enumerate(record.signers):
        person, standing = signer_at(desk, work, signing, signer.person, desk.shop.clock.now().date())
        refuse_unsigned_change(person, standing)
        if place == 0:
            refuse_without_right(standing, record.kind)


def _refuse_unseen(record: Record) -> None:
    """Raise NotReady for a sign that nobody sees: where it was typed it was to stand as a code."""
    odd = next((text for section in record.sections for text in texts_in(section) if visible(text) != text), None)
    if odd is not None:
        raise NotReady([f"A sign that is not seen stands in what would be signed: {visible(odd)[:80]}. Take it out."])


def put_down(*hands: Hand) -> None:
    """End an act: nothing more is signed with these hands."""
    for hand in hands:
        hand.key.close()
