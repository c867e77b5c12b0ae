"""Thousands of texts for each kind of typed field: none raises, and each stays as it was typed."""

import itertools
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal, InvalidOperation

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import Row, is_hex, rows_of, text_trouble, visible
from desktop.core.shop.cards.text_limits import text_trouble as shop_text_trouble
from desktop.core.shop.people.people import person_troubles
from desktop.core.timing.faults import FaultList
from desktop.core.timing.readings import Marking
from desktop.core.timing.typed_paths import Value, value_at, with_value
from desktop.core.typed_text import decimals, full_reading, number, ratio, split_reading, tidied
from desktop.usecases.fill_card import empty_card, look_at
from desktop.usecases.records.checking.verify import read_seal
from desktop.viewmodels.pieces.typed_dates import day_fault, typed_day
from tests.proof.counts import Tally, times
from tests.proof.inputs import odd_texts
from tests.usecases.shop.shop_floor import PEOPLE, RULEBOOK, SOUND

FIELDS = (
    "left.approach[1].light",
    "stop[1].with",
    "engine.cylinders",
    "engine.firing_order",
    "engine.rotation",
    "limits.left_btdc",
    "engine.propeller_turns_per_crank_turn",
    "measure.radius_mm",
    "run_up.both_rpm",
    "torque[1].required",
    "torque[1].what",
)
"""A field of the card for each kind of text that is typed into one."""
EMPTY = empty_card()
ORDER = "engine.firing_order"
SHARE = 50
"""A whole card with all its rules takes milliseconds: of those there are so many times fewer."""
Typed = Callable[[str], None]


def _read_with(read: Callable[[FaultList, str], object]) -> Typed:
    """Read a text as one kind of field; what cannot be read is a fault in one short line of visible signs."""

    def typed(text: str) -> None:
        faults = FaultList()
        read(faults, text)
        for fault in faults.faults:
            assert fault.sentence.isprintable()
            assert len(fault.sentence) < 400

    return typed


def _firing_order(faults: FaultList, text: str) -> None:
    card = with_value(EMPTY, ORDER, text)
    engine = card.engine
    assert engine is not None
    for number_typed in engine.firing_order or ():
        faults.whole(number_typed, ORDER, "a cylinder", lambda value: value > 0)


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
    with suppress(Refusal):
        assert is_hex(read_seal(text)[:16], 16)


KINDS: dict[str, Typed] = {
    "a number as typed": _number_forms,
    "a limit": _read_with(lambda faults, text: faults.number(text, "limits.left_btdc", least=0)),
    "a number that may be left out": _read_with(lambda faults, text: faults.optional_number(text, "e_gap", above=0)),
    "a ratio": _read_with(lambda faults, text: faults.number(text, "engine.ratio", above=0, read=ratio)),
    "a reading of a full disc": _read_with(lambda faults, text: faults.reading(text, "light", full=True)),
    "a reading of a split disc": _read_with(lambda faults, text: faults.reading(text, "light", full=False)),
    "a whole number": _read_with(lambda faults, text: faults.whole(text, "poles", "even", lambda value: value > 0)),
    "a firing order": _read_with(_firing_order),
    "a word of a choice": _read_with(lambda faults, text: faults.choice(text, "marking", Marking)),
    "a day": _day,
    "a remark that is signed": _record_text,
    "a name": _name,
    "a record seal": _seal,
}
"""What is done with a text that is typed into each kind of field."""


@pytest.mark.parametrize("kind", KINDS)
def test_that_no_text_raises(tally: Tally, kind: str) -> None:
    count = times(10_000, 100_000)
    done = 0
    for text in odd_texts(count, seed=len(kind)):
        try:
            KINDS[kind](text)
        except Exception as bug:
            raise AssertionError(f"{kind}: {text!r} raised {bug!r}") from bug
        done += 1
    tally.tell(f"inputs, {kind}", texts=done)
    assert done == count


def test_that_every_text_stays_as_it_was_typed_in_a_card_with_all_its_rules(tally: Tally) -> None:
    cards = times(10_000, 100_000) // SHARE
    texts = odd_texts(cards * len(FIELDS))
    for _ in range(cards):
        card, typed = SOUND, {}
        for path in FIELDS:
            typed[path] = next(texts)
            card = with_value(card, path, typed[path])
        state = look_at(card, RULEBOOK)
        assert state.typed == card
        for path, text in typed.items():
            if path != ORDER:
                assert _stands(value_at(state.typed, path), text), (path, text)
    tally.tell("inputs, whole cards with all rules", cards=cards, texts=cards * len(FIELDS))


def _stands(kept: Value, text: str) -> bool:
    """Tell whether a text is kept: as it is, none when it is blank, and a whole number without its zeros before."""
    if not text.strip():
        return kept is None
    return kept == text or (text.strip().isdecimal() and kept == str(int(text))) or kept == text.strip()


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
