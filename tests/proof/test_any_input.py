"""Thousands of texts for each kind of typed field: none raises, and each stays as it was typed."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal, InvalidOperation

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import Row, rows_of, text_trouble, visible
from desktop.core.shop.people import person_troubles
from desktop.core.shop.text_limits import text_trouble as shop_text_trouble
from desktop.core.timing.partial_card import read_what_can_be
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import value_at, with_value
from desktop.core.typed_text import decimals, full_reading, number, ratio, split_reading, tidied
from desktop.usecases.fill_card import look_at
from desktop.usecases.records.verify import read_seal
from desktop.viewmodels.typed_dates import day_fault, typed_day
from tests.proof.counts import Tally, times
from tests.proof.inputs import odd_texts
from tests.usecases.shop.shop_floor import PEOPLE, RULEBOOK, SOUND

FIELDS: dict[str, str] = {
    "a reading": "left.approach[1].light",
    "a reading of a stop contact": "stop[1].with",
    "a whole number": "engine.cylinders",
    "a firing order": "engine.firing_order",
    "a word of a choice": "engine.rotation",
    "a limit": "limits.left_btdc",
    "a ratio": "engine.propeller_turns_per_crank_turn",
    "a length": "measure.radius_mm",
    "a speed": "run_up.both_rpm",
    "a torque": "torque[1].required",
    "a text": "torque[1].what",
}
"""A field of the card for each kind of text that is typed into one."""


def _card_with(path: str) -> Callable[[str], None]:
    def typed(text: str) -> None:
        card = with_value(SOUND, path, text)
        assert isinstance(card, TypedCard)
        kept = value_at(card, path)
        if text.strip() and "firing_order" not in path:
            assert kept == text or (kept is not None and str(kept).strip().lstrip("0") == text.strip().lstrip("0"))
        before = repr(card)
        read_what_can_be(card)
        assert repr(card) == before

    return typed


def _card_looked_at(path: str) -> Callable[[str], None]:
    def typed(text: str) -> None:
        card = with_value(SOUND, path, text)
        assert look_at(card, RULEBOOK).typed == card

    return typed


def _number_forms(text: str) -> None:
    for read in (number, ratio, full_reading, split_reading, decimals):
        read(text)
    once = tidied(text)
    assert tidied(once) == once
    if number(text) is not None:
        assert number(once) == number(text)


def _day(text: str) -> None:
    assert (typed_day(text) is None) is (day_fault(text) is not None)


def _record_text(text: str) -> None:
    for row in rows_of("Remark", text):
        assert isinstance(row, Row)
        assert text_trouble(row.text[:100].strip() or "none") is None
    assert visible(visible(text)) == visible(text)


def _name(text: str) -> None:
    person_troubles(replace(PEOPLE[0], name=text))
    shop_text_trouble(replace(PEOPLE[0], name=text))


def _seal(text: str) -> None:
    try:
        read_seal(text)
    except Refusal as refusal:
        assert refusal.sentence


KINDS: dict[str, tuple[Callable[[str], None], int]] = {
    "a number as typed": (_number_forms, 1),
    "a day": (_day, 1),
    "a remark that is signed": (_record_text, 1),
    "a name": (_name, 1),
    "a record seal": (_seal, 1),
    **{name: (_card_with(path), 1) for name, path in FIELDS.items()},
    "any field, with all rules": (_card_looked_at("left.approach[1].light"), 10),
}
"""What is done with a text, and by how much fewer of them: a card with all its rules takes milliseconds."""


@pytest.mark.parametrize("kind", KINDS)
def test_that_no_text_raises_and_each_is_kept(tally: Tally, kind: str) -> None:
    typed, share = KINDS[kind]
    count = times(10_000, 100_000) // share
    done = 0
    for text in odd_texts(count, seed=len(kind)):
        try:
            typed(text)
        except Exception as bug:
            raise AssertionError(f"{kind}: {text!r} raised {bug!r}") from bug
        done += 1
    tally.tell(f"inputs, {kind}", texts=done)
    assert done == count


def test_that_a_reader_that_raises_is_found_out(tally: Tally) -> None:
    raised = 0
    for text in odd_texts(1000):
        try:
            Decimal(text)
        except InvalidOperation:
            raised += 1
    tally.tell("control, inputs for a reader that raises", texts=1000, raised=raised)
    assert raised > 100


def test_that_the_texts_are_of_many_kinds() -> None:
    texts = list(odd_texts(3000))
    assert len(set(texts)) > 1500
    assert sum(number(text) is not None for text in texts) > 30
    assert sum(typed_day(text) is not None for text in texts) > 5
    assert sum(not text.isprintable() for text in texts) > 300
    assert texts == list(itertools.islice(odd_texts(3000), 3000))
