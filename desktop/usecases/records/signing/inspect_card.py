"""A card as its inspector reads it: everything in reading order, what stands out marked, and what is new on it."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from desktop.core.errors import Refusal
from desktop.core.records.record import Section
from desktop.core.rules.rule import Severity
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_card import OrderCard, finding_key
from desktop.core.shop.orders.order_states import Move
from desktop.core.shop.orders.path_words import path_words
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.usecases.records.sections.card_readings import typed_paths, unit_of
from desktop.usecases.records.sections.card_sections import card_sections
from desktop.usecases.records.sections.names import Names
from desktop.usecases.records.signing.acts import said_of
from desktop.usecases.records.signing.ports import SigningStore
from desktop.usecases.shop.cards.card_look import CardLook, look_at_card
from desktop.usecases.shop.cards.readiness import what_stops
from desktop.usecases.shop.ports import Change, Shop

AT_STEP = "@step."


class Mark(StrEnum):
    """Why something on a card stands out."""

    OUTSIDE = "outside"
    REASON = "reason needed"
    EXPLAINED = "explained"
    REPEATED = "taken again"


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One thing that stands on the card, with why it stands out."""

    label: str
    text: str
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadSection:
    """Rows under a title."""

    title: str
    rows: tuple[ReadRow, ...]


@dataclass(frozen=True, slots=True)
class CardRead:
    """A card for its inspector.

    ``returned`` is the last return, None where there was none; ``changed`` says what is new since then. ``stops`` is
    what stands against accepting it.
    """

    order: WorkOrder
    card: OrderCard
    sections: tuple[ReadSection, ...]
    returned: Passage | None
    changed: tuple[str, ...]
    stops: tuple[str, ...]

    @property
    def standing_out(self) -> tuple[ReadRow, ...]:
        """The rows that are marked, in reading order."""
        return tuple(row for section in self.sections for row in section.rows if row.marks)


def read_card_through(shop: Shop, store: SigningStore, number: int, card_number: int) -> CardRead:
    """Return a card with everything on it. Raise Refusal when there is no such card."""
    with store.changing() as work:
        order = work.order(number)
        card = order.card(card_number) if order else None
        if order is None or card is None:
            raise Refusal(f"Order {number} has no card {card_number}. Choose one of its cards.")
        look = look_at_card(shop, work, order, card, shop.clock.now().date())
        said = said_of(work, order, look, Names(work.people(), work.tools()))
        returned = last_return(order, card_number)
        changed = changed_since(work.changes_since(number, 0), returned, card_number) if returned else ()
    sections = tuple(read_sections(look, card_sections(said)))
    stops = tuple(stop.words for stop in what_stops(look))
    return CardRead(order, card, sections, returned, changed, stops)


def last_return(order: WorkOrder, card: int) -> Passage | None:
    """Return the last time that a card was returned to the mechanic."""
    mine = (one for one in reversed(order.passages) if one.card == card and one.move is Move.RETURN)
    return next(mine, None)


def changed_since(changes: tuple[Change, ...], returned: Passage, card: int) -> tuple[str, ...]:
    """Return what the journal says of a card after it was returned, in plain words, the oldest first."""
    name, after = f"card {card}: ", False
    said: list[str] = []
    for change in changes:
        if after:
            said += [words.removeprefix(name) for words in change.said if words.startswith(name)]
        after = after or change.by == returned.by
    return tuple(words for words in said if words not in ("for inspection", "in work"))


