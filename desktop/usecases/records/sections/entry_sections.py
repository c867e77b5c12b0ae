"""The maintenance entry and the list of discrepancies as sections of a record."""

from collections.abc import Iterator

from desktop.core.records.entry.discrepancy_list import WHOEVER_REFUSED, DiscrepancyList
from desktop.core.records.entry.entry_parts import Entry, EntryAircraft, EntryFacts, EntryShop, EntryWording
from desktop.core.records.record import Row, Section
from desktop.core.words import day_words
from desktop.usecases.records.sections.names import told

APPROVER = "the approver"
"""Where the first entry of a list comes from, in a word."""


def entry_sections(entry: Entry) -> tuple[Section, ...]:
    """Return the whole entry: what it is about, the work in the approver's words, the facts, and who signs for what."""
    facts, wording = entry.facts, entry.wording
    sections = (
        Section("Maintenance entry", (*_what(facts), *_about(facts.aircraft), *_shop(facts.shop))),
        Section("Work", (*_wording(wording), *_work(facts))),
        Section("Timing", tuple(_timing(facts))),
        Section("Parts and directives", tuple(_around(facts))),
        Section("Approval", tuple(_approval(facts, wording))),
    )
    listed = (list_section(facts.discrepancies),) if facts.discrepancies else ()
    return tuple(section for section in (*sections, *listed) if section.rows)


def list_section(listed: DiscrepancyList) -> Section:
    """Return the list of discrepancies that goes to the owner, dated and numbered."""
    rows = [*told("Order", listed.order), *told("Aircraft", listed.aircraft), *told("Engine", listed.engine)]
    rows += told("Dated", day_words(listed.dated))
    for one in listed.entries:
        rows += told(str(one.number), one.text)
        rows += told(f"{one.number}, from", APPROVER if one.source == WHOEVER_REFUSED else one.source)
    return Section("List of discrepancies", tuple(rows))


def _what(facts: EntryFacts) -> Iterator[Row]:
    yield from told("Entry", facts.kind)
    yield from told("Work order", facts.order)
    yield from told("Log", facts.aircraft.log)


def _about(aircraft: EntryAircraft) -> Iterator[Row]:
    yield from told("Aircraft, registration", aircraft.registration)
    yield from told("Aircraft, type", aircraft.type)
    yield from told("Aircraft, serial number", aircraft.serial)
    yield from told("Engine, type", aircraft.engine_type)
    yield from told("Engine, serial number", aircraft.engine_serial)
    yield from told("Engine, position", aircraft.engine_position)
    yield from told("Total time in service, hours", aircraft.total_time)
    yield from told("Tachometer, hours", aircraft.tachometer)


def _shop(shop: EntryShop) -> Iterator[Row]:
    yield from told("Repair station" if shop.is_station else "Shop", shop.name)
    yield from told("Certificate number of the station", shop.station_certificate)
    yield from told("Address", shop.address)


def _wording(wording: EntryWording) -> Iterator[Row]:
    yield from told("Type of the inspection", wording.inspection_type)
    yield from told("Extent of the inspection", wording.extent)
    yield from told("Work performed", wording.work)
    yield from told("Remarks", wording.remarks)


def _work(facts: EntryFacts) -> Iterator[Row]:
    yield from told("Completed on", day_words(facts.completed) if facts.completed else "")
    yield from _each("Done by", facts.done_by)
    yield from _each("Data", facts.data)
    yield from _each("Not part of the work", facts.left_out)
    yield from _each("Discrepancy put off or declined", facts.deferred)


def _timing(facts: EntryFacts) -> Iterator[Row]:
    for fact in facts.timing:
        yield from told("Magneto", fact.magneto)
        yield from told("As found", fact.found)
        yield from told("As left", fact.left)
        yield from told("Limits", fact.limits)
    yield from told("Synchronisation", facts.synchronisation)
    yield from told("Run-up", facts.run_up)


def _around(facts: EntryFacts) -> Iterator[Row]:
    yield from _each("Part off", facts.parts_off)
    yield from _each("Part on", facts.parts_on)
    yield from _each("Directive search", facts.searches)
    yield from _each("Directive complied with", facts.directives)


def _approval(facts: EntryFacts, wording: EntryWording) -> Iterator[Row]:
    yield Row("Approval", "Approved for return to service" if facts.approves else "Not approved for return to service")
    yield from told("Certifying statement", wording.statement)
    if facts.discrepancies:
        dated = day_words(facts.discrepancies.dated)
        yield Row("Discrepancies", f"Listed in the list of discrepancies dated {dated}, which goes to the owner.")
    yield from told("What the signature means", facts.only_work)
    yield from told("Name", facts.approver.name)
    yield from told("Certificate number", facts.approver.certificate_number)
    yield from told("Kind of certificate", facts.approver.certificate_kind)


def _each(label: str, texts: tuple[str, ...]) -> Iterator[Row]:
    for text in texts:
        yield from told(label, text)
