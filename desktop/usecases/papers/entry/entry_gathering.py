"""The maintenance entry and the list of discrepancies, from the newest signed record or as they would be proposed."""

from collections.abc import Iterator
from dataclasses import replace

from desktop.core.records.entry.discrepancy_list import SAID_BY_ITSELF, WHOEVER_REFUSED, list_of_discrepancies
from desktop.core.records.entry.entry_elements import missing_elements
from desktop.core.records.entry.maintenance_entry import EntrySource, propose_entry
from desktop.core.records.record import RecordKind
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.people.people import Person, Right
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.cards.order_card import WAITS
from desktop.usecases.papers.entry.discrepancy_paper import OF_THE_AIRCRAFT, discrepancy_paper, signed_discrepancy_paper
from desktop.usecases.papers.entry.entry_labels import entry_labels, label_size
from desktop.usecases.papers.entry.entry_paper import EntryPaper, entry_of, entry_paper
from desktop.usecases.papers.frame import About, Printing, stamped
from desktop.usecases.papers.orders.order_head import about_order, twin_bands
from desktop.usecases.papers.records.verified import newest_about
from desktop.usecases.records.sections.entry_sections import APPROVER, entry_sections
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.cards.card_look import look_at_card, order_findings
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Paper

LIST = "List of discrepancies"
APPROVALS = (RecordKind.APPROVED, RecordKind.NOT_APPROVED)


def entry(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    """Return the maintenance entry as a page."""
    order = see_order(desk.shop.store, asked.order)
    return entry_paper(_entry(desk, order, asked), _about(desk, order, asked), printing)


def labels(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    """Return the maintenance entry on labels. Raise Refusal, before anything is drawn, when it does not fit."""
    order = see_order(desk.shop.store, asked.order)
    about = _about(desk, order, asked)
    size = label_size(asked.label, desk.paper_size)
    heading = (desk.name, f"{order.aircraft.registration}, order {order_name(order.number)}")
    return entry_labels(
        _entry(desk, order, asked), heading, size, asked.start, desk.over, printing, invented=about.invented
    )


def discrepancies(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    """Return the list of discrepancies as it was signed, or as it is today while nothing is signed."""
    order = see_order(desk.shop.store, asked.order)
    about = _about(desk, order, asked)
    signed = newest_about(desk.verified(), APPROVALS, order.number)
    section = signed.taken.record.section(LIST) if signed else None
    if signed is not None and section is not None:
        return signed_discrepancy_paper(section, signed, about, printing)
    found = _found(desk, order)
    refused = next((one for one in reversed(order.passages) if one.move is Move.NOT_APPROVE), None)
    waiting = sum(one.rule == WAITS for one in found)
    said = [one for one in found if one.rule in OF_THE_AIRCRAFT]
    own = {
        one.sentence
        for one in found
        if one.severity is Severity.STOPS and one.rule not in {WAITS, *OF_THE_AIRCRAFT, *SAID_BY_ITSELF}
    }
    today = desk.shop.clock.now().date()
    listed = list_of_discrepancies(order, said, today, refused.reason if refused else "")
    places = {one.sentence: f"{_place(one.where)}. {one.source}" for one in said} | {WHOEVER_REFUSED: APPROVER}
    entries = tuple(
        replace(one, source=places.get(one.text, places.get(one.source, one.source))) for one in listed.entries
    )
    listed = replace(listed, entries=entries)
    is_void = order.ending is OrderState.VOID
    return stamped(discrepancy_paper(listed, about, waiting, len(own), is_void=is_void), printing)


def _place(where: str) -> str:
    """Say where a finding belongs."""
    if where.startswith("@safe"):
        return "Safe-state board"
    words = path_words(where.removeprefix("@"))
    return words[:1].upper() + words[1:]


def _entry(desk: PaperDesk, order: WorkOrder, asked: Asked) -> EntryPaper:
    """Return the entry of the newest record in which the order was approved or not, else the one that is proposed."""
    signed = newest_about(desk.verified(), APPROVALS, order.number)
    if signed is not None:
        return entry_of(signed)
    store = desk.shop.store
    people = store.people()
    refused = any(one.move is Move.NOT_APPROVE for one in order.passages)
    listed = list_of_discrepancies(order, (), desk.shop.clock.now().date()) if refused else None
    proposed = propose_entry(
        EntrySource(
            order, store.shop_details(), people, _approver(desk, people, asked), not refused, discrepancies=listed
        )
    )
    against = () if refused else tuple(_against(desk, order))
    return EntryPaper(entry_sections(proposed), not refused, None, missing_elements(proposed), against)


def _against(desk: PaperDesk, order: WorkOrder) -> Iterator[str]:
    """Yield what stands against the approval: a card that is not accepted, and every finding that stops."""
    if order.state not in (OrderState.ACCEPTED, OrderState.APPROVED, OrderState.CLOSED):
        yield f"The order is {order.state}: its cards are not all accepted."
    said = [one.sentence for one in _found(desk, order) if one.severity is Severity.STOPS and one.rule != WAITS]
    yield from dict.fromkeys(said)


def _found(desk: PaperDesk, order: WorkOrder) -> list[SaidFinding]:
    """Return the findings of an order and of all its cards."""
    shop, today = desk.shop, desk.shop.clock.now().date()
    found = list(order_findings(shop, shop.store, order, today))
    for card in order.cards:
        found += look_at_card(shop, shop.store, order, card, today).findings
    return found


def _approver(desk: PaperDesk, people: tuple[Person, ...], asked: Asked) -> Person:
    """Return who would approve: the person who was named, the only one who may, or nobody, for the pen."""
    today = desk.shop.clock.now().date()
    able = [one for one in people if Right.AUTHORISED in one.rights and one.is_here(today)]
    named = [one for one in able if one.id == asked.of] or (able if len(able) == 1 else [])
    return named[0] if named else Person("", "", (), today)


def _about(desk: PaperDesk, order: WorkOrder, asked: Asked) -> About:
    pins = dict.fromkeys(pin for card in order.cards for pin in card.sheets)
    invented = asked.invented or any(desk.shop.store.pinned_sheet(pin).invented for pin in pins)
    names = Names(desk.shop.store.people())
    return about_order(desk.name, order, invented=invented, bands=twin_bands(order), names=names)