def read_sections(look: CardLook, sections: tuple[Section, ...]) -> Iterator[ReadSection]:
    """Mark what stands out in the sections of a card."""
    marks = _marks(look)
    paths = {path: marks.get(path, ()) for path in typed_paths(look.card.readings)}
    readings = {_label(path): found for path, found in paths.items()}
    steps = {f"Step {place}": step.id for place, step in enumerate(look.steps, 1)}
    findings = _finding_marks(look)
    worked = _worked_marks(look)
    for section in sections:
        at_step = marks.get(f"{AT_STEP}{steps[section.title]}", ()) if section.title in steps else ()
        again = (Mark.REPEATED,) if section.title == "Confirmed earlier, and taken again" else ()
        rows = []
        for row in section.rows:
            found: tuple[Mark, ...] = again
            if section.title == "Readings as typed":
                found = readings.get(row.label, ())
            elif section.title == "Findings":
                found = findings.get(row.label, ())
            elif row.label in ("Written", "Confirmed by", "Left out by"):
                found = (*at_step, *again)
            else:
                found = (*worked.get((section.title, row.label), ()), *again)
            rows.append(ReadRow(row.label, row.text, tuple(dict.fromkeys(found))))
        yield ReadSection(section.title, tuple(rows))


def _label(path: str) -> str:
    words, unit = path_words(path), unit_of(path)
    name = words[:1].upper() + words[1:]
    return f"{name} ({unit})" if unit else name


def _marks(look: CardLook) -> dict[str, tuple[Mark, ...]]:
    """Return why a typed value or a step stands out, by its path."""
    found: dict[str, list[Mark]] = {}
    explained = {remark.about for remark in look.card.remarks}
    for finding in look.findings:
        mark = Mark.OUTSIDE if finding.severity is Severity.STOPS else None
        if finding.severity is Severity.EXPLAIN:
            mark = Mark.EXPLAINED if finding_key(finding.rule, finding.where) in explained else Mark.REASON
        if mark is not None:
            found.setdefault(finding.where, []).append(mark)
    for worked, result in _results(look):
        for place in _outside(worked, result):
            found.setdefault(f"{result.magneto.side}.approach[{place}].light", []).append(Mark.OUTSIDE)
        for place in _again(result):
            found.setdefault(f"{result.magneto.side}.approach[{place}].light", []).append(Mark.REPEATED)
    for done in look.card.earlier:
        found.setdefault(f"{AT_STEP}{done.step}", []).append(Mark.REPEATED)
    return {path: tuple(marks) for path, marks in found.items()}


def _results(look: CardLook) -> Iterator[tuple[Worked, MagnetoResult]]:
    if look.state.checked is not None:
        worked = look.state.checked.worked
        yield from ((worked, result) for result in worked.magnetos)


def _outside(worked: Worked, result: MagnetoResult) -> Iterator[int]:
    """Yield the place of each attempt whose firing position lies outside the limits."""
    limits, nominal = worked.card.limits, result.magneto.nominal
    for judged in result.judged:
        if judged.btdc is not None and not -limits.retarded_most <= judged.btdc - nominal <= limits.advanced_most:
            yield judged.place


def _again(result: MagnetoResult) -> Iterator[int]:
    """Yield the place of each attempt that follows an earlier one of the same occasion."""
    seen: set[object] = set()
    for judged in result.judged:
        if judged.approach.when in seen:
            yield judged.place
        seen.add(judged.approach.when)


def _worked_marks(look: CardLook) -> dict[tuple[str, str], tuple[Mark, ...]]:
    """Return the marks of what was worked out: each attempt whose firing position lies outside."""
    marks: dict[tuple[str, str], tuple[Mark, ...]] = {}
    for worked, result in _results(look):
        outside = set(_outside(worked, result))
        for judged in result.judged:
            if judged.place in outside:
                title = f"Worked out for the {result.magneto.side} magneto"
                marks[title, f"Approach {judged.place}, {judged.approach.when}"] = (Mark.OUTSIDE,)
    return marks


def _finding_marks(look: CardLook) -> dict[str, tuple[Mark, ...]]:
    """Return the mark of each finding by the label of its row."""
    explained = {remark.about for remark in look.card.remarks}
    marks: dict[str, tuple[Mark, ...]] = {}
    for number, finding in enumerate(look.findings, 1):
        if finding.severity is Severity.STOPS:
            marks[f"Finding {number}"] = (Mark.OUTSIDE,)
        elif finding.severity is Severity.EXPLAIN:
            is_explained = finding_key(finding.rule, finding.where) in explained
            marks[f"Finding {number}"] = (Mark.EXPLAINED if is_explained else Mark.REASON,)
    return marks
