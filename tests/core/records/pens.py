"""An invented shop whose people sign records with real keys, and the rows that its file would hold."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from hashlib import sha256

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from desktop.core.records.keys.enrolment import person_section, signer_of
from desktop.core.records.record import About, PersonKey, Record, RecordKind, Row, Section, time_text
from desktop.core.records.sealed.envelope import Envelope, Frozen, Signature, freeze
from desktop.core.records.sealed.stored import StoredRow, stored_row
from desktop.core.records.subjects import order_subject, person_subject, sheet_subject, tool_subject
from desktop.core.shop.people.people import Person, Right

SHOP_ID, SHOP_NAME = "c0ffee" * 5, "Mill Shop"
SINCE = date(2030, 1, 1)
BEGAN = datetime(2031, 3, 4, 9, 0, 0, tzinfo=timezone(timedelta(hours=1)))
BETWEEN = timedelta(minutes=7)
"""Between one record and the next; the first is signed so long after ``BEGAN``."""
MEANING = "I did what stands here, and it is as I found and left it."
KEEP = Person("KEEP", "Kit Eeper", (Right.RECORDS,), SINCE)
MECH = Person("MECH", "Mel Chan", (Right.MECHANIC,), SINCE, certificate_number="1234", certificate_kind="mechanic")
INSP = Person("INSP", "Ines Spohr", (Right.INSPECTOR,), SINCE)
AUTH = Person("AUTH", "Ada Uthor", (Right.AUTHORISED, Right.FRONT_DESK), SINCE, certificate_number="77")
PEOPLE = (KEEP, MECH, INSP, AUTH)
GONE = replace(INSP, until=date(2031, 3, 4))
"""The inspector after record 12."""


class RealVerifier:
    """Ed25519 as the library has it (RFC 8032)."""

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:
        try:
            Ed25519PublicKey.from_public_bytes(public_key).verify(signature, message)
        except (InvalidSignature, ValueError):
            return False
        return True


class TrustingVerifier:
    """Believes every signature: the negative control."""

    def verify(self, public_key: bytes, message: bytes, signature: bytes) -> bool:  # noqa: ARG002 - the port's
        return True


class Pen:
    """One person's key; the same name gives the same key."""

    def __init__(self, person: Person, seed: str = "") -> None:
        self.person = person
        self._key = Ed25519PrivateKey.from_private_bytes(sha256(f"{person.id} {seed}".encode()).digest())
        self.public_key = self._key.public_key().public_bytes_raw()

    @property
    def key(self) -> PersonKey:
        return PersonKey(self.person.id, self.public_key.hex())

    def sign(self, frozen: Frozen, meaning: str = MEANING) -> Signature:
        message = frozen.message(self.person.id, self.public_key, meaning)
        return Signature(self.person.id, self.public_key, self._key.sign(message), meaning)


class SignedShop:
    """A shop whose records are signed one after the other; ``pens`` are the keys in use."""

    def __init__(self, shop_id: str = SHOP_ID) -> None:
        self.shop_id = shop_id
        self.envelopes: list[Envelope] = []
        self.records: list[Record] = []
        self.pens = {person.id: Pen(person) for person in PEOPLE}
        self.now = BEGAN

    @property
    def rows(self) -> list[StoredRow]:
        return [stored_row(one) for one in self.envelopes]

    def sign(
        self,
        kind: RecordKind,
        subject: str,
        *pens: str | Pen,
        about: Sequence[int] = (),
        sections: tuple[Section, ...] = (),
        keys: tuple[PersonKey, ...] = (),
        change: Callable[[Record], Record] = lambda record: record,
    ) -> Envelope:
        """Sign a record with some pens, the first one the signer's, and put it at the end."""
        self.now += BETWEEN
        hands = [self.pens[pen] if isinstance(pen, str) else pen for pen in pens]
        signers = [signer_of(hand.person, MEANING) for hand in hands]
        named = tuple(self.envelopes[number - 1].about for number in about)
        record = Record(
            kind,
            self.shop_id,
            SHOP_NAME,
            time_text(self.now),
            subject,
            signers[0],
            named,
            sections,
            keys,
            tuple(signers[1:]),
        )
        record = change(record)
        frozen = freeze(record, self.envelopes[-1] if self.envelopes else None)
        envelope = frozen.sealed([hand.sign(frozen) for hand in hands])
        self.envelopes.append(envelope)
        self.records.append(record)
        return envelope

    def enrol(self, person: Person, *pens: str | Pen, also: tuple[Section, ...] = ()) -> Envelope:
        """Enrol a person with the key of their pen; ``also`` is what the record says besides."""
        return self.sign(
            RecordKind.PERSON_ENROLLED,
            person_subject(person.id),
            *pens,
            sections=(person_section(person), *also),
            keys=(self.pens[person.id].key,),
        )

    def with_people(self, *also: Section) -> "SignedShop":
        """Records 1 to 4: everybody is enrolled."""
        self.enrol(KEEP, "KEEP", also=also)
        for person in PEOPLE[1:]:
            self.enrol(person, "KEEP", person.id)
        return self

    def submit(self, order: int = 1, card: int = 1, *more: Row) -> Envelope:
        rows = (Row("Left magneto, as left", "24.5° BTDC"), Row("Limits", "23 to 25"), Row("Remark", "none"), *more)
        sections = (Section("Readings", rows),)
        return self.sign(RecordKind.CARD_SUBMITTED, order_subject(order, card), "MECH", sections=sections)

    def with_work(self, card: tuple[Row, ...] = (), order: tuple[Row, ...] = ()) -> "SignedShop":
        """Records 5 to 14: a job from the card to the approval, a new key, a withdrawal, a sheet and a tool.

        ``card`` and ``order`` are the rows that bind what is kept of them.
        """
        self.submit(1, 1, *card)
        self.sign(RecordKind.CARD_ACCEPTED, order_subject(1, 1), "INSP", about=(5,))
        entry = (Section("Entry", (Row("Work", "timed both magnetos"), *order)),)
        self.sign(RecordKind.APPROVED, order_subject(1), "AUTH", about=(6,), sections=entry)
        self.sign(RecordKind.CORRECTION, order_subject(1, 1), "MECH", about=(5,))
        new = Pen(MECH, "new")
        self.sign(
            RecordKind.KEY_REPLACED,
            person_subject("MECH"),
            new,
            "KEEP",
            sections=(person_section(MECH),),
            keys=(new.key,),
        )
        self.pens["MECH"] = new
        self.submit(2)
        self.sign(RecordKind.CARD_RETURNED, order_subject(2, 1), "INSP", about=(10,))
        self.sign(
            RecordKind.PERSON_WITHDRAWN, person_subject("INSP"), "KEEP", sections=(person_section(GONE),), about=(3,)
        )
        self.sign(RecordKind.LIMITS_SHEET, sheet_subject("MS-7", "2"), "MECH", "AUTH")
        self.sign(RecordKind.TOOL_RECORD, tool_subject("W-3"), "KEEP")
        return self


def names_of(*numbers: int) -> tuple[About, ...]:
    """Return names of records by a seal that none has."""
    return tuple(About(number, "0" * 64) for number in numbers)
