"""Every paper that an order has, in one order and under stable names: for a folder of papers, and for exports."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.shop.aircraft.parts import Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.kinds import KINDS, Of, PaperKind
from desktop.usecases.papers.orders.release_tag import has_release_tag
from desktop.usecases.records.keys.people_records import declaration_of

OF_AN_ORDER = (*(kind for kind in KINDS if kind.of in (Of.ORDER, Of.CARD)), kinds.RECORD)
"""The kinds of an order's papers; what is signed stands at the end, because there is more and more of it."""
OF_THE_SHOP = (kinds.ORDER_LIST, kinds.DUE, kinds.ROSTER, kinds.TOOL_LIST, kinds.RESTORE)
NO_CARDS = "No card is issued yet. Issue one first."
EMPTY_TAG = "empty, for the pencil"

WhyNot = Callable[[PaperDesk, Asked], str]
"""Says why a paper cannot be made now; empty when it can."""


@dataclass(frozen=True, slots=True)
class PaperThere:
    """A paper that can be asked for: the name of its file, its title, and why it cannot be made yet, if it cannot."""

    file: str
    asked: Asked
    title: str
    reason: str = ""


def papers_of_order(desk: PaperDesk, order: WorkOrder, *, invented: bool = False) -> Iterator[tuple[str, Asked]]:
    """Yield what is asked for with the name of its file, without an ending: ``W-0003-card-2-T4``.

    What the order does not have is left out: no leads without an engine's sheet, no tag without a part that came off.
    """
    name, number = order_name(order.number), order.number

    def asked(kind: PaperKind, card: int = 0, of: str = "") -> Asked:
        return Asked(kind, number, card, of, invented=invented)

    yield f"{name}-{kinds.WORK_ORDER.name}", asked(kinds.WORK_ORDER)
    for card in order.cards:
        begin = f"{name}-card-{card.number:02d}-{_plain(card.task.id)}"
        yield begin, asked(kinds.CARD, card.number)
        yield f"{begin}-blank", asked(kinds.BLANK_CARD, card.number)
    if order.cards:
        yield f"{name}-{kinds.SUMMARY.name}", asked(kinds.SUMMARY)
    yield f"{name}-{kinds.ENTRY.name}", asked(kinds.ENTRY)
    if _is_signed(desk, number):
        yield f"{name}-{kinds.ENTRY_LABELS.name}", asked(kinds.ENTRY_LABELS)
    yield f"{name}-{kinds.DISCREPANCIES.name}", asked(kinds.DISCREPANCIES)
    if any(pin.place == "engine" for card in order.cards for pin in card.sheets):
        yield f"{name}-{kinds.LEADS.name}", asked(kinds.LEADS)
    yield f"{name}-{kinds.TOOLS.name}", asked(kinds.TOOLS)
    if any(moved.part.way is Way.OFF for moved in order.parts):
        yield f"{name}-{kinds.REMOVED_PARTS.name}", asked(kinds.REMOVED_PARTS)
    if has_release_tag(order, desk.shop.jobs):
        yield f"{name}-{kinds.RELEASE_TAG.name}", asked(kinds.RELEASE_TAG)
    yield f"{name}-{kinds.PROPELLER_TAG.name}", asked(kinds.PROPELLER_TAG)
    for line in desk.records().lines():
        if line.order == number:
            kind = _plain(line.kind.replace(" ", "-"))
            yield f"{name}-record-{line.number:04d}-{kind}", asked(kinds.RECORD, of=str(line.number))


def order_papers(desk: PaperDesk, order: WorkOrder, why: WhyNot) -> Iterator[PaperThere]:
    """Yield every paper of an order in the order of the work, also those that cannot be made yet, with the reason."""
    name, number = order_name(order.number), order.number
    there = list(papers_of_order(desk, order))
    named = {asked.kind for _, asked in there}
    there += [(f"{name}-{kind.name}", Asked(kind, number)) for kind in OF_AN_ORDER if kind not in named]
    ranks = {kind: place for place, kind in enumerate(OF_AN_ORDER)}
    ranks[kinds.CARD] = ranks[kinds.BLANK_CARD]  # filled and blank stand together, card by card
    for file, asked in sorted(there, key=lambda one: ranks[one[1].kind]):
        needs_card = not order.cards and (asked.kind.of is Of.CARD or asked.kind is kinds.SUMMARY)
        yield PaperThere(file, asked, _title(desk, order, asked), NO_CARDS if needs_card else why(desk, asked))


def shop_papers(desk: PaperDesk, why: WhyNot) -> Iterator[PaperThere]:
    """Yield the papers that belong to the shop: its lists, each limits sheet, each declaration, the restore."""
    there = [(f"shop-{kind.name}", Asked(kind), kind.title) for kind in OF_THE_SHOP]
    for life in desk.shop.store.sheet_lives():
        of = life.sheet.id
        asked = Asked(kinds.SHEET, of=of)
        there.append((f"shop-{kinds.SHEET.name}-{_plain(of)}", asked, f"{kinds.SHEET.title} {of}"))
    for of in _declared(desk):
        asked = Asked(kinds.DECLARATION, of=of)
        there.append((f"shop-{kinds.DECLARATION.name}-{_plain(of)}", asked, f"{kinds.DECLARATION.title} of {of}"))
    for file, asked, title in there:
        yield PaperThere(file, asked, title, why(desk, asked))


def _declared(desk: PaperDesk) -> tuple[str, ...]:
    """Return who declared to sign, by initials; nobody while the records are not sound, which each paper says."""
    try:
        records = desk.verified()
    except Refusal:
        return ()
    found = (declaration_of(one.taken.envelope) for one in records if one.taken.record.kind in PEOPLE_KINDS)
    return tuple(dict.fromkeys(one.person.id for one in found if one is not None))


def _title(desk: PaperDesk, order: WorkOrder, asked: Asked) -> str:
    kind = asked.kind
    card = order.card(asked.card) if asked.card else None
    if card is not None:
        return f"Card {card.number}: {card.task.title}{', blank' if kind is kinds.BLANK_CARD else ''}"
    if kind is kinds.RECORD and asked.of:
        said = next((line.kind for line in desk.records().lines() if str(line.number) == asked.of), "")
        return f"Record {asked.of}: {said}"
    if kind is kinds.REMOVED_PARTS and not any(moved.part.way is Way.OFF for moved in order.parts):
        return f"{kind.title}, {EMPTY_TAG}"
    return kind.title


def _is_signed(desk: PaperDesk, number: int) -> bool:
    """Tell whether an entry of the order was signed: one that is not may still lack something."""
    return any(
        line.order == number and line.kind in ("approved for return to service", "not approved")
        for line in desk.records().lines()
    )


def _plain(text: str) -> str:
    """Return a text as a part of a file's name."""
    return "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_") else "_" for sign in text)
