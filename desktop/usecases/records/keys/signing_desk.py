"""Where signing is done: the shop with its keys, and who may sign there on a day."""

from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date

from desktop.core.errors import Refusal
from desktop.core.records.keys.enrolment import person_section
from desktop.core.records.keys.key_book import KeyBook, Standing
from desktop.core.records.kinds import row_of
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.people_walk import people_in_records
from desktop.core.records.sealed.remedies import RESTORE
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.shop.people.people import Person
from desktop.usecases.records.keys.people_ports import (
    FOR_PEOPLE,
    KeyStore,
    Locksmith,
    SigningWork,
    Strength,
    WrappedKey,
)
from desktop.usecases.shop.change import person_in
from desktop.usecases.shop.ports import Shop, ShopWork


@dataclass(frozen=True, slots=True)
class SigningDesk:
    """What every signing verb works with; ``bad_choices`` are tried first by others, new keys have ``strength``."""

    shop: Shop
    shop_id: str
    shop_name: str
    keys: KeyStore
    locksmith: Locksmith
    verifier: Verifies
    bad_choices: AbstractSet[str]
    strength: Strength = FOR_PEOPLE


def people_signed(desk: SigningDesk, work: SigningWork) -> KeyBook:
    """Return who everybody is by the signed records, every signature looked at, and never by a list.

    Raise Refusal when one of those cannot be believed.
    """
    return people_in_records(work.envelopes_about_people(), desk.shop_id, desk.verifier)


def enrolled_as(desk: SigningDesk, person_id: str) -> Standing | None:
    """Return the enrolment of somebody who has a key that is not withdrawn; None for anybody else."""
    with desk.shop.store.changing() as work:
        standing = people_signed(desk, desk.keys.within(work)).standing(person_id)
    return standing if standing is not None and standing.public_key and not standing.is_withdrawn else None


def standing_in(book: KeyBook, person: Person) -> Standing:
    """Return the enrolment of somebody who can sign. Raise Refusal for one who never was or no longer is enrolled."""
    standing = book.standing(person.id)
    if standing is None:
        raise Refusal(f"{person.name} is not enrolled to sign. A records keeper enrols people.")
    if standing.is_withdrawn or not standing.public_key:
        raise Refusal(f"{person.name} was withdrawn and signs no more. A records keeper can enrol them again.")
    return standing


def signer_at(
    desk: SigningDesk, work: ShopWork, signing: SigningWork, person_id: str, day: date
) -> tuple[Person, Standing]:
    """Return somebody who can sign on a day, as on the roster and as enrolled. Raise Refusal when they cannot."""
    person = person_in(work, person_id)
    standing = standing_in(people_signed(desk, signing), person)
    for one in (person, standing.person):
        if not one.is_here(day):
            raise Refusal(f"{one.name} is not with the shop on {day.isoformat()} and cannot sign.")
    return person, standing


def key_of(signing: SigningWork, standing: Standing) -> WrappedKey:
    """Return the key by which the records know a person. Raise Refusal when another one stands in its place."""
    key = signing.key(standing.person.id)
    if key is None or key.public_key != standing.public_key:
        raise Refusal(
            f"The key that is kept for {standing.person.name} is not the one in the signed records: somebody put "
            f"another in its place. Tell a records keeper. {RESTORE}"
        )
    if standing.key_check and key.check != standing.key_check:
        raise Refusal(
            f"The key that is kept for {standing.person.name} was changed since it was enrolled, and no secret opens "
            f"it as it stands. The secret was not looked at, and no try was counted. Tell a records keeper. {RESTORE}"
        )
    return key


def refuse_unsigned_change(person: Person, standing: Standing) -> None:
    """Raise Refusal when the roster says of a signer something else than what a records keeper signed."""
    if person_section(person) != person_section(standing.person):
        raise Refusal(
            f"What the roster says of {person.name} was changed since a records keeper signed it. A records keeper "
            "signs the change first."
        )


def refuse_without_right(standing: Standing, kind: RecordKind) -> None:
    """Raise Refusal for the first signer of a kind of record who holds none of the rights that it takes."""
    rights = row_of(kind).who
    if not standing.person.holds_one_of(rights):
        raise Refusal(f"{standing.person.name} may not sign this: {kind}. It takes the right of {' or '.join(rights)}.")


def keepers(book: KeyBook, day: date, *, besides: str = "") -> tuple[Person, ...]:
    """Return the records keepers who can sign on a day, without one person."""
    return book.keepers(day, besides)
