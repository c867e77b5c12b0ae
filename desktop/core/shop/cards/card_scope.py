"""Which findings of readings concern a card: one that takes no reading as left is not stopped for want of one."""

from collections.abc import Iterable
from dataclasses import replace

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding
from desktop.core.shop.cards.task_card import TaskCard

AS_LEFT = frozenset({"as left left", "as left right"})
AS_FOUND = frozenset({"as found left", "as found right"})
CRANK = frozenset({"stop pairs", "closing pair", "centre by feel", "compression"})
RUN_UP, RUN_UP_FOUND = "run-up", "run-up as found"
TORQUE = "torque"
TIMED = AS_LEFT | AS_FOUND | CRANK | {"setting left", "setting right", "synchronisation"}
"""What a step captures of the crankshaft and of the light: a card with one of these says how it measured."""

_AS_LEFT_RULES = frozenset(
    {
        "against-rotation",
        "back-off-least",
        "back-off-most",
        "within-backlash",
        "click-not-passed",
        "snapped",
        "approach-without-tdc",
        "approach-disc-moved",
        "setting-after",
        "one-approach",
        "backlash-unknown",
        "under-twice-backlash",
        "advanced",
        "retarded",
        "too-close",
        "magnetos-apart",
        "probability-low",
    }
)
_RUN_UP_RULES = frozenset({"no-drop", "drop-outside", "drops-apart"})
_NOT_MEASURED = "not-measured"
_CLOSING_RULE, _CLOSING = "no-closing-pair", "closing pair"
_LIVE = "no-drop"


def captures_of(task: TaskCard) -> frozenset[str]:
    """Return everything that the steps of a card capture."""
    return frozenset(step.capture for step in task.steps)


def takes_timing(task: TaskCard) -> bool:
    """Tell whether a card takes readings of the crankshaft or of the light."""
    return bool(captures_of(task) & TIMED)


def takes_readings(task: TaskCard) -> bool:
    """Tell whether a card takes readings that are worked out: timing or run-up."""
    return takes_timing(task) or bool(captures_of(task) & {RUN_UP, RUN_UP_FOUND})


def in_scope(task: TaskCard, findings: Iterable[SaidFinding]) -> tuple[SaidFinding, ...]:
    """Return the findings that concern a card, in their order.

    A card that takes no reading as left hears nothing of those; one without timing nothing of TDC. Drops out of limits
    as found are noted and do not stop: being out as found is a discrepancy to record. A magneto that does not cut stops
    always, because it can kill.
    """
    return scoped(captures_of(task), findings)


def scoped(held: frozenset[str], findings: Iterable[SaidFinding]) -> tuple[SaidFinding, ...]:
    """Return the findings that concern a card whose steps capture these, in their order."""
    return tuple(one for one in (_scoped(held, finding) for finding in findings) if one is not None)


def _scoped(held: frozenset[str], finding: SaidFinding) -> SaidFinding | None:
    if finding.rule in _RUN_UP_RULES:
        if RUN_UP in held or (RUN_UP_FOUND in held and finding.rule == _LIVE):
            return finding
        return replace(finding, severity=Severity.NOTE) if RUN_UP_FOUND in held else None
    if not held & TIMED or (finding.rule == _CLOSING_RULE and _CLOSING not in held and not held & AS_LEFT):
        return None
    if held & AS_LEFT:
        return finding
    is_of_approach = finding.rule == _NOT_MEASURED and finding.where.endswith(".approach")
    return None if finding.rule in _AS_LEFT_RULES or is_of_approach else finding
