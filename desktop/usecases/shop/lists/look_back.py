"""Looking back over the orders: the visits of one magneto, and what is coming due on every engine and magneto."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from desktop.core.rules.rulebook import Rulebook
from desktop.core.shop.aircraft.directives import Subject
from desktop.core.shop.aircraft.due import (
    Coming,
    Due,
    Interval,
    coming_due,
    due_of_directives,
    next_due,
    since_overhaul_due,
)
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import words_of
from desktop.core.shop.orders.visits import MagnetoVisit, serial_key, visit_of
from desktop.core.shop.sheets.sheet_fit import intervals_of
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet
from desktop.core.timing.readings import Side
from desktop.core.timing.results import Worked
from desktop.usecases.fill_card import look_at
from desktop.usecases.shop.lists.look_up import MOST_WORDS, PAGE
from desktop.usecases.shop.lists.order_facts import Fitted, OrderFacts, facts_back
from desktop.usecases.shop.ports import ShopStore

_DIRECTIVE = "directive"
FROM_OVERHAUL = "from its overhaul"


@dataclass(frozen=True, slots=True)
class Again:
    """Something done again and again: what, how often, and the limits sheet that asks for it, in words."""

    what: str
    every: Interval
    sheet: str = ""


@dataclass(frozen=True, slots=True)
class ComingLine:
    """Something coming due, where it was last seen, and the aircraft's total time and day at that intake.

    ``every`` says how often it is due and who asks for it; empty for a directive.
    """

    coming: Coming
    place: str = ""
    hours_now: Fraction | None = None
    hours_on: date | None = None
    every: str = ""


def current_sheets(store: ShopStore) -> tuple[Sheet, ...]:
    """Return the current revision of each limits sheet that was compared. Raise Refusal for one that was changed."""
    found = (store.newest_sheet(life.sheet.id) for life in store.sheet_lives())
    return tuple(sheet for sheet in found if sheet is not None)


def coming(store: ShopStore, today: date) -> tuple[ComingLine, ...]:
    """Return what is coming due on every engine and magneto of a shop, the nearest first."""
    return coming_from((facts for facts in facts_back(store) if facts), today, current_sheets(store))


def coming_from(facts: Iterable[OrderFacts], today: date, sheets: Sequence[Sheet]) -> tuple[ComingLine, ...]:
    """Return what is coming due by what the orders say and the limits sheets ask for, the nearest first.

    Hours are the aircraft's total time. They are compared only while the newest intake that has the serial is of the
    aircraft on which the thing was written; on another aircraft the total time is another one's.
    """
    oldest_first = sorted(facts, key=lambda one: one.number)
    lines = [_line(due, written, oldest_first, today) for due, written in _dues_of_directives(oldest_first)]
    for due, written, every in _dues_of_intervals(oldest_first, intervals_by_serial(oldest_first, sheets)):
        lines.append(replace(_line(due, written, oldest_first, today), every=every))
    return tuple(sorted(lines, key=lambda line: (line.coming.nearness, line.coming.due.what, line.coming.due.serial)))


def intervals_by_serial(facts: Sequence[OrderFacts], sheets: Sequence[Sheet]) -> dict[str, tuple[Again, ...]]:
    """Return what the sheets ask for on each engine and magneto that is on an engine, by its serial as written last."""
    newest = {serial_key(one.serial): one for order in facts for one in order.fitted}
    return {
        one.serial: asked
        for one in newest.values()
        if not one.came_off and (asked := tuple(again for sheet in sheets for again in _asked(sheet, one)))
    }


def _asked(sheet: Sheet, one: Fitted) -> Iterator[Again]:
    names = sheet.types if isinstance(sheet, EngineSheet) else sheet.part_numbers
    is_its_kind = isinstance(sheet, EngineSheet) == (one.subject is Subject.ENGINE)
    if is_its_kind and serial_key(one.name) in {serial_key(name) for name in names or ()}:
        for what, every in intervals_of(sheet):
            yield Again(what, every, f"sheet {sheet.id} rev {sheet.revision}")


def visits_back(store: ShopStore, rulebook: Rulebook, serial: str) -> Iterator[MagnetoVisit | None]:
    """Yield the visits of a magneto, the newest first; None for an order that only looked like one. One a step."""
    words = words_of(serial)[:MOST_WORDS]
    before: int | None = None
    while words:
        page = store.orders(words, None, PAGE, before)
        for line in page:
            order = store.order(line.number)
            yield visit_of(order, serial, worked_cards(order, rulebook)) if order else None
        if len(page) < PAGE:
            return
        before = page[-1].number


def worked_cards(order: WorkOrder, rulebook: Rulebook) -> tuple[Worked, ...]:
    """Return an order's cards worked out, as far as they can be read.

    A magneto whose last reading is still being typed is left out: an earlier one must not be taken for it.
    """
    found = []
    for card in order.cards:
        state = look_at(card.readings, rulebook)
        if state.checked is None:
            continue
        worked = state.checked.worked
        left = None if state.has_open_approach(Side.LEFT) else worked.left
        right = None if state.has_open_approach(Side.RIGHT) else worked.right
        found.append(replace(worked, left=left, right=right))
    return tuple(found)


def _dues_of_directives(facts: Sequence[OrderFacts]) -> Iterator[tuple[Due, OrderFacts]]:
    """Yield each directive that is due again, with the order on which it was written last."""
    shown = {serial_key(fitted.serial): fitted.serial for one in facts for fitted in one.fitted}
    done = [
        (replace(directive, serial=shown.get(serial_key(directive.serial), directive.serial)), one)
        for one in facts
        for directive in one.directives
    ]
    written = {(directive.number, directive.serial): one for directive, one in done}
    for due in due_of_directives(directive for directive, _ in done):
        yield replace(due, what=f"{_DIRECTIVE} {due.what}"), written[due.what, due.serial]


def _dues_of_intervals(
    facts: Sequence[OrderFacts], intervals: Mapping[str, Sequence[Again]]
) -> Iterator[tuple[Due, OrderFacts | None, str]]:
    """Yield what is done at intervals, the order from which it counts, and how often in words.

    It counts from the order on which it was done last; on a magneto that had it nowhere here, from its overhaul; it is
    due at no known time where neither is known.
    """
    for serial, again in intervals.items():
        seen = [(one, fitted) for one in reversed(facts) if (fitted := one.of(serial)) is not None]
        subject = seen[0][1].subject
        for asked in again:
            last = next(((one, day) for one, _ in seen if (day := one.day_done(asked.what, serial))), None)
            if last is not None:
                one, day = last
                yield next_due(asked.what, subject, serial, day, one.total_time, asked.every), one, _said(asked)
                continue
            overhauls = (
                (due, one)
                for one, fitted in seen
                if (due := since_overhaul_due(asked.what, serial, one.total_time, fitted.since_overhaul, asked.every))
            )
            due, written = next(overhauls, (Due(asked.what, subject, serial), None))
            yield due, written, _said(asked, "" if written is None else FROM_OVERHAUL)


def _said(asked: Again, since: str = "") -> str:
    """Say how often something is due, from when it counts where that is not its last time, and who asks for it."""
    often = " ".join(part for part in (asked.every.words, since) if part)
    return ", ".join(part for part in (often, asked.sheet) if part)


def _line(due: Due, written: OrderFacts | None, facts: Sequence[OrderFacts], today: date) -> ComingLine:
    having = [one for one in facts if one.has(due.serial)] or ([written] if written else [])
    timed = next((one for one in reversed(having) if one.total_time is not None), None)
    is_same = timed is not None and (written is None or _key(timed) == _key(written) == _key(having[-1]))
    hours = timed.total_time if timed is not None and is_same else None
    [one] = coming_due([due], today, {due.serial: hours} if hours is not None else {})
    return ComingLine(one, having[-1].place if having else "", hours, timed.on if timed and is_same else None)


def _key(facts: OrderFacts) -> str:
    return serial_key(facts.registration)
