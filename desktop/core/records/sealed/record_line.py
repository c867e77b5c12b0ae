"""A record in one line of the list, and its name in a sentence."""

import json
from collections.abc import Iterable
from dataclasses import dataclass

from desktop.core.records.record import Record, RecordKind
from desktop.core.records.sealed.canonical import NotARecord, unframed
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


def line_in(envelope: Envelope) -> RecordLine:
    """Return a record's line from its bytes, without reading all of it. NotARecord where they are none.

    For the bytes of a record it is the same as ``line_of``. It is for whoever looks for records; what is found is read.
    """
    try:
        body = json.loads(unframed(envelope.content)[-1])
        subject, signer = body["subject"], body["signer"]
        place = place_of(subject)
        return RecordLine(
            envelope.number,
            body["kind"],
            subject,
            place.order,
            place.card,
            signer["person"],
            signer["name"],
            body["at"],
            tuple(about["number"] for about in body["about"]),
        )
    except (ValueError, TypeError, KeyError, IndexError, RecursionError) as trouble:
        raise NotARecord("not the bytes of a record") from trouble


def corrections_of(number: int, lines: Iterable[RecordLine]) -> tuple[int, ...]:
    """Return the numbers of the records that correct one, and of those that correct one of these, the oldest first."""
    found = [number]
    for line in lines:
        if line.kind == RecordKind.CORRECTION and not set(found).isdisjoint(line.about):
            found.append(line.number)
    return tuple(found[1:])


def record_name(number: int, names: tuple[str, ...]) -> str:
    """Name a record: ``Record 14, card submitted, order 3 card 2, signed Lena Ode``; by its number when that is all."""
    if not names:
        return f"Record {number}"
    kind, subject, name = names
    return f"Record {number}, {kind}, {subject}, signed {name}"
