"""The maintenance entry as a value: facts that nobody edits, and the wording that belongs to the approver."""

from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from desktop.core.records.entry.discrepancy_list import DiscrepancyList

ONLY_WORK = "The signature approves this aircraft for return to service only with respect to the work performed."
"""14 CFR 43.9, as told in FAA-H-8083-30B p. 2-16."""
ONLY_WORK_NOT_APPROVED = (
    "The signature speaks only of the work of this order. It approves nothing for return to service."
)


class EntryKind(StrEnum):
    """What an entry is by the rules: maintenance (14 CFR 43.9), or a part of an inspection (14 CFR 43.11)."""

    MAINTENANCE = "maintenance"
    INSPECTION = "part of an inspection"


@dataclass(frozen=True, slots=True)
class TimingFact:
    """One magneto: which one, its timing as found and as left in crankshaft degrees, and the limits; all in words."""

    magneto: str
    found: str
    left: str
    limits: str


@dataclass(frozen=True, slots=True)
class EntryShop:
    """Whose record it is; a station has a certificate number, an independent mechanic none."""

    name: str
    is_station: bool
    station_certificate: str
    address: str


@dataclass(frozen=True, slots=True)
class EntryAircraft:
    """What the record is about, in which log it belongs, and the hours as they were written at the intake."""

    registration: str
    type: str
    serial: str
    engine_type: str
    engine_serial: str
    engine_position: str
    log: str
    total_time: str
    tachometer: str


@dataclass(frozen=True, slots=True)
class Approver:
    """Who approves or does not approve: name, number and kind of certificate."""

    name: str
    certificate_number: str
    certificate_kind: str


@dataclass(frozen=True, slots=True)
class EntryFacts:
    """What the record says by itself. Each text is a whole line; an empty tuple means that there was nothing.

    ``done_by`` names everybody who did the work. ``data`` are documents with their revisions. ``deferred`` are the
    discrepancies that the customer put off or declined. ``discrepancies`` is the list of an order not approved.
    """

    order: str
    kind: EntryKind
    approves: bool
    shop: EntryShop
    aircraft: EntryAircraft
    completed: date | None
    done_by: tuple[str, ...]
    approver: Approver
    data: tuple[str, ...]
    timing: tuple[TimingFact, ...] = ()
    synchronisation: str = ""
    run_up: str = ""
    parts_off: tuple[str, ...] = ()
    parts_on: tuple[str, ...] = ()
    searches: tuple[str, ...] = ()
    directives: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    deferred: tuple[str, ...] = ()
    discrepancies: DiscrepancyList | None = None
    only_work: str = ONLY_WORK


@dataclass(frozen=True, slots=True)
class EntryWording:
    """What the approver may edit before signing. The last three but remarks belong to an inspection only.

    ``statement`` is the certifying statement of 14 CFR 43.11, for airworthy or for not airworthy.
    """

    work: str
    inspection_type: str = ""
    extent: str = ""
    statement: str = ""
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """A maintenance entry as it would be signed now."""

    facts: EntryFacts
    wording: EntryWording


def reworded(entry: Entry, wording: EntryWording) -> Entry:
    """Return the entry with the approver's wording; the facts stay."""
    return replace(entry, wording=wording)
