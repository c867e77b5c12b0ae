"""The maintenance entry, proposed from the record. Facts come from the order; the wording is the approver's own."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from desktop.core.records.entry.discrepancy_list import DiscrepancyList, discrepancy_words
from desktop.core.records.entry.entry_parts import (
    ONLY_WORK,
    ONLY_WORK_NOT_APPROVED,
    Approver,
    Entry,
    EntryAircraft,
    EntryFacts,
    EntryKind,
    EntryShop,
    EntryWording,
)
from desktop.core.records.entry.entry_timing import run_up_said, synchronisation_words, timing_facts, worked_cards
from desktop.core.records.entry.entry_wordings import (
    directive_words,
    doer_words,
    extent_words,
    log_words,
    part_words,
    search_words,
    work_words,
)
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.discrepancies import Outcome
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.people.people import Person
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.stamp import Stamp


@dataclass(frozen=True, slots=True)
class EntrySource:
    """What an entry is proposed from.

    ``data`` are documents beside those that were confirmed on the cards. ``inspection_type`` is the type of the
    inspection that the work is a part of, such as 100-hour. ``discrepancies`` is the list of an order not approved.
    """

    order: WorkOrder
    shop: ShopDetails
    people: tuple[Person, ...]
    approver: Person
    approves: bool
    kind: EntryKind = EntryKind.MAINTENANCE
    data: tuple[str, ...] = ()
    inspection_type: str = ""
    discrepancies: DiscrepancyList | None = None


def propose_entry(source: EntrySource) -> Entry:
    """Return the entry as the record proposes it; what the record does not know is empty (see ``missing_elements``)."""
    data = data_of(source.order, source.data)
    return Entry(_facts(source, data), _wording(source, data))


def data_of(order: WorkOrder, more: Iterable[str] = ()) -> tuple[str, ...]:
    """Return each document that was confirmed on the cards of an order, and ``more``, each once, in their order."""
    confirmed = (card.data_confirmed.documents for card in order.cards if card.data_confirmed)
    documents = (text.strip() for texts in (*confirmed, tuple(more)) for text in texts)
    return tuple(dict.fromkeys(text for text in documents if text))


def date_completed(order: WorkOrder) -> date | None:
    """Return the day of the last confirmation or reading on any card; None when nothing was done."""
    last = max(_done(order), key=lambda stamp: stamp.at, default=None)
    return last.at.date() if last else None


def done_by(order: WorkOrder, people: tuple[Person, ...]) -> tuple[str, ...]:
    """Name everybody who did work on the cards, in the order in which they began; a helper with the supervisor."""
    ordered = sorted(_done(order), key=lambda stamp: stamp.at)
    return tuple(dict.fromkeys(doer_words(stamp, people) for stamp in ordered))


def _done(order: WorkOrder) -> Iterator[Stamp]:
    for card in order.cards:
        yield from (done.by for done in (*card.steps, *card.earlier))
        yield from (taken.by for taken in card.taken)


def _facts(source: EntrySource, data: tuple[str, ...]) -> EntryFacts:
    order, people = source.order, source.people
    cards = worked_cards(order)
    return EntryFacts(
        order=order_name(order.number),
        kind=source.kind,
        approves=source.approves,
        shop=_shop(source.shop),
        aircraft=_aircraft(order),
        completed=date_completed(order),
        done_by=done_by(order, people),
        approver=Approver(source.approver.name, source.approver.certificate_number, source.approver.certificate_kind),
        data=data,
        timing=timing_facts(order, cards),
        synchronisation=synchronisation_words(cards),
        run_up=run_up_said(cards),
        parts_off=tuple(part_words(one.part) for one in order.parts if one.part.way is Way.OFF),
        parts_on=tuple(part_words(one.part) for one in order.parts if one.part.way is Way.ON),
        searches=tuple(search_words(one, people) for one in order.searches),
        directives=tuple(directive_words(one) for one in order.directives),
        left_out=tuple(f"{one.side} magneto, left out of this work: {one.reason}" for one in order.left_out),
        deferred=tuple(
            discrepancy_words(one)
            for one in order.discrepancies
            if one.settled and one.settled.outcome is not Outcome.CLOSED
        ),
        discrepancies=None if source.approves else source.discrepancies,
        only_work=ONLY_WORK if source.approves else ONLY_WORK_NOT_APPROVED,
    )


def _shop(shop: ShopDetails) -> EntryShop:
    number = shop.station_certificate.strip() if shop.is_station else ""
    return EntryShop(shop.name.strip(), shop.is_station, number, shop.address.strip())


def _aircraft(order: WorkOrder) -> EntryAircraft:
    aircraft, engine = order.aircraft, order.engine
    intake = order.taken_in.intake if order.taken_in else None
    return EntryAircraft(
        registration=aircraft.registration,
        type=aircraft.type,
        serial=aircraft.serial,
        engine_type=engine.type,
        engine_serial=engine.serial,
        engine_position=engine.position.value,
        log=log_words(order),
        total_time=intake.total_time.strip() if intake else "",
        tachometer=intake.tachometer.strip() if intake else "",
    )


def _wording(source: EntrySource, data: tuple[str, ...]) -> EntryWording:
    work = work_words(source.order, data)
    if source.kind is EntryKind.MAINTENANCE:
        return EntryWording(work)
    return EntryWording(
        work=work,
        inspection_type=source.inspection_type,
        extent=extent_words(source.order),
        statement=source.shop.statement(approves=source.approves),
    )
