"""What was found on a card of an order, on paper: findings with their reasons, and in a sentence how it stands."""

from collections.abc import Iterator

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding, nothing_stops
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_card import finding_key
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.path_words import path_words
from desktop.core.timing.faults import Fault
from desktop.usecases.papers.cards.card_records import last_move
from desktop.usecases.papers.cards.task_card import WEIGHT, WORD
from desktop.usecases.records.sections.card_sections import CardToSay
from reports.document import Block, Finding, Heading, KeepTogether, plain

WAITS = "initials-missing"
"""The rule about steps that wait for their initials: a card in work has many of them."""
REVISED = "sheet-revised-since"
"""The rule about a limits sheet that was revised after the card was submitted: told below the sheets."""
NOTHING_FOUND = "nothing found"
"""How a fault ends where nothing is written."""
_RUN_UP = {
    "run_up.both_rpm": "Run-up at BOTH: rpm",
    "run_up.left_rpm": "Run-up at L: rpm",
    "run_up.right_rpm": "Run-up at R: rpm",
}
NO_REASON = "Reason: not given yet."
NO_STATEMENT = "This is no statement of airworthiness."


def findings_of(said: CardToSay) -> Iterator[Block]:
    """Yield the findings of a card with the reasons that were given; the heading stays with the first."""
    blocks = [*_returned_block(said), *finding_blocks(said)]
    yield KeepTogether((Heading("Findings", 2), plain(stands(said), bold=True), *blocks[:1]))
    yield from blocks[1:]


def finding_blocks(said: CardToSay) -> list[Finding]:
    """Return the findings of a card; the steps that wait for their initials are named together."""
    numbers = {f"@step.{step.id}": str(number) for number, step in enumerate(said.steps, 1)}
    found = told(said)
    waiting = [numbers[one.where] for one in found if one.rule == WAITS and one.where in numbers]
    blocks = [finding_block(said, one) for one in found if one.rule != WAITS or one.where not in numbers]
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


def told(said: CardToSay) -> tuple[SaidFinding, ...]:
    """Return the findings that are printed as such."""
    return tuple(one for one in said.findings if one.rule != REVISED)


def place_words(said: CardToSay, where: str) -> str:
    """Say where on the card a finding belongs: at a step by its number, or at a reading in words."""
    name = where.removeprefix("@step.")
    if name != where:
        numbers = {step.id: number for number, step in enumerate(said.steps, 1)}
        return f"Step {numbers[name]}" if name in numbers else f"Step {name}"
    words = path_words(where)
    return words[:1].upper() + words[1:]


def fault_words(fault: Fault) -> str:
    """Say what cannot be read, or is not written yet, in the mechanic's words."""
    words = path_words(fault.where)
    name = _RUN_UP.get(fault.where, f"{words[:1].upper()}{words[1:]}:")
    return f"{name} not written yet." if fault.expected.endswith(NOTHING_FOUND) else f"{name} {fault.expected}."


def is_finished(said: CardToSay) -> bool:
    """Tell whether the work on a card was submitted."""
    return said.card.state in (OrderState.FOR_INSPECTION, OrderState.ACCEPTED)


def returned(said: CardToSay) -> Passage | None:
    """Return the inspector's return while the card is worked on again; None when it was never returned, or sent on."""
    last = last_move(said.order.passages, said.card.number)
    return last if last is not None and last.move is Move.RETURN else None


def stops(said: CardToSay) -> bool:
    """Tell whether something that was found stops the card; steps that wait for their initials are only not done."""
    return not nothing_stops([one for one in said.findings if one.rule != WAITS])


def stands(said: CardToSay) -> str:
    """Say in a sentence how a card stands by what was found; one that is not finished is never called clean."""
    found = told(said)
    if not nothing_stops(found):
        return "Not to be approved while something stops."
    if returned(said) is not None:
        return f"The inspector returned the card, and it is not finished. {NO_STATEMENT}"
    if not is_finished(said):
        return f"The card is not finished. {NO_STATEMENT}"
    return f"{'Nothing here stops the card' if found else 'Nothing was found'}. {NO_STATEMENT}"


def _returned_block(said: CardToSay) -> Iterator[Finding]:
    back = returned(said)
    if back is not None:
        yield Finding("ask", "Returned.", back.reason, f"By the inspector: {said.names.stamp(back.by)}.")
