"""The cards of an order for the inspector: what is out of limits, what was explained, what was taken again."""

from collections.abc import Iterator, Sequence

from desktop.core import typed_text
from desktop.core.records.entry.entry_wordings import run_up_words
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.card_scope import RUN_UP, captures_of, takes_timing
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.sheets.sheet_limits import Range
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees
from desktop.core.words import is_good, sync_words, timing_words, verdict_words
from desktop.usecases.papers.cards.card_findings import WAITS, finding_blocks
from desktop.usecases.papers.cards.order_card import CardPaper
from desktop.usecases.papers.frame import document
from desktop.usecases.papers.orders.order_head import about_order, board_bands, board_table, identity, twin_bands
from desktop.usecases.records.sections.names import Names
from reports.document import (
    Block,
    Column,
    Document,
    Heading,
    KeepTogether,
    Result,
    Table,
    plain,
)
from reports.document_text import EmptyState

OUT, WITHIN = "● OUT OF LIMITS", "✓ within"
EXPLAINED, OPEN, REPEATED = "◐ explained", "? reason missing", "→ taken again"
NOTHING = "Nothing out of limits, nothing explained, nothing taken again."
NOT_KNOWN = "Not begun: the way of measuring or other data are missing from which its steps follow."
KEY = f"Marks: {OUT}  ·  {EXPLAINED} or {OPEN}  ·  {REPEATED}  ·  {WITHIN}"


def summary_paper(
    shop: str,
    order: WorkOrder,
    cards: Sequence[CardPaper],
    found: tuple[SaidFinding, ...],
    names: Names,
    *,
    invented: bool = False,
) -> Document:
    """Return all cards of an order in short; ``found`` are the findings of the order as a whole."""
    about = about_order(shop, order, invented=invented, bands=(*twin_bands(order), *board_bands(order)))
    return document(
        f"Summary of {order_name(order.number)} for the inspector",
        about,
        tuple(_blocks(order, cards, found, names)),
        subject="The cards of a work order in short",
    )


def _blocks(
    order: WorkOrder, cards: Sequence[CardPaper], found: tuple[SaidFinding, ...], names: Names
) -> Iterator[Block]:
    yield identity(order)
    yield plain(KEY, quiet=True)
    yield plain(
        "This is no record and nothing is signed on it: the cards themselves are read before they are accepted."
    )
    yield Table(
        (
            Column("card", 0.5, numbers=True),
            Column("what", 2.6),
            Column("state", 1.1),
            Column("steps done", 0.9),
            Column("to do", 0.5, numbers=True),
            Column("stops", 0.5, numbers=True),
            Column("reasons missing", 0.8, numbers=True),
            Column("taken again", 0.8, numbers=True),
        ),
        tuple(_row(order, one) for one in cards),
        "Cards",
        "No card was issued yet.",
    )
    if found:
        yield Heading("About the order as a whole", 2)
        for finding in found:
            yield plain(f"{_mark(finding)}  {finding.sentence}")
    for one in cards:
        yield from _card(one)
    yield KeepTogether((Heading("Safe-state board", 2), board_table(order, names)))


def _row(order: WorkOrder, paper: CardPaper) -> tuple[str, ...]:
    said = paper.said
    asked = [step for step in said.steps if step.initials]
    done = [step for step in asked if said.card.done(step.id)]
    return (
        str(said.card.number),
        f"{said.card.task.title} ({said.card.task.id})",
        order.state_of(said.card).value,
        f"{len(done)} of {len(asked)}" if said.steps else "not known yet",
        str(sum(finding.rule == WAITS for finding in said.findings)),
        str(sum(finding.severity is Severity.STOPS and finding.rule != WAITS for finding in said.findings)),
        str(sum(finding.severity is Severity.EXPLAIN and not _explained(paper, finding) for finding in said.findings)),
        str(len(said.card.earlier) + len(_void_attempts(paper))),
    )


