"""The maintenance entry as it would print now, whole or not: what is missing, what to look at again, what stops it."""

from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.records.entry.discrepancy_list import list_of_discrepancies
from desktop.core.records.entry.entry_elements import missing_elements, wording_troubles, wording_warnings
from desktop.core.records.entry.entry_parts import Entry, reworded
from desktop.core.records.entry.maintenance_entry import EntrySource, propose_entry
from desktop.core.records.record import RecordKind, Section
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.order import WorkOrder
from desktop.usecases.records.sections.entry_sections import entry_sections
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.shop.cards.card_look import look_at_card, order_findings
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Shop


@dataclass(frozen=True, slots=True)
class EntryLook:
    """An entry as it stands now; ``sections`` are what prints, ``stopping`` the findings against the approval."""

    order: WorkOrder
    entry: Entry
    sections: tuple[Section, ...]
    missing: tuple[str, ...]
    warnings: tuple[str, ...]
    stopping: tuple[SaidFinding, ...]


def look_at_entry(shop: Shop, person_id: str, act: Act) -> EntryLook:
    """Return the entry of an approval, or of an order that is not approved, in the approver's wording if there is one.

    Raise Refusal when there is no such order, or nobody on the roster with these initials.
    """
    order = see_order(shop.store, act.order)
    people = shop.store.people()
    person = next((one for one in people if one.id == person_id), None)
    if person is None:
        raise Refusal(f'"{person_id}" is not on the roster. A records keeper puts people on it.')
    today = shop.clock.now().date()
    found = findings_of(shop, order)
    approves = act.kind is RecordKind.APPROVED
    listed = None if approves else list_of_discrepancies(order, found, today, act.reason)
    source = EntrySource(
        order,
        shop.store.shop_details(),
        people,
        person,
        approves,
        act.entry_kind,
        inspection_type=act.inspection_type,
        discrepancies=listed,
    )
    proposed = propose_entry(source)
    entry = reworded(proposed, act.wording) if act.wording is not None else proposed
    missing = (*missing_elements(entry), *wording_troubles(entry.wording))
    stopping = tuple(dict.fromkeys(one for one in found if one.severity is Severity.STOPS)) if approves else ()
    return EntryLook(order, entry, entry_sections(entry), missing, wording_warnings(entry), stopping)


def findings_of(shop: Shop, order: WorkOrder) -> tuple[SaidFinding, ...]:
    """Return every finding about an order and its cards."""
    today = shop.clock.now().date()
    looks = (look_at_card(shop, shop.store, order, card, today) for card in order.cards)
    of_cards = (finding for look in looks for finding in look.findings)
    return (*order_findings(shop, shop.store, order, today), *of_cards)
