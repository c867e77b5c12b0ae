"""Task cards as values: steps in the order of work, each with the boxes that stand before it."""

from dataclasses import dataclass, replace
from enum import StrEnum

FACTS: tuple[tuple[str, str], ...] = (
    ("disc", "The crankshaft is measured with a timing disc."),
    ("gauge", "The crankshaft is measured with an angle gauge on the propeller."),
    ("marks", "The crankshaft is measured by the engine's own marks."),
    ("split", "The disc or gauge is marked 0 to 180 each way."),
    ("zeroed", "The disc or gauge is set so that TDC reads 0."),
    ("geared", "A geared propeller carries the disc or gauge."),
    ("left", "The left magneto is on the card."),
    ("right", "The right magneto is on the card."),
    ("both", "The left and the right magneto are on the card."),
    ("one housing", "Both breakers stand in one housing on one drive."),
    ("left impulse", "The left magneto has an impulse coupling."),
    ("right impulse", "The right magneto has an impulse coupling."),
    ("impulse", "At least one magneto on the card has an impulse coupling."),
    ("torque", "A torque wrench is to be set for the job."),
    ("run-up", "The run-up as left is on the card."),
)
"""What a job may say of itself, each with its sentence. Conditions of steps and boxes use these words only."""

CAPTURES: tuple[str, ...] = (
    "confirm",
    "stop pairs",
    "closing pair",
    "compression",
    "centre by feel",
    "as found left",
    "as found right",
    "turn left",
    "turn right",
    "turn housing",
    "setting left",
    "setting right",
    "as left left",
    "as left right",
    "synchronisation",
    "torque",
    "run-up",
    "cut",
    "text",
    "tool",
    "leads",
)
"""What a step may capture."""

_FACT_NAMES = frozenset(name for name, _ in FACTS)
_NOT = "not "


class BoxKind(StrEnum):
    """What a box is about, in the scheme of technical manuals and in the order in which boxes stand."""

    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Box:
    """A box before a step: injury or death, damage to equipment, or a help. Hazard first, then how to avoid it."""

    kind: BoxKind
    hazard: str
    text: str
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One action. `capture` is one of CAPTURES; `inspector` says that the inspector must see it.

    `board` is how something on the safe-state board stands once the step is confirmed, such as "plug leads off".
    """

    id: str
    only: tuple[str, ...]
    boxes: tuple[Box, ...]
    instruction: str
    description: str
    capture: str
    initials: bool
    inspector: bool
    board: str = ""


@dataclass(frozen=True, slots=True)
class TaskCard:
    """A card for one kind of work. `scheme` explains the signal words, `applies` says where the card may be used."""

    id: str
    revision: int
    title: str
    scheme: str
    applies: str
    steps: tuple[Step, ...]


def fact_of(condition: str) -> str:
    """Return the fact that a condition speaks about, whether it asks for it or for its absence."""
    return condition.removeprefix(_NOT)


def is_known(condition: str) -> bool:
    """Tell whether a condition is a fact, or "not " and a fact."""
    return fact_of(condition) in _FACT_NAMES


def holds(only: tuple[str, ...], facts: frozenset[str]) -> bool:
    """Tell whether all conditions hold; none at all always hold. One that begins with "not " asks for absence."""
    return all((fact_of(condition) in facts) is not condition.startswith(_NOT) for condition in only)


def steps_for(card: TaskCard, facts: frozenset[str]) -> tuple[Step, ...]:
    """Return the steps that apply to a job, in order, each with the boxes that apply.

    Raise ValueError for a fact outside FACTS: it would drop steps in silence.
    """
    if unknown := facts - _FACT_NAMES:
        raise ValueError(f"facts that no card knows: {', '.join(sorted(unknown))}")
    return tuple(
        replace(step, boxes=tuple(box for box in step.boxes if holds(box.only, facts)))
        for step in card.steps
        if holds(step.only, facts)
    )