def _card(paper: CardPaper) -> Iterator[Block]:
    said = paper.said
    title = f"Card {said.card.number}: {said.card.task.title}"
    checked = said.state.checked
    blocks: list[Block] = []
    if checked and takes_timing(said.card.task):
        blocks += [_verdict(checked.worked, result) for result in checked.worked.magnetos if result.judged]
        if words := sync_words(checked.worked):
            blocks.append(plain(f"Synchronisation: {words}"))
    if checked and checked.worked.card.run_up and checked.worked.run_up and RUN_UP in captures_of(said.card.task):
        blocks.append(plain(f"Run-up: {run_up_words(checked.worked.card.run_up, checked.worked.run_up)}"))
    rows = tuple(_readings(paper))
    if rows:
        columns = (Column("step", 0.5), Column("reading", 2.6), Column("limits", 2.0), Column("mark", 1.6))
        blocks.append(Table(columns, rows))
    blocks += [plain(text) for text in _void_attempts(paper)]
    blocks += [plain(text) for text in _taken_again(paper)]
    blocks += finding_blocks(said)
    blocks += [plain(f"Remark: {one.text} ({said.names.stamp(one.by)})") for one in said.card.remarks if not one.about]
    if not blocks:
        blocks = [EmptyState(NOTHING if said.steps else NOT_KNOWN)]
    yield KeepTogether((Heading(title, 2), blocks[0]))
    yield from blocks[1:]


def _verdict(worked: Worked, result: MagnetoResult) -> Result:
    side = result.magneto.side.capitalize()
    timing = timing_words(worked.card, result.timing, result.magneto.nominal) if result.timing else ""
    found = result.found_timing
    before = f"As found {degrees(found.btdc)} BTDC." if found else ""
    lines = tuple(plain(text) for text in (timing, before) if text)
    return Result(f"{side} magneto. {verdict_words(result)}", "closed" if is_good(result.verdict) else "crossed", lines)


def _readings(paper: CardPaper) -> Iterator[tuple[str, ...]]:
    """Yield each reading of a step with its limits and its mark."""
    said = paper.said
    limits = dict(said.limits)
    for number, step in enumerate(said.steps, 1):
        done = said.card.done(step.id)
        if step.capture != "reading" or done is None or done.skipped:
            continue
        allowed = paper.sheets.limit_for(step.limit, step.side)
        unit = step.unit or (allowed.unit if allowed else "")
        what = f"{(step.limit or step.instruction).capitalize()}{f', {step.side}' if step.side else ''}"
        mark = _limit_mark(done.text, allowed)
        yield str(number), f"{what}: {done.text} {unit}".rstrip(), limits.get(step.id, ""), mark


def _limit_mark(text: str, allowed: Range | None) -> str:
    value = typed_text.number(typed_text.tidied(text))
    if value is None or allowed is None:
        return "no limit here" if allowed is None else "cannot be read"
    return WITHIN if allowed.holds(value) else OUT


def _taken_again(paper: CardPaper) -> Iterator[str]:
    said = paper.said
    numbers = {step.id: f"Step {number}" for number, step in enumerate(said.steps, 1)}
    for done in said.card.earlier:
        text = done.text or "confirmed"
        yield f"{REPEATED}  {numbers.get(done.step, done.step)}: before it was {text} ({said.names.stamp(done.by)})"


def _void_attempts(paper: CardPaper) -> list[str]:
    """Say each approach of the light that does not count."""
    checked = paper.said.state.checked
    if not checked or not takes_timing(paper.said.card.task):
        return []
    return [
        f"{REPEATED}  {result.magneto.side.capitalize()} magneto, approach {judged.place}, {judged.approach.when}: "
        f"light at {judged.approach.light.typed} does not count"
        for result in checked.worked.magnetos
        for judged in result.judged
        if judged.voids
    ]


def _explained(paper: CardPaper, finding: SaidFinding) -> bool:
    key = finding_key(finding.rule, finding.where)
    return any(one.about == key for one in paper.said.card.remarks)


def _mark(finding: SaidFinding) -> str:
    return {Severity.STOPS: "● stops", Severity.EXPLAIN: OPEN, Severity.NOTE: "note"}[finding.severity]
