"""The record of a restore: signed by a records keeper into the file that is put in the shop file's place."""

from desktop.core.errors import Refusal
from desktop.core.records.record import Record, RecordKind, Row, Section, rows_of, time_text
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.shop.people.people import Person
from desktop.core.shop.people.secrets import joined
from desktop.usecases.records.copies.copy_ports import PreparedCopy
from desktop.usecases.records.keys.secrets import hand_of, refuse_no_keeper
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from desktop.usecases.records.keys.signing_desk import SigningDesk, keepers, key_of, people_signed, signer_at

RESTORES = "I put this copy in the place of the shop's file, which is kept aside."
SUBJECT = "the shop file"


def keeper_of(desk: SigningDesk, named: str = "") -> Person:
    """Return the records keeper who signs: the one who is named, or the only one there is.

    Raise Refusal when nobody can sign, or several can and none is named.
    """
    with desk.shop.store.changing() as work:
        signing = desk.keys.within(work)
        day = desk.shop.clock.now().date()
        if named:
            person, standing = signer_at(desk, work, signing, named, day)
            refuse_no_keeper(person, standing)
            return person
        found = keepers(people_signed(desk, signing), day)
    if not found:
        raise Refusal(
            "No records keeper is enrolled in this copy, so nobody can sign that it was restored. Nothing in it is "
            "signed yet: put it under a new name yourself, and open that."
        )
    if len(found) > 1:
        raise Refusal(f"Say which records keeper signs the restore: {', '.join(f'--by {one.id}' for one in found)}.")
    return found[0]


def sign_restore(desk: SigningDesk, keeper_id: str, secret: str, prepared: PreparedCopy, lacks: str) -> Envelope:
    """Sign, at the end of the copy's own records, that it was restored, by whom, and what it lacks; return the record.

    Raise Refusal when the secret does not open the key of this records keeper; the try is counted.
    """
    _take_tries_over(desk, keeper_id)
    hand = hand_of(desk, keeper_id, secret)
    try:
        with desk.shop.store.changing() as work:
            signer = signer_for(desk, work, keeper_id, RecordKind.RESTORE, RESTORES)
            at = time_text(desk.shop.clock.now())
            record = Record(
                RecordKind.RESTORE, desk.shop_id, desk.shop_name, at, SUBJECT, signer, sections=_said(prepared, lacks)
            )
            return sign_with(desk, work, record, hand)
    finally:
        put_down(hand)


def _take_tries_over(desk: SigningDesk, keeper_id: str) -> None:
    """Let the copy tell of the tries that this machine has seen.

    A copy is older by nature, and one in which a wrong secret was tried is thrown away: it is no sign that somebody set
    the count back. The larger count counts as ever.
    """
    with desk.shop.store.changing() as work:
        signing = desk.keys.within(work)
        _, standing = signer_at(desk, work, signing, keeper_id, desk.shop.clock.now().date())
        key = key_of(signing, standing)
        here = desk.keys.counted_here(key.public_key)
        if here is not None:
            signing.put_tries(key.public_key, joined(signing.tries(key.public_key), here))


def _said(prepared: PreparedCopy, lacks: str) -> tuple[Section, ...]:
    before = prepared.present.chain if prepared.present else None
    rows = (
        *rows_of("Copy made", prepared.made_at or "", blank="not known: it bears no seal of a copy"),
        Row("Records in the copy", str(prepared.holds.chain.records)),
        Row("Record seal of the copy", prepared.holds.chain.seal),
        Row("Records in the file before", str(before.records) if before else "not known"),
        Row("Record seal of the file before", before.seal if before else "not known"),
        *rows_of("The copy", lacks),
    )
    return (Section("Restore", rows),)
