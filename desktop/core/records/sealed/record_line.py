"""A record in one line of the list, and its name in a sentence."""

from dataclasses import dataclass

from desktop.core.records.record import Record
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.records.subjects import place_of


@dataclass(frozen=True, slots=True)
class RecordLine:
    """What the list of records shows of one; ``order`` and ``card`` are 0 for none, ``about`` are record numbers."""

    number: int
    kind: str
    subject: str
    order: int
    card: int
    person: str
    name: str
    at: str
    about: tuple[int, ...]

    @property
    def names(self) -> tuple[str, str, str]:
        """What it is: kind, subject, and who signed."""
        return self.kind, self.subject, self.name


def line_of(envelope: Envelope, record: Record) -> RecordLine:
    """Return a record's line."""
    place = place_of(record.subject)
    return RecordLine(
        envelope.number,
        record.kind.value,
        record.subject,
        place.order,
        place.card,
        record.signer.person,
        record.signer.name,
        record.at,
        tuple(about.number for about in record.about),
    )


def record_name(number: int, names: tuple[str, ...]) -> str:
    """Name a record: ``Record 14, card submitted, order 3 card 2, signed Lena Ode``; by its number when that is all."""
    if not names:
        return f"Record {number}"
    kind, subject, name = names
    return f"Record {number}, {kind}, {subject}, signed {name}"
