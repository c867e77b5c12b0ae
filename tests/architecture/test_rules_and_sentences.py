"""Every rule has a sentence, a source and fields, and every sentence gets the values that it asks for."""

import re

import pytest

from desktop.assembly import rulebook
from desktop.core.rules.rule import Finding, Severity
from desktop.core.rules.rulebook import TIMING_RULES, Rulebook, places_in
from desktop.core.timing.read_card import read_card
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.work_out import work_out
from desktop.files.readings import read_readings
from desktop.files.sentences import finding_sentences
from tests.core.timing.finding_cases import CASES
from tests.toml_card import changed, text_of

SENTENCES = finding_sentences()
MOST_WORDS = 45


def findings_of_all_cases() -> list[Finding]:
    book = rulebook()
    found: list[Finding] = []
    for _, _, _, make, changes, _ in CASES:
        card = read_card(read_readings(text_of(changed(make(), changes)).encode())).card
        assert card is not None
        found += book.find(work_out(card))
    return found


FOUND = findings_of_all_cases()


@pytest.mark.parametrize("rule", TIMING_RULES, ids=[rule.id for rule in TIMING_RULES])
def test_that_a_rule_has_a_sentence_a_source_and_fields(rule: object) -> None:
    (same,) = (one for one in TIMING_RULES if one is rule)
    assert SENTENCES[same.id].strip()
    assert same.source.strip().endswith((".", ")"))
    assert same.fields
    assert all(re.fullmatch(r"[a-z_]+(\.[a-z_]+)*", field) for field in same.fields)
    assert isinstance(same.severity, Severity)


@pytest.mark.parametrize("rule", TIMING_RULES, ids=[rule.id for rule in TIMING_RULES])
def test_that_the_fields_of_a_rule_are_keys_of_the_form(rule: object) -> None:
    (same,) = (one for one in TIMING_RULES if one is rule)
    card = text_of_every_key()
    for field in same.fields:
        assert field.split(".")[-1] in card, field


def text_of_every_key() -> set[str]:
    """Every key that a readings file can have, from the typed card itself."""
    from dataclasses import fields, is_dataclass  # noqa: PLC0415 - used here only
    from typing import get_args, get_type_hints  # noqa: PLC0415 - the same

    names: set[str] = set()
    waiting: list[object] = [TypedCard]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and is_dataclass(kind):
            names |= {one.metadata.get("key", one.name) for one in fields(kind)}
            waiting += list(get_type_hints(kind).values())
        else:
            waiting += list(get_args(kind))
    return names


def test_that_every_rule_is_found_in_some_case() -> None:
    assert {finding.rule for finding in FOUND} == {rule.id for rule in TIMING_RULES}


@pytest.mark.parametrize("rule", sorted(SENTENCES))
def test_that_a_sentence_gets_every_value_that_it_asks_for(rule: str) -> None:
    asked = places_in(SENTENCES[rule])
    given = [frozenset(name for name, _ in finding.values) for finding in FOUND if finding.rule == rule]
    assert given
    assert all(asked <= values for values in given)
    assert len(set(given)) == 1


def test_that_no_rule_gives_a_value_that_no_sentence_of_its_kind_asks_for() -> None:
    # Rules that share one function give the same values, and each is asked for by a sentence of one of them.
    by_function: dict[object, set[str]] = {}
    for rule in TIMING_RULES:
        by_function.setdefault(rule.find, set()).update(places_in(SENTENCES[rule.id]))
    function = {rule.id: rule.find for rule in TIMING_RULES}
    for finding in FOUND:
        assert {name for name, _ in finding.values} <= by_function[function[finding.rule]], finding.rule


def test_that_no_value_is_empty() -> None:
    for finding in FOUND:
        for name, value in finding.values:
            assert value.strip(), f"{finding.rule}: {name}"


@pytest.mark.parametrize("rule", sorted(SENTENCES))
def test_that_a_sentence_is_short_and_whole(rule: str) -> None:
    sentence = SENTENCES[rule]
    assert sentence.endswith(".")
    assert sentence[0].isupper() or sentence[0] == "{"
    assert "  " not in sentence
    assert "\n" not in sentence
    for part in re.split(r"(?<=[.:;]) ", sentence):
        assert len(part.split()) <= MOST_WORDS


def test_that_a_rulebook_with_a_missing_odd_or_double_sentence_cannot_be_built() -> None:
    first = TIMING_RULES[0]
    for sentences in ({}, {first.id: "A.", "odd": "B."}):
        with pytest.raises(ValueError, match="do not match"):
            Rulebook([first], sentences)
    with pytest.raises(ValueError, match="twice"):
        Rulebook([first, first], {first.id: "A."})
