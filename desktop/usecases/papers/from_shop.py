"""Papers of an open shop: each kind gathered from what the shop keeps, and put on paper as a value."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from desktop.core.errors import Refusal
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.visits import history_of
from desktop.core.shop.sheets.sheet_life import is_superseded
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.cards.card_gathering import card_of, card_paper, refuse_without_steps
from desktop.usecases.papers.cards.leads_paper import leads_paper
from desktop.usecases.papers.cards.order_card import now_bands, order_card_paper
from desktop.usecases.papers.cards.summary import summary_paper
from desktop.usecases.papers.cards.tools_paper import tools_paper
from desktop.usecases.papers.entry.entry_gathering import APPROVALS, discrepancies, entry, labels
from desktop.usecases.papers.frame import About, Printing, stamped
from desktop.usecases.papers.kinds import PaperKind
from desktop.usecases.papers.orders.order_head import about_order, board_bands, twin_bands
from desktop.usecases.papers.orders.release_tag import release_tag_paper
from desktop.usecases.papers.orders.tags_paper import propeller_tag_paper, removed_parts_paper, stamped_tags
from desktop.usecases.papers.orders.work_order import work_order_paper
from desktop.usecases.papers.records.corrected import about_order as about_order_of
from desktop.usecases.papers.records.corrected import about_people, with_corrections
from desktop.usecases.papers.records.record_paper import record_paper
from desktop.usecases.papers.records.record_parts import qr_content, seal_lines
from desktop.usecases.papers.records.unaltered import unaltered_order
from desktop.usecases.papers.records.verified import VerifiedRecord, newest_about, record_numbered
from desktop.usecases.papers.shop.declaration_paper import declaration_paper
from desktop.usecases.papers.shop.drift_paper import drift_paper
from desktop.usecases.papers.shop.due_paper import due_paper
from desktop.usecases.papers.shop.list_paper import ListOnScreen, order_list, screen_list, tool_list
from desktop.usecases.papers.shop.restore_paper import restore_paper
from desktop.usecases.papers.shop.roster_paper import roster_paper
from desktop.usecases.papers.shop.sheet_paper import sheet_print
from desktop.usecases.records.keys.people_records import declaration_of
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.cards.card_look import order_findings
from desktop.usecases.shop.lists.look_back import coming, visits_back
from desktop.usecases.shop.lists.look_up import MOST_LINES, look_up, see_order
from desktop.usecases.shop.lists.sheets import see_sheet
from reports.document import Document, Paper

Maker = Callable[[PaperDesk, Asked, Printing], Paper]


def paper_of(desk: PaperDesk, asked: Asked, printed: str) -> Paper:
    """Return a paper as a value, with its check code. Raise Refusal when what it is about is not there."""
    asked = replace(asked, invented=asked.invented or desk.invented)
    return MAKERS[asked.kind](desk, asked, desk.printing(printed, asked))


def list_on_screen(desk: PaperDesk, shown: ListOnScreen, printed: str) -> Paper:
    """Return a list as it stands on screen, as a paper of the shop."""
    return screen_list(shown, About(desk.name, invented=desk.invented), desk.printing(printed, Asked(kinds.ORDER_LIST)))


def why_not(desk: PaperDesk, asked: Asked) -> str:
    """Say why a paper cannot be made now; empty when it can."""
    try:
        paper_of(desk, asked, "")
    except Refusal as refusal:
        return refusal.sentence
    return ""


def names_in(desk: PaperDesk, order: WorkOrder | None = None) -> Names:
    """Return the people and tools by whose names papers go.

    On an order that ended, tools go without the day until which they are calibrated today: it was another one then.
    """
    tools = desk.shop.store.tools()
    if order is not None and order.ending is not None:
        tools = tuple(replace(tool, due=None) for tool in tools)
    return Names(desk.shop.store.people(), tools)


def is_invented(desk: PaperDesk, order: WorkOrder, asked: Asked) -> bool:
    """Tell whether the data of an order are invented: the whole shop's, or a limits sheet of one of its cards."""
    pins = dict.fromkeys(pin for card in order.cards for pin in card.sheets)
    return asked.invented or any(desk.shop.store.pinned_sheet(pin).invented for pin in pins)


