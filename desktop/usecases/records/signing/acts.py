"""What people sign about an order: the act, and the record of it exactly as it would be signed now."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from desktop.core.errors import NotReady, Refusal
from desktop.core.records.entry.discrepancy_list import list_of_discrepancies
from desktop.core.records.entry.entry_elements import missing_elements, wording_troubles
from desktop.core.records.entry.entry_parts import Entry, EntryKind, EntryWording, reworded
from desktop.core.records.entry.maintenance_entry import EntrySource, propose_entry
from desktop.core.records.record import About, Record, RecordKind, Section, rows_of, time_text
from desktop.core.records.sealed.canonical import read_record
from desktop.core.records.sealed.draft_seal import seal_row
from desktop.core.records.sealed.envelope import Envelope
from desktop.core.records.subjects import order_subject
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.hands import doers
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_moves import MoveRefusal, move
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.people.people import Person
from desktop.core.shop.reasons import is_reason
from desktop.core.shop.sheets.sheets import sheet_words
from desktop.core.shop.stamp import Stamp
from desktop.usecases.records.keys.sign import signer_for
from desktop.usecases.records.keys.signing_desk import SigningDesk, people_signed
from desktop.usecases.records.sections.card_sections import CardToSay, card_sections
from desktop.usecases.records.sections.entry_sections import entry_sections
from desktop.usecases.records.sections.names import Names
from desktop.usecases.records.sections.order_sections import order_sections
from desktop.usecases.records.signing.ports import SigningWork
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card, order_findings
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.cards.submit_card import refuse_others_work
from desktop.usecases.shop.change import moved, order_in, person_in

MOVES = {
    RecordKind.CARD_SUBMITTED: Move.SUBMIT,
    RecordKind.CARD_ACCEPTED: Move.ACCEPT,
    RecordKind.CARD_RETURNED: Move.RETURN,
    RecordKind.APPROVED: Move.APPROVE,
    RecordKind.NOT_APPROVED: Move.NOT_APPROVE,
    RecordKind.VOID: Move.VOID,
}
MEANINGS = {
    RecordKind.CARD_SUBMITTED: "I performed the work on this card as it is written here, and submit it for inspection.",
    RecordKind.CARD_ACCEPTED: "I inspected the work on this card, read every reading and finding, and accept it.",
    RecordKind.CARD_RETURNED: "I inspected the work on this card, and return it for the reason given.",
    RecordKind.APPROVED: "I approve for return to service, only with respect to the work performed.",
    RecordKind.NOT_APPROVED: "I do not approve for return to service. The list of discrepancies goes to the owner.",
    RecordKind.VOID: "This work order is void for the reason given.",
}
"""What each signature means, in a sentence."""

_OF_CARD = (RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED, RecordKind.CARD_RETURNED)
_ABOUT = {
    RecordKind.CARD_ACCEPTED: RecordKind.CARD_SUBMITTED,
    RecordKind.CARD_RETURNED: RecordKind.CARD_SUBMITTED,
    RecordKind.APPROVED: RecordKind.CARD_ACCEPTED,
}


@dataclass(frozen=True, slots=True)
class Act:
    """Something about an order that somebody signs; ``card`` is 0 for the whole order.

    ``wording`` is the approver's, None for the one that is proposed.
    """

    kind: RecordKind
    order: int
    card: int = 0
    reason: str = ""
    wording: EntryWording | None = None
    entry_kind: EntryKind = EntryKind.MAINTENANCE
    inspection_type: str = ""


@dataclass(frozen=True, slots=True)
class Drafted:
    """An act as it would be signed now: the order before and after it, and the record; the entry of an approval."""

    before: WorkOrder
    after: WorkOrder
    record: Record
    entry: Entry | None = None


def draft_of(desk: SigningDesk, work: SigningWork, person_id: str, act: Act, at: datetime) -> Drafted:
    """Look at everything again and return what would be signed. Raise NotReady with everything that is against it."""
    order = order_in(work, act.order)
    signer = signer_for(desk, work, person_id, act.kind, MEANINGS[act.kind])
    person = person_in(work, person_id)
    by = Stamp(person_id, at, person.supervisor)
    names = Names(work.people(), work.tools())
    looks = _looks(desk, work, order, act, at)
    _refuse_own_work(desk, work, order, act, person, at)
    _refuse_others_work(work, order, act, person)
    found = _findings(desk, work, order, looks, at)
    stops = _stops(act, looks, found)
    after = moved(move(order, MOVES[act.kind], by, card=act.card, reason=act.reason, stops=stops))
    entry = _entry(work, order, act, person, found, at)
    sections = tuple(_sections(work, act, after, looks, names, entry))
    record = Record(
        act.kind,
        desk.shop_id,
        desk.shop_name,
        time_text(at),
        order_subject(act.order, act.card),
        signer,
        _about(work.envelopes_about(act.order), act),
        sections,
    )
    return Drafted(order, after, record, entry)


def _looks(desk: SigningDesk, work: SigningWork, order: WorkOrder, act: Act, at: datetime) -> tuple[CardLook, ...]:
    """Look at the card that the act is about, or at every card of the order."""
    cards = [card for card in order.cards if act.card in (0, card.number)]
    return tuple(look_at_card(desk.shop, work, order, card, at.date()) for card in cards)


def _findings(
    desk: SigningDesk, work: SigningWork, order: WorkOrder, looks: tuple[CardLook, ...], at: datetime
) -> tuple[SaidFinding, ...]:
    of_order = order_findings(desk.shop, work, order, at.date())
    return (*of_order, *(finding for look in looks for finding in look.findings))


def _stops(act: Act, looks: tuple[CardLook, ...], found: tuple[SaidFinding, ...]) -> tuple[MoveRefusal, ...]:
    """Return what stands against an act: returning, not approving and voiding are stopped by nothing that was found."""
    if act.kind not in (RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED, RecordKind.APPROVED):
        return ()
    refusals = [refusal for look in looks for refusal in what_stops(look)]
    if act.kind is not RecordKind.APPROVED:
        return tuple(refusals)
    of_cards = {finding.sentence for look in looks for finding in look.findings}
    refusals += [
        MoveRefusal(finding.sentence, "")
        for finding in found
        if finding.severity == "stops" and finding.sentence not in of_cards
    ]
    if refusals:
        raise NotReady([refusal.words for refusal in refusals])
    return ()


def _refuse_own_work(
    desk: SigningDesk, work: SigningWork, order: WorkOrder, act: Act, person: Person, at: datetime
) -> None:
    """Raise Refusal when somebody accepts their own work; a shop of one person rechecks it, with a reason."""
    card = order.card(act.card)
    if act.kind is not RecordKind.CARD_ACCEPTED or card is None:
        return
    submitted = [one.by.person for one in order.passages if (one.move, one.card) == (Move.SUBMIT, act.card)]
    if person.id not in doers(card) | set(submitted[-1:]):
        return
    here = [one for one in work.people() if one.is_here(at.date())]
    enrolled = people_signed(desk, desk.keys.within(work)).able(at.date(), person.id)
    if len(here) > 1 or enrolled:
        raise Refusal(
            f"{person.name} did work on this card, and nobody inspects their own work. Ask another inspector."
        )
    if not is_reason(act.reason):
        raise Refusal("In a shop of one person you recheck your own work. Write the reason, in a sentence.")


def _refuse_others_work(work: SigningWork, order: WorkOrder, act: Act, person: Person) -> None:
    """Raise Refusal when somebody would sign that they performed work of which none is theirs."""
    card = order.card(act.card)
    if act.kind is RecordKind.CARD_SUBMITTED and card is not None:
        refuse_others_work(work, card, person.id)


def _entry(
    work: SigningWork, order: WorkOrder, act: Act, person: Person, found: tuple[SaidFinding, ...], at: datetime
) -> Entry | None:
    """Return the maintenance entry of an approval. Raise NotReady with each required element that is missing."""
    approves = act.kind is RecordKind.APPROVED
    if not approves and act.kind is not RecordKind.NOT_APPROVED:
        return None
    listed = None if approves else list_of_discrepancies(order, found, at.date(), act.reason)
    entry = propose_entry(
        EntrySource(
            order,
            work.shop_details(),
            work.people(),
            person,
            approves,
            act.entry_kind,
            inspection_type=act.inspection_type,
            discrepancies=listed,
        )
    )
    if act.wording is not None:
        entry = reworded(entry, act.wording)
    lacks = [f"The maintenance entry lacks: {words}. Write it." for words in missing_elements(entry)]
    lacks += wording_troubles(entry.wording)
    if lacks:
        raise NotReady(lacks)
    return entry


def _sections(
    work: SigningWork,
    act: Act,
    after: WorkOrder,
    looks: tuple[CardLook, ...],
    names: Names,
    entry: Entry | None,
) -> Iterator[Section]:
    if act.reason.strip():
        yield Section("Reason", rows_of("Reason", act.reason))
    if entry is not None:
        yield from entry_sections(entry)
        yield from order_sections(after, names)
        yield Section("Check", (seal_row(after),))
    elif act.kind is RecordKind.VOID:
        yield from order_sections(after, names)
        yield Section("Check", (seal_row(after),))
    else:
        card = after.cards[act.card - 1]
        yield from card_sections(said_of(work, after, looks[0], names))
        if act.kind is not RecordKind.CARD_RETURNED:
            yield Section("Check", (seal_row(card),))


def said_of(work: SigningWork, order: WorkOrder, look: CardLook, names: Names) -> CardToSay:
    """Return a card with everything that is said of it."""
    card = order.cards[look.card.number - 1]
    limits = [
        (step.id, allowed.words)
        for step in look.steps
        if (allowed := look.seen.sheets.limit_for(step.limit, step.side)) is not None
    ]
    sheets = tuple(sheet_words(work.pinned_sheet(pin)) for pin in card.sheets)
    return CardToSay(order, card, look.state, look.steps, look.findings, names, tuple(limits), sheets)


def _about(envelopes: tuple[Envelope, ...], act: Act) -> tuple[About, ...]:
    """Return the records that this one answers: the submission of the card, or the acceptance of every card."""
    wanted = _ABOUT.get(act.kind)
    if wanted is None:
        return ()
    subject = order_subject(act.order, act.card) if act.kind in _OF_CARD else ""
    newest: dict[str, About] = {}
    for envelope in envelopes:
        if envelope.kind == wanted.value:
            newest[_subject_of(envelope)] = envelope.about
    if subject:
        return (newest[subject],) if subject in newest else ()
    return tuple(newest.values())


def _subject_of(envelope: Envelope) -> str:
    return read_record(envelope.content).subject
