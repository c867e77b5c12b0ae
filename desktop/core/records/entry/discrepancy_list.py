"""The dated list of discrepancies that goes to the owner with an order that is not approved."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.orders.discrepancies import Discrepancy, Outcome
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name

SAID_BY_ITSELF = frozenset({"discrepancy-open"})
"""Rules that only repeat a discrepancy of the order, which stands on the list by itself."""

WHOEVER_REFUSED = "the words of whoever did not approve the work"
"""Where the first entry of a list comes from: no card and no finding, but the person who decided."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One discrepancy on the list: its number there from 1, what is said, and where it comes from."""

    number: int
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class DiscrepancyList:
    """A numbered list of one day; 14 CFR 43.11: it goes to the owner, and the entry refers to it."""

    order: str
    aircraft: str
    engine: str
    dated: date
    entries: tuple[Listed, ...]


def list_of_discrepancies(
    order: WorkOrder, findings: Iterable[SaidFinding], dated: date, reason: str = ""
) -> DiscrepancyList:
    """Return the list: why it is not approved, each discrepancy that is not closed, each finding that stops.

    ``findings`` are those of the order and of all its cards; only what stops is listed, and one sentence about one
    place once. ``reason`` is the approver's own.
    """
    texts = [(reason.strip(), WHOEVER_REFUSED)] if reason.strip() else []
    texts += _discrepancies(order.discrepancies)
    texts += dict.fromkeys(_findings(findings))
    return DiscrepancyList(
        order=order_name(order.number),
        aircraft=aircraft_words(order),
        engine=engine_words(order),
        dated=dated,
        entries=tuple(Listed(number, text, source) for number, (text, source) in enumerate(texts, 1)),
    )


def discrepancy_words(one: Discrepancy) -> str:
    """Say a discrepancy and what became of it."""
    if one.settled is None:
        return f"{one.found} (open)"
    settled = one.settled
    customer = settled.customer
    said = settled.words.strip()
    words = said.rstrip(".") if customer else said
    outcome = str(settled.outcome)
    if not words.casefold().startswith(outcome):  # "deferred: Deferred to the annual inspection" says it twice
        words = f"{outcome}: {words}" if words else outcome
    spoke = f"; {customer.who} spoke for the customer" if customer else ""
    return f"{one.found} ({words}{spoke})"


def _discrepancies(found: Iterable[Discrepancy]) -> Iterator[tuple[str, str]]:
    for one in found:
        if one.settled is None or one.settled.outcome is not Outcome.CLOSED:
            yield discrepancy_words(one), f"Discrepancy {one.number} of the order"


def _findings(findings: Iterable[SaidFinding]) -> Iterator[tuple[str, str]]:
    for one in findings:
        if one.severity is Severity.STOPS and one.rule not in SAID_BY_ITSELF:
            yield one.sentence, f"Finding {one.rule} at {one.where}. {one.source}"
