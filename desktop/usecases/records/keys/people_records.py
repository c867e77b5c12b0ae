"""The records that say who people are: what they hold, what each signature means, and the declaration to print."""

from dataclasses import dataclass
from datetime import datetime

from desktop.core.records.keys.enrolment import key_section, person_in, person_section, signer_of
from desktop.core.records.record import (
    PersonKey,
    Record,
    RecordKind,
    Row,
    Section,
    Signer,
    rows_of,
    time_text,
)
from desktop.core.records.said import said_lines
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.envelope import Envelope, shown
from desktop.core.records.subjects import person_subject
from desktop.core.shop.people.people import Person
from desktop.usecases.records.keys.people_ports import WrappedKey
from desktop.usecases.records.keys.signing_desk import SigningDesk

OWN_KEY = "I chose the secret of this key, only I know it, and what is signed with it is signed by me."
VOUCHES = "I enrol this person with the name, certificate and rights that stand here, which I have checked."
VOUCHES_AGAIN = "I have checked what changed about this person; it stands here as it is now."
WITHDRAWS = "From now on nothing is signed with the key of this person. What they signed before stands."
COUNTERSIGNS = "This person chose a new secret before me. What is signed from now on is signed with the new key."
REPLACES_OWN = "I chose a new secret. What I sign from now on is signed with the new key."
DECLARATION = (
    "I am the person named here. I chose the secret myself and tell it to nobody, also not to a records keeper.",
    "The secret is asked for at every signature. What is signed with it binds me as my handwritten signature does.",
    "When I think that somebody knows it, I tell a records keeper at once and choose another.",
    "Whether an authority accepts such signatures is between the shop and its authority; this paper does not say so.",
)
"""What a person declares in ink when they are enrolled."""


@dataclass(frozen=True, slots=True)
class Declaration:
    """What the paper says that a person signs in ink at their enrolment.

    ``key`` is the public key (64 hexadecimal digits), ``seal`` the first 16 of the record's, ``said`` the whole record
    in lines, ``vouched_by`` the names of the records keepers who signed, none for the first person of a shop.
    """

    shop_name: str
    shop_id: str
    person: Person
    number: int
    at: str
    key: str
    seal: str
    vouched_by: tuple[str, ...]
    statements: tuple[str, ...]
    said: tuple[str, ...]


def declaration_of(envelope: Envelope) -> Declaration | None:
    """Return what the declaration paper of an enrolment says; None for a record that enrols nobody with a key."""
    record = read_record(envelope.content)
    person = person_in(record)
    if record.kind is not RecordKind.PERSON_ENROLLED or person is None or not record.keys:
        return None
    return Declaration(
        record.shop_name,
        record.shop_id,
        person,
        envelope.number,
        record.at,
        record.keys[0].public_key_hex,
        shown(envelope.digest),
        tuple(signer.name for signer in record.signers if signer.person != person.id),
        DECLARATION,
        said_lines(record),
    )


def enrolment(
    desk: SigningDesk,
    at: datetime,
    person: Person,
    key: WrappedKey,
    keeper: Person | None,
    before: tuple[Section, ...] = (),
) -> Record:
    """Return the record that enrols a person with a key; without a keeper, of the first person of a shop.

    ``before`` says of the first one what was done in the shop before anything was signed.
    """
    own = signer_of(person, OWN_KEY)
    signers = (own,) if keeper is None else (signer_of(keeper, VOUCHES), own)
    sections = (person_section(person), key_section(key.check), *before)
    return _record(desk, at, RecordKind.PERSON_ENROLLED, person, signers, sections, _keys(person, key))


def roster_change(desk: SigningDesk, at: datetime, person: Person, keeper: Person) -> Record:
    """Return the record that says what changed on the roster about somebody who keeps their key."""
    signers = (signer_of(keeper, VOUCHES_AGAIN),)
    return _record(desk, at, RecordKind.PERSON_ENROLLED, person, signers, (person_section(person),))


def withdrawal(desk: SigningDesk, at: datetime, person: Person, reason: str, keeper: Person) -> Record:
    """Return the record that withdraws a person as they were enrolled."""
    sections = (person_section(person), Section("Withdrawal", rows_of("Reason", reason)))
    return _record(desk, at, RecordKind.PERSON_WITHDRAWN, person, (signer_of(keeper, WITHDRAWS),), sections)


def replacement(
    desk: SigningDesk, at: datetime, person: Person, old: bytes, new: WrappedKey, keeper: Person | None
) -> Record:
    """Return the record that puts a new key in the place of an old one.

    A records keeper countersigns what the person signs with the new key; without one the person signs with the old key.
    """
    own = signer_of(person, OWN_KEY if keeper else REPLACES_OWN)
    signers = (own,) if keeper is None else (signer_of(keeper, COUNTERSIGNS), own)
    sections = (Section("Replacement", (Row("Key before", old.hex()),)), key_section(new.check))
    return _record(desk, at, RecordKind.KEY_REPLACED, person, signers, sections, _keys(person, new))


def _keys(person: Person, key: WrappedKey) -> tuple[PersonKey, ...]:
    return (PersonKey(person.id, key.public_key.hex()),)


def _record(
    desk: SigningDesk,
    at: datetime,
    kind: RecordKind,
    person: Person,
    signers: tuple[Signer, ...],
    sections: tuple[Section, ...],
    keys: tuple[PersonKey, ...] = (),
) -> Record:
    return Record(
        kind,
        desk.shop_id,
        desk.shop_name,
        time_text(at),
        person_subject(person.id),
        signers[0],
        sections=sections,
        keys=keys,
        countersigners=signers[1:],
    )
