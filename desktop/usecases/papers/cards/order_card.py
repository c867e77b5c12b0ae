"""A task card of an order on paper: empty for the pencil in the hangar, or as it was filled."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.shop.cards.card_scope import AS_LEFT, captures_of, takes_readings, takes_timing
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.usecases.papers.cards.card_end import blank_end, filled_end
from desktop.usecases.papers.cards.card_findings import WAITS, fault_words, finding_blocks, findings_of, returned, stops
from desktop.usecases.papers.cards.card_records import NO_RECORDS, CardRecords, accepted_words, last_move, record_bands
from desktop.usecases.papers.cards.card_step import StepPaper, step_block
from desktop.usecases.papers.cards.found_verdict import found_block
from desktop.usecases.papers.cards.task_card import STOPS, verdict_block
from desktop.usecases.papers.frame import BLANK, cut, document
from desktop.usecases.papers.heading import data_facts
from desktop.usecases.papers.orders.order_head import about_card, board_table, identity, pencil_board
from desktop.usecases.papers.records.record_parts import attached
from desktop.usecases.records.sections.card_sections import CardToSay
from desktop.usecases.records.sections.names import moment_words
from reports.document import (
    Band,
    Block,
    Column,
    Document,
    Fact,
    Facts,
    Heading,
    KeepTogether,
    Paragraph,
    Run,
    Table,
    plain,
)

__all__ = ["WAITS", "CardPaper", "finding_blocks", "now_bands", "order_card_paper"]
SUPERSEDED = "Superseded: a newer revision of a limits sheet stands"
_OVER = (OrderState.APPROVED, OrderState.CLOSED)
_SENT_ON = (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)


@dataclass(frozen=True, slots=True)
class CardPaper:
    """A card with what is said of it, the shop that prints it, and its limits sheets.

    ``records`` are the verified records in which it was signed. ``invented`` says that the data are. ``is_superseded``
    says that a newer sheet stands while the card is worked on, ``revised`` names each that came after its submission.
    """

    said: CardToSay
    shop: str
    sheets: SheetSet
    invented: bool = False
    is_superseded: bool = False
    records: CardRecords = NO_RECORDS
    revised: tuple[str, ...] = ()


def order_card_paper(paper: CardPaper, *, blank: bool) -> Document:
    """Return the card: with boxes for the pencil, or as it was filled with attempts, findings and reasons."""
    said = paper.said
    bands = tuple(_bands(paper, blank=blank))
    about = about_card(paper.shop, said.order, said.card, blank=blank, invented=paper.invented, bands=bands)
    standing = () if blank else paper.records.standing
    return document(
        f"Task card {said.card.task.id}: {said.card.task.title}",
        about,
        tuple(_blocks(paper, blank=blank)),
        subject=f"Task card of order {order_name(said.order.number)}, {'empty' if blank else 'as it was filled'}",
        attachments=tuple(attached(one.taken.envelope) for one in standing),
    )


def now_bands(said: CardToSay) -> tuple[Band, ...]:
    """Say across an empty card that its work is behind it already; it belongs to the print, not to what it says."""
    if said.order.ending in _OVER:
        return (Band(f"The order is {said.order.state}", loud=True),)
    if said.order.ending is None and said.card.state in _SENT_ON:
        return (Band(f"The card is {said.card.state}", loud=True),)
    return ()


def _bands(paper: CardPaper, *, blank: bool) -> Iterator[Band]:
    """Yield what every page says of the card, the gravest first: a head holds six."""
    if blank:
        yield Band(BLANK, loud=True)
    else:
        yield from record_bands(paper.records)
        back = returned(paper.said)
        if back is not None:
            yield Band(cut(f"Returned by the inspector: {back.reason}"), loud=True)
        if stops(paper.said):
            yield Band(STOPS, loud=True)
    if paper.is_superseded:
        yield Band(SUPERSEDED, loud=True)


def _blocks(paper: CardPaper, *, blank: bool) -> Iterator[Block]:
    said = paper.said
    checked, task = said.state.checked, said.card.task
    yield identity(said.order)
    yield from _issue(paper)
    if checked and takes_timing(task):
        yield from data_facts(checked.worked)
    yield plain(task.scheme, quiet=True)
    yield plain(f"Applies to: {task.applies}", quiet=True)
    for board in pencil_board() if blank else (board_table(said.order, said.names),):
        yield KeepTogether((board,))
    limits = dict(said.limits)
    seen = ("", "") if blank else _seen_by(paper)
    for number, step in enumerate(said.steps, 1):
        limit = limits.get(step.id, "")
        yield step_block(StepPaper(said, paper.sheets, str(number), step, limit, blank, *seen))
    if blank:
        yield from blank_end(said)
        return
    yield from _after_the_work(paper)
    yield from filled_end(said, paper.records)


def _seen_by(paper: CardPaper) -> tuple[str, str]:
    """Return the initials of the inspector who accepted the card, and the words of who, when and which record."""
    last = last_move(paper.said.order.passages, paper.said.card.number)
    move = last if last is not None and last.move is Move.ACCEPT else None
    words = accepted_words(paper.records, move, f"{move.by.person}, {moment_words(move.by.at)}" if move else "")
    if paper.records.accepted is not None:
        return paper.records.accepted.taken.record.signer.person, words
    return (move.by.person if move else ""), words


def _issue(paper: CardPaper) -> Iterator[Block]:
    """Say who issued the card to whom, with which limits sheets, and who confirmed that the documents are current."""
    said = paper.said
    card, names = said.card, said.names
    confirmed = card.data_confirmed
    yield Facts(
        (
            Fact("issued by", names.stamp(card.issued), span=2),
            Fact("given to", names.person(card.mechanic) if card.mechanic else None, span=2),
        )
    )
    rows = tuple((pin.place, words, f"rev {pin.revision}") for pin, words in zip(card.sheets, said.sheets, strict=True))
    columns = (Column("for", 0.7), Column("limits sheet, transcribed from a document", 4.6), Column("revision", 0.7))
    if rows:
        yield Table(columns, rows)
    for words in paper.revised:
        yield plain(words, quiet=True)
    if confirmed is None:
        yield Facts(
            (Fact("data: document, number, revision", None, span=2), Fact("current on, confirmed by", None, span=2))
        )
        return
    documents = "; ".join(confirmed.documents)
    yield Paragraph((Run("Confirmed as current: ", bold=True), Run(f"{documents}. By {names.stamp(confirmed.by)}.")))


def _after_the_work(paper: CardPaper) -> Iterator[Block]:
    said = paper.said
    checked, card, names = said.state.checked, said.card, said.names
    if checked and takes_timing(card.task):
        block = verdict_block if captures_of(card.task) & AS_LEFT else found_block
        for result in checked.worked.magnetos:
            if result.judged:
                yield block(checked.worked, result)
    if takes_readings(card.task):
        faults = [fault_words(fault) for fault in said.state.faults]
        if faults:
            yield Heading("Cannot be read, or not filled in yet", 2)
            yield from (plain(text) for text in faults)
    yield from findings_of(said)
    if card.remarks:
        yield Heading("Remarks", 2)
        for remark in card.remarks:
            about = f" (about {remark.about})" if remark.about else ""
            yield Paragraph((Run(remark.text), Run(f"  {names.stamp(remark.by)}{about}", quiet=True)), small=False)
