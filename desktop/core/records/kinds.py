"""What each kind of record asks for: who may sign it, and which record it answers. All of it as data."""

from dataclasses import dataclass

from desktop.core.records.record import RecordKind
from desktop.core.shop.people.people import Right


@dataclass(frozen=True, slots=True)
class KindRow:
    """A kind: the rights of which its signer holds one, and the kinds of which it answers at least one.

    What it answers is about the same order, and with ``same_card`` about the same card of it.
    """

    kind: RecordKind
    who: tuple[Right, ...]
    answers: tuple[RecordKind, ...] = ()
    same_card: bool = True


_WORK = (Right.MECHANIC, Right.INSPECTOR, Right.AUTHORISED)
_KEEPS = (Right.RECORDS,)
PEOPLE_KINDS = (RecordKind.PERSON_ENROLLED, RecordKind.PERSON_WITHDRAWN, RecordKind.KEY_REPLACED)
"""The kinds that say who people are; any of their signers may be the one with the right."""

ROWS: tuple[KindRow, ...] = (
    KindRow(RecordKind.LIMITS_SHEET, (*_WORK, Right.RECORDS)),
    KindRow(RecordKind.CARD_SUBMITTED, (Right.MECHANIC,)),
    KindRow(RecordKind.CARD_ACCEPTED, (Right.INSPECTOR,), (RecordKind.CARD_SUBMITTED,)),
    KindRow(RecordKind.CARD_RETURNED, (Right.INSPECTOR,), (RecordKind.CARD_SUBMITTED,)),
    KindRow(RecordKind.APPROVED, (Right.AUTHORISED,), (RecordKind.CARD_ACCEPTED,), same_card=False),
    KindRow(RecordKind.NOT_APPROVED, (Right.AUTHORISED,)),
    KindRow(RecordKind.CORRECTION, (*_WORK, Right.RECORDS), tuple(RecordKind), same_card=False),
    KindRow(RecordKind.VOID, (Right.FRONT_DESK, Right.RECORDS)),
    *(KindRow(kind, _KEEPS) for kind in PEOPLE_KINDS),
    KindRow(RecordKind.TOOL_RECORD, _KEEPS),
    KindRow(RecordKind.RESTORE, _KEEPS),
)


def row_of(kind: RecordKind) -> KindRow:
    """Return the row of a kind."""
    return next(row for row in ROWS if row.kind is kind)
