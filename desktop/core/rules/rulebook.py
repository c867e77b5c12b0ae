"""All rules together, and the one place that joins a finding with its sentence."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import Formatter
from typing import Generic, TypeAlias

from desktop.core.rules.approach_rules import APPROACH_RULES
from desktop.core.rules.crank_rules import CRANK_RULES
from desktop.core.rules.limit_rules import LIMIT_RULES, SAFETY_RULES
from desktop.core.rules.rule import Finding, Rule, RuleOf, Seen, Severity
from desktop.core.timing.results import Worked

TIMING_RULES: tuple[Rule, ...] = SAFETY_RULES + CRANK_RULES + APPROACH_RULES + LIMIT_RULES

_HARDEST_FIRST = (Severity.STOPS, Severity.EXPLAIN, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class SaidFinding:
    """A finding with its sentence and its source, as it is shown and printed."""

    rule: str
    severity: Severity
    where: str
    sentence: str
    source: str


class RulebookOf(Generic[Seen]):
    """Rules about one kind of thing with the sentences of one language.

    Raises ValueError when a rule has no sentence, a sentence has no rule, or an id stands twice.
    """

    def __init__(self, rules: Sequence[RuleOf[Seen]], sentences: Mapping[str, str]) -> None:
        ids = [rule.id for rule in rules]
        if len(set(ids)) != len(ids):
            raise ValueError("a rule's id stands twice")
        if set(ids) != set(sentences):
            odd = ", ".join(sorted(set(ids) ^ set(sentences)))
            raise ValueError(f"rules and sentences do not match: {odd}")
        self.rules = tuple(rules)
        self._sentences = dict(sentences)
        self._sources = {rule.id: rule.source for rule in rules}

    def find(self, seen: Seen) -> tuple[Finding, ...]:
        """Run every rule; the hardest findings come first, each group in the order of the rules."""
        findings = [finding for rule in self.rules for finding in rule.find(rule, seen)]
        return tuple(sorted(findings, key=lambda finding: _HARDEST_FIRST.index(finding.severity)))

    def say(self, finding: Finding) -> SaidFinding:
        """Join a finding's sentence with its values."""
        sentence = self._sentences[finding.rule].format_map(dict(finding.values))
        return SaidFinding(finding.rule, finding.severity, finding.where, sentence, self._sources[finding.rule])


Rulebook: TypeAlias = RulebookOf[Worked]
"""The rules about readings."""


def places_in(sentence: str) -> frozenset[str]:
    """Return the names of the values that a sentence asks for."""
    return frozenset(name for _, name, _, _ in Formatter().parse(sentence) if name)


def nothing_stops(findings: Sequence[Finding] | Sequence[SaidFinding]) -> bool:
    """Tell whether no finding stops the approval."""
    return all(finding.severity is not Severity.STOPS for finding in findings)
