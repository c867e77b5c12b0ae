"""A person of the roster as a section of a record, and back: name, certificate and rights as they were."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from desktop.core.records.record import Record, Row, Section, Signer, visible
from desktop.core.shop.people.people import Person, Right

TITLE = "Person"
_TEXTS = (
    ("Initials", "id"),
    ("Name", "name"),
    ("Certificate number", "certificate_number"),
    ("Certificate kind", "certificate_kind"),
    ("Ratings", "ratings"),
    ("Supervisor", "supervisor"),
)
_RIGHT, _SINCE, _UNTIL = "Right", "With the shop since", "With the shop until"
KEY_TITLE, KEY_CHECK = "Key", "Check of the key as kept"


def person_section(person: Person) -> Section:
    """Return everything that the roster says of a person; what is empty is left out."""
    return Section(TITLE, tuple(_rows(person)))


def signer_of(person: Person, meaning: str) -> Signer:
    """Return a person as a signer, as they are on the roster; ``meaning`` says in a sentence what they sign."""
    return Signer(
        visible(person.id),
        visible(person.name),
        visible(person.certificate_number),
        visible(person.certificate_kind),
        tuple(right.value for right in person.rights),
        meaning,
    )


def is_said_of(person: Person, signer: Signer) -> bool:
    """Tell whether a record says of a signer what they were enrolled with: name, certificate and rights."""
    seen = replace(
        signer,
        person=visible(signer.person),
        name=visible(signer.name),
        certificate_number=visible(signer.certificate_number),
        certificate_kind=visible(signer.certificate_kind),
    )
    return signer_of(person, signer.meaning) == seen


def key_section(check: str) -> Section:
    """Return what a record says of the key that it brings: the check of the key as it is kept under its secret."""
    return Section(KEY_TITLE, (Row(KEY_CHECK, check),))


def key_check_in(record: Record) -> str:
    """Return that check; empty in a record that does not say it."""
    section = record.section(KEY_TITLE)
    return next((row.text for row in section.rows if row.label == KEY_CHECK), "") if section else ""


def person_in(record: Record) -> Person | None:
    """Return the person whom a record puts on the roster; None when it has no such section or one that is not whole."""
    section = record.section(TITLE)
    if section is None:
        return None
    said = {row.label: row.text for row in section.rows}
    until = said.get(_UNTIL)
    try:
        person = Person(
            id=said.get("Initials", ""),
            name=said.get("Name", ""),
            rights=tuple(Right(row.text) for row in section.rows if row.label == _RIGHT),
            since=date.fromisoformat(said.get(_SINCE, "")),
            until=date.fromisoformat(until) if until else None,
            certificate_number=said.get("Certificate number", ""),
            certificate_kind=said.get("Certificate kind", ""),
            ratings=said.get("Ratings", ""),
            supervisor=said.get("Supervisor", ""),
        )
    except ValueError:
        return None
    seen = Section(TITLE, tuple(Row(row.label, visible(row.text)) for row in section.rows))
    return person if person_section(person) == seen else None


def _rows(person: Person) -> Iterator[Row]:
    for label, name in _TEXTS:
        if text := visible(getattr(person, name)):
            yield Row(label, text)
    for right in person.rights:
        yield Row(_RIGHT, right.value)
    yield Row(_SINCE, person.since.isoformat())
    if person.until is not None:
        yield Row(_UNTIL, person.until.isoformat())
