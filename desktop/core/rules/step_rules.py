"""Rules about the steps of a card: done in their order, with initials, by the right person, with a reading."""

from collections.abc import Iterator
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.rules.paperwork import RECORD, SHOP, CardInShop, CardRule, at_step
from desktop.core.rules.rule import Finding, Severity
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.reasons import is_reason

READING = "reading"


def _step_skipped(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    last = max((place for place, step in enumerate(seen.steps) if seen.done(step)), default=-1)
    for place, step in enumerate(seen.steps):
        if step.initials and place < last and seen.done(step) is None:
            yield rule.finding(at_step(step), step=step.instruction)


def _initials_missing(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    last = max((place for place, step in enumerate(seen.steps) if seen.done(step)), default=-1)
    for place, step in enumerate(seen.steps):
        if step.initials and place > last:
            yield rule.finding(at_step(step), step=step.instruction)


def _left_out_without_reason(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for step in seen.steps:
        done = seen.done(step)
        if done and done.skipped and not (step.may_skip and is_reason(done.text)):
            yield rule.finding(at_step(step), step=step.instruction)


def _answer_stops(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for step in seen.steps:
        done = seen.done(step)
        if done and not done.skipped and done.text in step.stops:
            yield rule.finding(at_step(step), step=step.instruction, answer=done.text)


def _reading_missing(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for step in seen.steps_with(READING):
        done = seen.done(step)
        if done and not done.skipped and _number(done.text) is None:
            yield rule.finding(at_step(step), step=step.instruction, unit=step.unit or "a number")


def _reading_outside(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    for step in seen.steps_with(READING):
        done = seen.done(step)
        value = _number(done.text) if done and not done.skipped else None
        allowed = seen.sheets.limit_for(step.limit, step.side)
        if value is None or allowed is None:
            continue
        unit = step.unit or allowed.unit
        if allowed.unit != unit:
            yield rule.finding(at_step(step), what=f"{step.limit.capitalize()} is read in {unit}", limits=allowed.words)
        elif not allowed.holds(value):
            said = f"{step.limit.capitalize()} is {typed_text.plain(value)} {unit}".rstrip()
            yield rule.finding(at_step(step), what=said, limits=allowed.words)


def _same_hand(rule: CardRule, seen: CardInShop) -> Iterator[Finding]:
    before: Step | None = None
    for step in seen.steps:
        first = seen.done(before) if before else None
        done = seen.done(step)
        if step.second and first and done and done.by.person == first.by.person:
            alone = len([one for one in seen.people if one.is_here(seen.today)]) == 1
            severity = Severity.EXPLAIN if alone else Severity.STOPS
            yield rule.finding(at_step(step), severity, step=step.instruction, person=done.by.person)
        before = step


def _number(text: str) -> Fraction | None:
    return typed_text.number(typed_text.tidied(text))


STEP_RULES: tuple[CardRule, ...] = (
    CardRule("step-skipped", Severity.STOPS, SHOP, ("step",), _step_skipped),
    CardRule("initials-missing", Severity.STOPS, RECORD, ("step",), _initials_missing),
    CardRule("left-out-without-reason", Severity.STOPS, SHOP, ("step",), _left_out_without_reason),
    CardRule("answer-stops", Severity.STOPS, SHOP, ("step",), _answer_stops),
    CardRule("reading-missing", Severity.STOPS, SHOP, ("step",), _reading_missing),
    CardRule(
        "reading-outside",
        Severity.STOPS,
        "The limits sheet that the card names (transcribed).",
        ("step",),
        _reading_outside,
    ),
    CardRule(
        "second-person-same",
        Severity.STOPS,
        "Whoever did the work does not check it. Common practice.",
        ("step",),
        _same_hand,
    ),
)
