"""The people of a shop and what each may do. Rights are separate; one person may hold several."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from desktop.core.timing.faults import Fault


class Right(StrEnum):
    """What a person may do in the shop.

    An inspector is not by that alone authorised to approve. A helper has no certificate and works under a supervisor.
    """

    FRONT_DESK = "front desk"
    MECHANIC = "mechanic"
    INSPECTOR = "inspector"
    AUTHORISED = "authorised person"
    RECORDS = "records keeper"
    HELPER = "helper"


@dataclass(frozen=True, slots=True)
class Person:
    """One person of the shop; ``id`` is what stands as initials, ``until`` the last day with the shop.

    ``supervisor`` is the id of the person under whom a helper works, ``changed`` the day on which the shop last wrote
    something new about the person; None in files from before that day was kept.
    """

    id: str
    name: str
    rights: tuple[Right, ...]
    since: date
    until: date | None = None
    certificate_number: str = ""
    certificate_kind: str = ""
    ratings: str = ""
    supervisor: str = ""
    version: int = 1
    changed: date | None = None

    def is_here(self, day: date) -> bool:
        """Tell whether the person belongs to the shop on a day."""
        return self.since <= day and (self.until is None or day <= self.until)

    def holds_one_of(self, rights: Sequence[Right]) -> bool:
        """Tell whether the person holds at least one of these rights."""
        return any(right in self.rights for right in rights)


def person_troubles(person: Person) -> tuple[str, ...]:
    """Say what keeps a person from being put on the roster, each with what to do."""
    return tuple(fault.expected for fault in person_faults(person))


def person_faults(person: Person) -> tuple[Fault, ...]:
    """Return what keeps a person from being put on the roster, each at its field with a sentence that says what to do.

    A fault at ``rights`` is about all of them, one at ``rights.helper`` about the helper's beside others.
    """
    helps = Right.HELPER in person.rights
    signs = person.holds_one_of((Right.MECHANIC, Right.INSPECTOR, Right.AUTHORISED))
    faults = (
        (not person.id.strip(), "id", "The person has no initials. Write those by which the shop knows them."),
        (not person.name.strip(), "name", "The person has no name. Write it as it stands on the certificate."),
        (not person.rights, "rights", "The person has no right. Give at least one."),
        (
            helps and signs,
            "rights.helper",
            "A helper has no certificate to sign with. Take away the helper's right, or the others.",
        ),
        (
            helps and not person.supervisor.strip(),
            "supervisor",
            "A helper works under somebody. Name the supervisor.",
        ),
        (person.supervisor == person.id != "", "supervisor", "Nobody supervises themselves. Name another supervisor."),
        (
            person.until is not None and person.until < person.since,
            "until",
            "The last day lies before the first. Check both.",
        ),
    )
    return tuple(Fault(where, sentence) for is_so, where, sentence in faults if is_so)
