"""Signed records that were verified before they are printed, each with what corrects it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.chain import ChainWalk, Taken
from desktop.core.records.sealed.record_line import RecordLine, corrections_of
from desktop.core.records.sealed.remedies import CHECK
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.records.sealed.stored import StoredRow


@dataclass(frozen=True, slots=True)
class VerifiedRecord:
    """A record whose whole chain was found sound, with the records that correct it and those that it names.

    ``count`` and ``head`` are those of the shop file when it was verified. Only ``verified_records`` makes one.
    """

    taken: Taken
    count: int
    head: str
    corrected_by: tuple[Taken, ...] = ()
    about: tuple[Taken, ...] = ()

    @property
    def number(self) -> int:
        """The record's number."""
        return self.taken.envelope.number


def verified_records(
    rows: Iterable[StoredRow], shop_id: str, verifies: Verifies, listed: Mapping[int, RecordLine]
) -> tuple[VerifiedRecord, ...]:
    """Walk the whole chain and return its records. Raise Refusal when anything in it is not as it was signed."""
    walk = ChainWalk(shop_id, verifies, listed)
    found = [taken for row in rows if (taken := walk.take(row)) is not None]
    walk.end()
    if walk.problems:
        raise Refusal(
            f"No record is printed while the check finds something wrong: {walk.problems[0].sentence} {CHECK}"
        )
    numbered = {taken.envelope.number: taken for taken in found}
    return tuple(
        VerifiedRecord(
            taken,
            walk.count,
            walk.head,
            _corrections(found, taken),
            tuple(numbered[one.number] for one in taken.record.about),
        )
        for taken in found
    )


def record_numbered(records: Iterable[VerifiedRecord], number: int) -> VerifiedRecord:
    """Return the record with a number. Raise Refusal when there is none."""
    found = next((record for record in records if record.number == number), None)
    if found is None:
        raise Refusal(f"There is no record {number} in this shop file. 'sparkwright verify' says how many there are.")
    return found


def newest_about(records: Iterable[VerifiedRecord], kinds: tuple[RecordKind, ...], order: int) -> VerifiedRecord | None:
    """Return the newest record of one of some kinds about an order or a card of it; None when there is none."""
    about = [one for one in records if one.taken.line.order == order and one.taken.record.kind in kinds]
    return about[-1] if about else None


def _corrections(found: list[Taken], taken: Taken) -> tuple[Taken, ...]:
    """Return what corrects a record, and what corrects one of these: only all of it together says what holds."""
    numbers = set(corrections_of(taken.envelope.number, (one.line for one in found)))
    return tuple(later for later in found if later.envelope.number in numbers)
