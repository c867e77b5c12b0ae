"""Each rule about paperwork fires in one case, and stays silent in a near twin."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from desktop.core.rules.order_rules import ORDER_RULES
from desktop.core.rules.paper_rulebook import CARD_RULES, Paperwork, every_rule
from desktop.core.rules.paperwork import CardInShop, OrderInShop
from desktop.core.rules.rule import Finding, Severity
from desktop.core.rules.rulebook import TIMING_RULES, places_in
from desktop.core.shop.orders.order_card import StepDone
from desktop.files.sentences import finding_sentences, paperwork_sentences, remedies
from tests.core.rules.cases import FIRES, PEOPLE, SILENT, SOUND_CARD, SOUND_ORDER, at, with_done

BOOK = Paperwork(paperwork_sentences())
Make = Callable[[], CardInShop | OrderInShop]


def found_in(seen: CardInShop | OrderInShop) -> tuple[Finding, ...]:
    return BOOK.of_card.find(seen) if isinstance(seen, CardInShop) else BOOK.of_order.find(seen)


def said(seen: CardInShop | OrderInShop, finding: Finding) -> str:
    book = BOOK.of_card if isinstance(seen, CardInShop) else BOOK.of_order
    return book.say(finding).sentence


@pytest.mark.parametrize(
    ("rule", "name", "make", "where"), FIRES, ids=[f"{rule}, {name}" for rule, name, _, _ in FIRES]
)
def test_that_a_rule_fires_at_its_place(rule: str, name: str, make: Make, where: str) -> None:
    seen = make()
    mine = [finding for finding in found_in(seen) if finding.rule == rule]
    assert where in {finding.where for finding in mine}, name
    for finding in mine:
        sentence = said(seen, finding)
        assert "{" not in sentence
        assert all(value in sentence for _, value in finding.values)


@pytest.mark.parametrize(("rule", "name", "make"), SILENT, ids=[f"{rule}, {name}" for rule, name, _ in SILENT])
def test_that_a_rule_is_silent_in_a_near_twin(rule: str, name: str, make: Make) -> None:
    assert rule not in {finding.rule for finding in found_in(make())}, name


def test_that_nothing_is_found_on_a_sound_card_and_a_sound_order() -> None:
    assert found_in(SOUND_CARD) == ()
    assert found_in(SOUND_ORDER) == ()


def test_that_every_rule_about_paper_fires_in_some_case() -> None:
    ids = {one.id for one in CARD_RULES} | {one.id for one in ORDER_RULES}
    assert {rule for rule, *_ in FIRES} == ids


def test_that_a_shop_of_one_person_may_explain_what_asks_for_a_second_one() -> None:
    seen = with_done("traced", StepDone("traced", at(10)))
    (here,) = [one for one in found_in(seen) if one.rule == "second-person-same"]
    (alone,) = [one for one in found_in(replace(seen, people=PEOPLE[:1])) if one.rule == "second-person-same"]
    assert (here.severity, alone.severity) == (Severity.STOPS, Severity.EXPLAIN)


def test_that_the_list_of_rules_has_each_with_its_sentence_source_remedy_and_fields() -> None:
    listed = tuple(every_rule(finding_sentences(), paperwork_sentences(), remedies()))
    assert len(listed) == len(TIMING_RULES) + len(CARD_RULES) + len(ORDER_RULES)
    assert len({one.id for one in listed}) == len(listed)
    for one in listed:
        assert one.sentence.strip().endswith(".")
        assert one.remedy.endswith(".")
        assert one.source.endswith((".", ")"))
        assert one.fields
        assert places_in(one.sentence) is not None


def test_that_a_remedy_without_a_rule_is_an_error_of_the_program() -> None:
    with pytest.raises(ValueError, match="remedies without a rule: odd"):
        tuple(every_rule(finding_sentences(), paperwork_sentences(), {**remedies(), "odd": "Do it."}))
