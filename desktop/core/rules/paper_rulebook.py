"""The rules about paperwork with their sentences, and the list of every rule that there is."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from desktop.core.rules.order_rules import ORDER_RULES
from desktop.core.rules.paperwork import CardInShop, CardRule, OrderInShop
from desktop.core.rules.rule import RuleOf, Seen, Severity
from desktop.core.rules.rulebook import TIMING_RULES, RulebookOf
from desktop.core.rules.sheet_rules import SHEET_RULES
from desktop.core.rules.step_rules import STEP_RULES
from desktop.core.rules.work_rules import WORK_RULES

CARD_RULES: tuple[CardRule, ...] = SHEET_RULES + STEP_RULES + WORK_RULES
"""The rules that stand against submitting a card."""


class Paperwork:
    """The rules about a card on an order and about an order before its approval, with the sentences of one language.

    Raises ValueError when a rule has no sentence, or a sentence no rule.
    """

    def __init__(self, sentences: Mapping[str, str]) -> None:
        of_orders = {rule.id for rule in ORDER_RULES}
        self.of_card: RulebookOf[CardInShop] = RulebookOf(
            CARD_RULES, {name: said for name, said in sentences.items() if name not in of_orders}
        )
        self.of_order: RulebookOf[OrderInShop] = RulebookOf(
            ORDER_RULES, {name: said for name, said in sentences.items() if name in of_orders}
        )


@dataclass(frozen=True, slots=True)
class ListedRule:
    """A rule as it is listed: ``about`` says what it looks at, ``remedy`` what to do, in a line."""

    id: str
    about: str
    severity: Severity
    source: str
    fields: tuple[str, ...]
    sentence: str
    remedy: str


def every_rule(
    findings: Mapping[str, str], paperwork: Mapping[str, str], remedies: Mapping[str, str]
) -> Iterator[ListedRule]:
    """Yield every rule, those about readings first. Raise ValueError when a remedy has no rule."""
    ids = {*(one.id for one in TIMING_RULES), *(one.id for one in CARD_RULES), *(one.id for one in ORDER_RULES)}
    if odd := set(remedies) - ids:
        raise ValueError(f"remedies without a rule: {', '.join(sorted(odd))}")
    for timing in TIMING_RULES:
        yield _listed("readings", timing, findings, remedies)
    for of_card in CARD_RULES:
        yield _listed("card", of_card, paperwork, remedies)
    for of_order in ORDER_RULES:
        yield _listed("order", of_order, paperwork, remedies)


def _listed(about: str, rule: RuleOf[Seen], said: Mapping[str, str], remedies: Mapping[str, str]) -> ListedRule:
    return ListedRule(rule.id, about, rule.severity, rule.source, rule.fields, said[rule.id], remedies[rule.id])