def _today(desk: PaperDesk) -> date:
    return desk.shop.clock.now().date()


def _work_order(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = unaltered_order(desk, asked.order)
    invented = is_invented(desk, order, asked)
    paper = work_order_paper(desk.name, order, names_in(desk), invented=invented)
    return stamped(with_corrections(paper, about_order_of(desk.verified(), order.number)), printing)


def _card(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = unaltered_order(desk, asked.order)
    card = card_of(order, asked.card)
    records = () if asked.kind is kinds.BLANK_CARD else desk.verified()
    paper = card_paper(desk, order, card, names_in(desk, order), records, invented=is_invented(desk, order, asked))
    refuse_without_steps(paper)
    if asked.kind is not kinds.BLANK_CARD:
        filled, standing = order_card_paper(paper, blank=False), paper.records.standing
        if not standing:
            return stamped(filled, printing)
        newest = standing[-1]
        return stamped(filled, printing, qr_content(desk.shop_id, newest), seal_lines(desk.shop_id, newest))
    # How the aircraft stands changes while the card is out: it belongs to the print, and not to what is signed.
    return stamped(order_card_paper(paper, blank=True), printing, now=(*now_bands(paper.said), *board_bands(order)))


def _record(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    records = desk.verified()
    if asked.of:
        if not (asked.of.isascii() and asked.of.isdigit() and len(asked.of) < 10):  # noqa: PLR2004 - more than any shop signs
            raise Refusal(f'"{asked.of}" is no record number. Write it as it stands on the paper, such as 12.')
        one = record_numbered(records, int(asked.of))
    else:
        one = _newest(records, asked)
    return record_paper(one, printing, invented=_record_invented(desk, one, asked))


def _record_invented(desk: PaperDesk, one: VerifiedRecord, asked: Asked) -> bool:
    order = desk.shop.store.order(one.taken.line.order) if one.taken.line.order else None
    return asked.invented or (order is not None and is_invented(desk, order, asked))


def _newest(records: tuple[VerifiedRecord, ...], asked: Asked) -> VerifiedRecord:
    about = [one for one in records if one.taken.line.order == asked.order and asked.card in (0, one.taken.line.card)]
    if not about:
        raise Refusal(f"Nothing is signed yet about {order_name(asked.order)}. Print the card or the entry for ink.")
    return about[-1]


def _summary(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = unaltered_order(desk, asked.order)
    names = names_in(desk, order)
    invented = is_invented(desk, order, asked)
    cards = [card_paper(desk, order, card, names, invented=invented) for card in order.cards]
    found = order_findings(desk.shop, desk.shop.store, order, _today(desk))
    paper = summary_paper(desk.name, order, cards, found, names, invented=invented)
    return stamped(with_corrections(paper, about_order_of(desk.verified(), order.number)), printing)


def _leads(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = see_order(desk.shop.store, asked.order)
    invented = is_invented(desk, order, asked)
    for card in reversed(order.cards):
        engine = card_paper(desk, order, card, names_in(desk), invented=invented).sheets.engine
        if engine is not None:
            about = about_order(desk.name, order, invented=invented, bands=twin_bands(order))
            return stamped(leads_paper(engine, about), printing)
    raise Refusal("No card of this order was issued with the engine's limits sheet, so its firing order is not known.")


def _tools(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = see_order(desk.shop.store, asked.order)
    paper = tools_paper(
        desk.name, order, desk.shop.store.tools(), _today(desk), invented=is_invented(desk, order, asked)
    )
    return stamped(paper, printing)


def _tag(make: Callable[..., Document]) -> Maker:
    def tag(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
        order = see_order(desk.shop.store, asked.order)
        invented = is_invented(desk, order, asked)
        return stamped_tags(make(desk.name, order, names_in(desk), invented=invented), printing)

    return tag


def _release_tag(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    order = unaltered_order(desk, asked.order)
    signed = newest_about(desk.verified(), APPROVALS, order.number)
    details, invented = desk.shop.store.shop_details(), is_invented(desk, order, asked)
    paper = release_tag_paper(details, order, names_in(desk), desk.shop.jobs, signed, invented=invented)
    return stamped_tags(paper, printing)


def _due(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    lines = coming(desk.shop.store, _today(desk))
    return stamped(due_paper(lines, About(desk.name, invented=asked.invented)), printing)


def _drift(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    if not asked.of.strip():
        raise Refusal("Name the magneto by its serial number.")
    visits = [one for one in visits_back(desk.shop.store, desk.shop.rulebook, asked.of) if one is not None]
    history = history_of(asked.of.strip(), visits)
    newest = desk.shop.store.order(history.visits[-1].order) if history.visits else None
    return stamped(drift_paper(history, About(desk.name, who=asked.of, invented=asked.invented), newest), printing)


def _roster(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    store = desk.shop.store
    details = store.shop_details()
    station = details.station_certificate if details.is_station else ""
    about = About(desk.name, invented=asked.invented)
    paper = roster_paper(store.people(), station, _today(desk), about)
    return stamped(with_corrections(paper, about_people(desk.verified())), printing)


def _sheet(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    store = desk.shop.store
    life = see_sheet(store, asked.of)
    pins = store.sheet_pins(asked.of)
    newer = max((pin.revision for pin in pins if is_superseded(pins[0], pins)), default=0)
    superseded = newer if newer > life.sheet.revision else 0
    about = About(desk.name, invented=asked.invented)
    return sheet_print(life, names_in(desk), about, desk.verified(), printing, superseded_by=superseded)


def _declaration(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    for one in reversed(desk.verified()):
        if one.taken.record.kind not in PEOPLE_KINDS:
            continue
        declared = declaration_of(one.taken.envelope)
        if declared is not None and declared.person.id == asked.of:
            return declaration_paper(declared, one, printing, invented=asked.invented)
    raise Refusal(f'"{asked.of}" was not enrolled to sign. Name somebody by the initials, or enrol them first.')


def _restore(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    place = desk.shop.store.settings().backup_place
    return stamped(restore_paper(About(desk.name, invented=asked.invented), place, printing), printing)


def _order_list(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    lines = look_up(desk.shop.store, asked.of, limit=MOST_LINES)
    said = f'Those in which "{asked.of}" is found, the newest first.' if asked.of else "The newest first."
    said += f" The newest {MOST_LINES} only." if len(lines) == MOST_LINES else ""
    empty = f'Nothing found: no work order has "{asked.of}".' if asked.of else "There is no work order."
    return stamped(order_list(lines, About(desk.name, invented=asked.invented), asked=said, empty=empty), printing)


def _tool_list(desk: PaperDesk, asked: Asked, printing: Printing) -> Paper:
    today = _today(desk)
    tools = [(tool, tool.is_out_of_date(today)) for tool in desk.shop.store.tools()]
    return stamped(tool_list(tools, About(desk.name, invented=asked.invented)), printing)


MAKERS: Mapping[PaperKind, Maker] = {
    kinds.WORK_ORDER: _work_order,
    kinds.BLANK_CARD: _card,
    kinds.CARD: _card,
    kinds.RECORD: _record,
    kinds.SUMMARY: _summary,
    kinds.ENTRY: entry,
    kinds.ENTRY_LABELS: labels,
    kinds.DISCREPANCIES: discrepancies,
    kinds.LEADS: _leads,
    kinds.TOOLS: _tools,
    kinds.REMOVED_PARTS: _tag(removed_parts_paper),
    kinds.RELEASE_TAG: _release_tag,
    kinds.PROPELLER_TAG: _tag(propeller_tag_paper),
    kinds.DUE: _due,
    kinds.DRIFT: _drift,
    kinds.ROSTER: _roster,
    kinds.SHEET: _sheet,
    kinds.DECLARATION: _declaration,
    kinds.RESTORE: _restore,
    kinds.ORDER_LIST: _order_list,
    kinds.TOOL_LIST: _tool_list,
}
"""How each kind is made."""
