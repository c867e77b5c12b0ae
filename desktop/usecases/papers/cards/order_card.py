"""A task card of an order on paper: empty for the pencil in the hangar, or as it was filled."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding, nothing_stops
from desktop.core.shop.cards.card_scope import takes_readings, takes_timing
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.path_words import path_words
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.usecases.papers.cards.card_step import StepPaper, step_block
from desktop.usecases.papers.cards.task_card import WEIGHT, WORD, verdict_block
from desktop.usecases.papers.frame import BLANK, document
from desktop.usecases.papers.heading import data_facts
from desktop.usecases.papers.orders.order_head import about_card, board_table, identity, pencil_board
from desktop.usecases.records.sections.card_sections import CardToSay
from reports.document import (
    Band,
    Block,
    Column,
    Document,
    Fact,
    Facts,
    Finding,
    Heading,
    KeepTogether,
    Paragraph,
    Run,
    SignatureBox,
    Signatures,
    Table,
    plain,
)

NOT_CHECKED = "These readings are not checked yet. Enter them and check before anybody approves."
WAITS = "initials-missing"
"""The rule about steps that wait for their initials: a card in work has many of them."""
NO_REASON = "Reason: not given yet."
SUPERSEDED = "Superseded: a newer revision of a limits sheet stands"
DONE = "I performed the work on this card as it is written here."
SEEN = "I inspected the work on this card, read every reading and finding, and accept it."
REMARK_LINES = 3


@dataclass(frozen=True, slots=True)
class CardPaper:
    """A card with what is said of it, the shop that prints it, and its limits sheets.

    ``signed`` names the records in which the card was signed, a line each. ``invented`` says that the data are.
    """

    said: CardToSay
    shop: str
    sheets: SheetSet
    invented: bool = False
    is_superseded: bool = False
    signed: tuple[str, ...] = ()


def order_card_paper(paper: CardPaper, *, blank: bool) -> Document:
    """Return the card: with boxes for the pencil, or as it was filled with attempts, findings and reasons."""
    said = paper.said
    bands = [Band(BLANK)] if blank else []
    bands += [Band(SUPERSEDED, loud=True)] if paper.is_superseded else []
    about = about_card(paper.shop, said.order, said.card, blank=blank, invented=paper.invented, bands=tuple(bands))
    return document(
        f"Task card {said.card.task.id}: {said.card.task.title}",
        about,
        tuple(_blocks(paper, blank=blank)),
        subject=f"Task card of order {order_name(said.order.number)}, {'empty' if blank else 'as it was filled'}",
    )


def _blocks(paper: CardPaper, *, blank: bool) -> Iterator[Block]:
    said = paper.said
    checked, task = said.state.checked, said.card.task
    yield identity(said.order)
    yield from _issue(said)
    if checked and takes_timing(task):
        yield from data_facts(checked.worked)
    yield plain(task.scheme, quiet=True)
    yield plain(f"Applies to: {task.applies}", quiet=True)
    yield KeepTogether(pencil_board() if blank else (board_table(said.order, said.names),))
    limits = dict(said.limits)
    for number, step in enumerate(said.steps, 1):
        yield step_block(StepPaper(said, paper.sheets, str(number), step, limits.get(step.id, ""), blank))
    if not blank:
        yield from _after_the_work(paper)
    yield KeepTogether(tuple(_end(paper, blank=blank)))


def _issue(said: CardToSay) -> Iterator[Block]:
    """Say who issued the card to whom, with which limits sheets, and who confirmed that the documents are current."""
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
        for result in checked.worked.magnetos:
            if result.judged:
                yield verdict_block(checked.worked, result)
    if takes_readings(card.task):
        faults = [f"{path_words(fault.where)}, {fault.expected}" for fault in said.state.faults]
        if faults:
            yield Heading("Cannot be read, or not filled in yet", 2)
            yield from (plain(text) for text in faults)
    yield from findings_of(said)
    if card.remarks:
        yield Heading("Remarks", 2)
        for remark in card.remarks:
            about = f" (about {remark.about})" if remark.about else ""
            yield Paragraph((Run(remark.text), Run(f"  {names.stamp(remark.by)}{about}", quiet=True)), small=False)
    moves = [one for one in said.order.passages if one.card == card.number]
    if moves:
        rows = tuple((one.move.value, names.stamp(one.by), one.reason) for one in moves)
        columns = (Column("move", 1.3), Column("by whom and when", 3.0), Column("reason", 2.2))
        yield Table(columns, rows, "The way of the card")
    for words in paper.signed:
        yield plain(words)


def findings_of(said: CardToSay) -> Iterator[Block]:
    """Yield the findings of a card with the reasons that were given; the heading stays with the first."""
    blocks = finding_blocks(said)
    yield KeepTogether((Heading("Findings", 2), plain(_stands(said.findings), bold=True), *blocks[:1]))
    yield from blocks[1:]


def finding_blocks(said: CardToSay) -> list[Finding]:
    """Return the findings of a card; the steps that wait for their initials are named together."""
    numbers = {f"@step.{step.id}": str(number) for number, step in enumerate(said.steps, 1)}
    waiting = [numbers[one.where] for one in said.findings if one.rule == WAITS and one.where in numbers]
    blocks = [finding_block(said, one) for one in said.findings if one.rule != WAITS or one.where not in numbers]
    if waiting:
        steps = f"step {waiting[0]}" if len(waiting) == 1 else f"{len(waiting)} steps: {', '.join(waiting)}"
        blocks.insert(0, Finding("stop", WORD[Severity.STOPS], f"Not confirmed yet: {steps}."))
    return blocks


def finding_block(said: CardToSay, finding: SaidFinding) -> Finding:
    """Return a finding with the reason that somebody gave, and who."""
    key = finding_key(finding.rule, finding.where)
    given = [f"{one.text} ({said.names.stamp(one.by)})" for one in said.card.remarks if one.about == key]
    none = NO_REASON if finding.severity is Severity.EXPLAIN else ""
    reason = f"Reason: {' '.join(given)}" if given else none
    return Finding(
        weight=WEIGHT[finding.severity],
        word=WORD[finding.severity],
        sentence=finding.sentence,
        source=f"{place_words(said, finding.where)}. {finding.source}",
        reason=reason,
    )


def place_words(said: CardToSay, where: str) -> str:
    """Say where on the card a finding belongs: at a step by its number, or at a reading in words."""
    name = where.removeprefix("@step.")
    if name != where:
        numbers = {step.id: number for number, step in enumerate(said.steps, 1)}
        return f"Step {numbers[name]}" if name in numbers else f"Step {name}"
    words = path_words(where)
    return words[:1].upper() + words[1:]


def _stands(findings: tuple[SaidFinding, ...]) -> str:
    if not findings:
        return "Nothing was found. This is no statement of airworthiness."
    if nothing_stops(findings):
        return "Nothing here stops the card. This is no statement of airworthiness."
    return "Not to be approved while something stops."


def _end(paper: CardPaper, *, blank: bool) -> Iterator[Block]:
    """Yield what is signed; how the card stands is above it, so that no signature stands alone on a page."""
    if blank and takes_readings(paper.said.card.task):
        yield plain(NOT_CHECKED, bold=True)
    elif not blank:
        yield plain(
            f"The card is {paper.said.order.state_of(paper.said.card)}. {_stands(paper.said.findings)}", bold=True
        )
    if blank:
        yield Facts(tuple(Fact("remarks and discrepancies", None, span=4) for _ in range(REMARK_LINES)))
    yield Signatures((SignatureBox("Mechanic", DONE), SignatureBox("Inspector", SEEN)))
