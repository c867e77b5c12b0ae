"""What a rule is: data, and one pure function from what was worked out to findings."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeAlias, TypeVar

from desktop.core.timing.results import Worked

Seen = TypeVar("Seen")
"""What a rule looks at: what was worked out from readings, or a card with the order around it."""


class Severity(StrEnum):
    """What a finding asks for.

    ``stops``: nobody may approve it. ``explain``: a written reason is needed. ``note``: read it and go on.
    """

    STOPS = "stops"
    EXPLAIN = "explain"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: the rule, how hard it is, the key that it speaks of, and the values of its sentence."""

    rule: str
    severity: Severity
    where: str
    values: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)  # without slots: a named kind of a generic, such as Rule, could not be called with them
class RuleOf(Generic[Seen]):
    """A rule; ``find`` gives findings of this rule only and never raises for what a person typed.

    ``id`` never changes its meaning. ``source`` says where the rule comes from; ``fields`` what it speaks about.
    """

    id: str
    severity: Severity
    source: str
    fields: tuple[str, ...]
    find: Callable[["RuleOf[Seen]", Seen], Iterable[Finding]]

    def finding(self, where: str, severity: Severity | None = None, **values: str) -> Finding:
        """Make a finding of this rule."""
        return Finding(self.id, severity or self.severity, where, tuple(values.items()))


Rule: TypeAlias = RuleOf[Worked]
"""A rule about readings."""
