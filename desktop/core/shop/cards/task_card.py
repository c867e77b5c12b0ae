"""Task cards as values: steps in the order of work, each with the boxes that stand before it."""

from dataclasses import dataclass, replace
from enum import StrEnum

FACTS: tuple[tuple[str, str], ...] = (
    ("disc", "The crankshaft is measured with a timing disc."),
    ("gauge", "The crankshaft is measured with an angle gauge on the propeller."),
    ("marks", "The crankshaft is measured by the engine's own marks, or by a piston-position indicator."),
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
    ("radial", "The engine is a radial."),
    ("opposed", "The engine is an opposed one, so no cylinder points down."),
    ("twin", "The aircraft has more than one engine."),
    ("removed", "Every magneto on the card is off the engine as the card begins, or was off it during the job."),
    ("retard breaker", "A magneto on the card has a retard breaker."),
    ("back allowed", "The sheet allows turning the engine against rotation."),
    ("back limited", "The sheet limits turning the engine against rotation."),
    ("back forbidden", "The sheet forbids turning the engine against rotation."),
    ("safe elsewhere", "An earlier card of the order made the ignition safe."),
    ("found elsewhere", "The timing as found stands on an earlier card of the order."),
    ("plugs elsewhere", "Another card of the order fits the plugs."),
    ("leads elsewhere", "Another card of the order fits the plug leads and has them traced."),
    ("closed elsewhere", "Another card of the order closes up: tools, pins and stops counted, systems normal."),
    ("run-up elsewhere", "Another card of the order takes the run-up as left."),
)
"""What a job may say of itself, each with its sentence. Conditions of steps and boxes use these words only.

A fact that is not known is absent, and the cards are written so that absence drops no caution: a step that only a
radial needs asks for "not opposed". Of opposed and radial at most one holds, and of the three about turning back.
"""

ELSEWHERE: tuple[str, ...] = tuple(name for name, _ in FACTS if name.endswith(" elsewhere"))
"""The facts that say what other cards of the order do, so that this one does not do it again."""

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
    "choice",
    "reading",
    "part",
    "run-up as found",
)
"""What a step may capture."""

CUT = "cut"
CUT_ANSWERS, CUT_STOPS = ("yes", "no"), ("no",)
"""Whether the engine cut at OFF: one that does not can kill whoever turns the propeller."""

UNITS: tuple[str, ...] = ("in", "mm", "rpm", "°", "in-lb", "ft-lb", "N·m", "kΩ", "Ω", "kV", "psi", "V")
"""The units of a reading that a step asks for."""

LIMITS: tuple[str, ...] = (
    "e-gap",
    "contact gap",
    "retard breaker",
    "impulse lag",
    "plug gap",
    "plug torque",
    "clamp torque",
    "nut torque",
    "run-up drop",
    "run-up apart",
    "lead resistance",
)
"""The limits of a sheet that a reading may be held against."""

SIDES: tuple[str, ...] = ("left", "right")
"""Whose reading or step it is, where it belongs to one magneto."""

FEWEST_CHOICES, MOST_CHOICES = 2, 8
"""How many answers a step may offer."""

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
class Say:
    """A part of a description that stands there only for jobs of which its conditions hold."""

    text: str
    only: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One action. `capture` is one of CAPTURES; `inspector` says that the inspector must see it before it is covered.

    `board` is how something on the safe-state board stands once the step is confirmed, such as "plug leads off".
    `choices` are the answers of a "choice" (2 to 8), `stops` those of them with which a card is not submitted.
    A "reading" has a `unit` of UNITS, or "" for that of its `limit`; `limit` is one of LIMITS, or "". `side` is the
    magneto that the step is about, or "". `second`: initialled by somebody other than who initialled the step before.
    `may_skip`: n/a is legal, with a reason; every other step that asks for initials must be done. `section` is the name
    by which other cards use the step.
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
    section: str = ""
    choices: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    unit: str = ""
    limit: str = ""
    side: str = ""
    second: bool = False
    may_skip: bool = False
    says: tuple[Say, ...] = ()


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
    """Return the steps that apply to a job, in order, each with the boxes and the parts of its description that apply.

    Raise ValueError for a fact outside FACTS: it would drop steps in silence.
    """
    if unknown := facts - _FACT_NAMES:
        raise ValueError(f"facts that no card knows: {', '.join(sorted(unknown))}")
    return tuple(_for_job(step, facts) for step in card.steps if holds(step.only, facts))


def _for_job(step: Step, facts: frozenset[str]) -> Step:
    said = [step.description, *(say.text for say in step.says if holds(say.only, facts))]
    boxes = tuple(box for box in step.boxes if holds(box.only, facts))
    return replace(step, boxes=boxes, description=" ".join(text for text in said if text), says=())
