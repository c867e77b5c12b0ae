"""Looking back over the orders: the visits of one magneto, and what is coming due on every engine and magneto."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from desktop.core.rules.rulebook import Rulebook
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.due import Coming, Due, Interval, coming_due, due_of_directives, next_due
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import words_of
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import MagnetoVisit, hours_of, serial_key, serials_at_intake, visit_of
from desktop.core.timing.readings import Side
from desktop.core.timing.results import Worked
from desktop.usecases.fill_card import look_at
from desktop.usecases.shop.lists.look_up import MOST_WORDS, PAGE
from desktop.usecases.shop.ports import ShopStore

Intervals = Mapping[str, tuple[tuple[str, Interval], ...]]
"""What is done again and again, by the serial of an engine or magneto: the title of its task card, and how often."""
_DIRECTIVE = "directive"


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """What one order says of what comes due. ``total_time`` is the aircraft's, None where the intake has none.

    ``done`` names each task card that was accepted, and the day of it.
    """

    number: int
    on: date
    registration: str
    place: str
    total_time: Fraction | None
    serials: tuple[tuple[str, Subject], ...]
    directives: tuple[Directive, ...]
    done: tuple[tuple[str, date], ...]

    def has(self, serial: str) -> bool:
        """Tell whether an engine or magneto was on this order."""
        return any(serial_key(one) == serial_key(serial) for one, _ in self.serials)


@dataclass(frozen=True, slots=True)
class ComingLine:
    """Something coming due, where it was last seen, and the aircraft's total time and day at that intake."""

    coming: Coming
    place: str = ""
    hours_now: Fraction | None = None
    hours_on: date | None = None


def facts_back(store: ShopStore) -> Iterator[OrderFacts | None]:
    """Yield what each order says, the newest first; None for one that is void. One order is read at each step."""
    newest = store.orders(limit=1)
    for number in range(newest[0].number if newest else 0, 0, -1):
        order = store.order(number)
        yield None if order is None or order.state is OrderState.VOID else facts_of(order)


def facts_of(order: WorkOrder) -> OrderFacts:
    """Return what an order says of what comes due. A directive without a serial stands for the engine's place."""
    engine = order.engine
    side = "" if order.position is EnginePosition.SINGLE else f", {order.position} engine"
    place = f"{order.aircraft.registration}{side}"
    name = engine.serial.strip() or place
    magnetos = tuple((serial, Subject.MAGNETO) for serial in serials_at_intake(order).values())
    accepted = {passage.card: passage.by.at.date() for passage in order.passages if passage.move is Move.ACCEPT}
    stands = order.ending is not OrderState.NOT_APPROVED
    return OrderFacts(
        number=order.number,
        on=order.opened.at.date(),
        registration=order.aircraft.registration,
        place=place,
        total_time=hours_of(order.taken_in.intake.total_time) if order.taken_in else None,
        serials=((name, Subject.ENGINE), *magnetos),
        directives=tuple(
            replace(done.directive, serial=done.directive.serial.strip() or name) for done in order.directives
        ),
        done=tuple(
            (card.task.title, accepted.get(card.number, order.opened.at.date()))
            for card in order.cards
            if stands and card.state is OrderState.ACCEPTED
        ),
    )


def coming(store: ShopStore, today: date, intervals: Intervals) -> tuple[ComingLine, ...]:
    """Return what is coming due on every engine and magneto of a shop, the nearest first."""
    return coming_from((facts for facts in facts_back(store) if facts), today, intervals)


def coming_from(facts: Iterable[OrderFacts], today: date, intervals: Intervals) -> tuple[ComingLine, ...]:
    """Return what is coming due by what the orders say, the nearest first.

    Hours are the aircraft's total time. They are compared only while the newest intake that has the serial is of the
    aircraft on which the thing was written; on another aircraft the total time is another one's.
    """
    oldest_first = sorted(facts, key=lambda one: one.number)
    lines = [
        _line(due, written, oldest_first, today)
        for due, written in (*_dues_of_directives(oldest_first), *_dues_of_intervals(oldest_first, intervals))
    ]
    return tuple(sorted(lines, key=lambda line: (line.coming.nearness, line.coming.due.what, line.coming.due.serial)))


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


def _dues_of_directives(facts: list[OrderFacts]) -> Iterator[tuple[Due, OrderFacts]]:
    """Yield each directive that is due again, with the order on which it was written last."""
    shown = {serial_key(serial): serial for one in facts for serial, _ in one.serials}
    done = [
        (replace(directive, serial=shown.get(serial_key(directive.serial), directive.serial)), one)
        for one in facts
        for directive in one.directives
    ]
    written = {(directive.number, directive.serial): one for directive, one in done}
    for due in due_of_directives(directive for directive, _ in done):
        yield replace(due, what=f"{_DIRECTIVE} {due.what}"), written[due.what, due.serial]


def _dues_of_intervals(facts: list[OrderFacts], intervals: Intervals) -> Iterator[tuple[Due, OrderFacts | None]]:
    """Yield what is done at intervals, with the order on which it was done last; due at no time when it never was."""
    for serial, again in intervals.items():
        seen = [(one, dict(one.done)) for one in facts if one.has(serial)]
        subjects = {serial_key(name): subject for one, _ in seen for name, subject in one.serials}
        subject = subjects.get(serial_key(serial), Subject.MAGNETO)
        for what, every in again:
            last, done = next(((one, done) for one, done in reversed(seen) if what in done), (None, {}))
            if last is None:
                yield Due(what, subject, serial), None
            else:
                yield next_due(what, subject, serial, done[what], last.total_time, every), last


def _line(due: Due, written: OrderFacts | None, facts: list[OrderFacts], today: date) -> ComingLine:
    having = [one for one in facts if one.has(due.serial)] or ([written] if written else [])
    timed = next((one for one in reversed(having) if one.total_time is not None), None)
    is_same = timed is not None and (written is None or _key(timed) == _key(written) == _key(having[-1]))
    hours = timed.total_time if timed is not None and is_same else None
    [one] = coming_due([due], today, {due.serial: hours} if hours is not None else {})
    return ComingLine(one, having[-1].place if having else "", hours, timed.on if timed and is_same else None)


def _key(facts: OrderFacts) -> str:
    return serial_key(facts.registration)
