"""A card of an order looked at as a whole: readings worked out, steps that apply, every finding with its sentence."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date, datetime
from typing import Protocol

from desktop.core.rules.paperwork import CardInShop, OrderInShop, settled_at
from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import Rulebook, SaidFinding
from desktop.core.shop.cards.card_scope import RUN_UP, RUN_UP_FOUND, TIMED, TORQUE, scoped
from desktop.core.shop.cards.jobs import ON_THE_AIRCRAFT, Job
from desktop.core.shop.cards.task_card import Step, TaskCard, steps_for
from desktop.core.shop.orders.card_facts import captures_on, facts_around, facts_of, facts_of_typed
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, finding_key
from desktop.core.shop.people.people import Person
from desktop.core.shop.reasons import is_reason
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheet_set import SheetSet, sheet_set
from desktop.core.shop.sheets.sheets import Sheet, sheet_words
from desktop.core.shop.tools import Tool
from desktop.core.timing.faults import Fault
from desktop.usecases.fill_card import CardState, look_at, look_beside_timing
from desktop.usecases.shop.ports import Shop

MissingSigns = Callable[[str], tuple[str, ...]]
_HARDEST_FIRST = (Severity.STOPS, Severity.EXPLAIN, Severity.NOTE)


class Asked(Protocol):
    """What is asked of the shop file, inside a transaction or outside of one."""

    def people(self) -> tuple[Person, ...]:
        """Return the roster."""
        ...

    def tools(self) -> tuple[Tool, ...]:
        """Return the tools."""
        ...

    def pinned_sheet(self, pin: SheetPin) -> Sheet:
        """Return a revision of a limits sheet; raise Refusal when it is not as it was pinned."""
        ...

    def newest_sheet(self, sheet_id: str) -> Sheet | None:
        """Return the newest compared revision of a limits sheet."""
        ...


@dataclass(frozen=True, slots=True)
class CardLook:
    """A card as it stands: ``faults`` keep it from being read, ``findings`` come the hardest first."""

    card: OrderCard
    state: CardState
    seen: CardInShop
    faults: tuple[Fault, ...]
    findings: tuple[SaidFinding, ...]

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps that apply."""
        return self.seen.steps

    @property
    def unexplained(self) -> tuple[SaidFinding, ...]:
        """The findings that ask for a reason and have none of at least a sentence."""
        given = {remark.about for remark in self.card.remarks if is_reason(remark.text)}
        return tuple(
            finding
            for finding in self.findings
            if finding.severity is Severity.EXPLAIN and finding_key(finding.rule, finding.where) not in given
        )

    @property
    def stopping(self) -> tuple[SaidFinding, ...]:
        """The findings with which nobody may approve."""
        return tuple(finding for finding in self.findings if finding.severity is Severity.STOPS)


def look_at_card(shop: Shop, asked: Asked, order: WorkOrder, card: OrderCard, today: date) -> CardLook:
    """Look at a card with everything around it; one that was submitted is judged by what stood then."""
    settled = settled_at(order, card)
    day = min(today, settled.date()) if settled else today
    newer = tuple(_newer(asked, card.sheets))
    held = captures_on(order, card)
    state = state_of_card(shop.rulebook, order, card)
    sheets = sheet_set((pin.place, asked.pinned_sheet(pin)) for pin in card.sheets)
    steps = steps_at(order, card, state, sheets, shop.jobs)
    seen = CardInShop(
        order=order,
        card=card,
        steps=steps,
        people=asked.people(),
        tools=asked.tools(),
        today=day,
        sheets=sheets,
        superseded=tuple(sheet_words(one) for one in newer if not _is_after(one, settled)),
        unprintable=tuple(_unprintable(card, "", shop.missing_signs)),
        revised_since=tuple(sheet_words(one) for one in newer if _is_after(one, settled)),
    )
    found = [shop.paperwork.of_card.say(one) for one in shop.paperwork.of_card.find(seen)]
    found += scoped(held, state.checked.findings if state.checked else ())
    found.sort(key=lambda one: _HARDEST_FIRST.index(one.severity))
    return CardLook(card, state, seen, state.faults, tuple(found))


def state_of_card(rulebook: Rulebook, order: WorkOrder, card: OrderCard) -> CardState:
    """Work out what a card takes on its order; what its steps do not ask for keeps nothing from being read.

    A card without timing is worked out without engine and crankshaft, one that takes no readings not at all.
    """
    held = captures_on(order, card)
    run_up, torque = bool(held & {RUN_UP, RUN_UP_FOUND}), TORQUE in held
    if held & TIMED:
        state = look_at(card.readings, rulebook)
        others = () if run_up else ("run_up",)
        faults = tuple(fault for fault in state.faults if not fault.where.startswith(others))
        return replace(state, faults=faults)
    if run_up or torque:
        return look_beside_timing(card.readings, rulebook, run_up=run_up, torque=torque)
    return CardState(card.readings, (), None)


def steps_at(
    order: WorkOrder, card: OrderCard, state: CardState, sheets: SheetSet, jobs: tuple[Job, ...]
) -> tuple[Step, ...]:
    """Return the steps that apply to the job as far as it can be read; none while nothing can be read."""
    where = next((job.where for job in jobs if job.id == card.job), ON_THE_AIRCRAFT)
    around = facts_around(order, card, sheets, where)
    if not captures_on(order, card) & TIMED:
        return steps_for(card.task, facts_of_typed(card.readings) | around)
    return steps_for(card.task, facts_of(state.checked.worked.card) | around) if state.checked else ()


def order_findings(shop: Shop, asked: Asked, order: WorkOrder, today: date) -> tuple[SaidFinding, ...]:
    """Return what the rules about an order say before its approval."""
    due = any(job.run_up_due for job in shop.jobs if job.id in {card.job for card in order.cards})
    seen = OrderInShop(order, asked.people(), today, due)
    return tuple(shop.paperwork.of_order.say(one) for one in shop.paperwork.of_order.find(seen))


def _newer(asked: Asked, pins: tuple[SheetPin, ...]) -> Iterator[Sheet]:
    for pin in pins:
        newest = asked.newest_sheet(pin.sheet)
        if newest is not None and newest.revision > pin.revision:
            yield newest


def _is_after(sheet: Sheet, settled: datetime | None) -> bool:
    """Tell whether a revision was compared after a card was settled."""
    return settled is not None and sheet.compared_by is not None and sheet.compared_by.at > settled


def _unprintable(value: object, path: str, missing: MissingSigns) -> Iterator[tuple[str, str]]:
    """Yield path and signs of each text that paper cannot show; the task card was looked at when it was read."""
    if isinstance(value, str):
        if signs := missing(value):
            yield path, " ".join(signs)
    elif isinstance(value, tuple):
        for place, entry in enumerate(value, 1):
            yield from _unprintable(entry, f"{path}[{place}]", missing)
    elif is_dataclass(value) and not isinstance(value, TaskCard):
        for one in fields(value):
            key = one.metadata.get("key", one.name)
            yield from _unprintable(getattr(value, one.name), f"{path}.{key}" if path else key, missing)
