"""Task cards as values (to be written)."""

from dataclasses import dataclass
from enum import StrEnum


class BoxKind(StrEnum):
    """Kind of a box."""

    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Box:
    """A box."""

    kind: BoxKind
    hazard: str
    text: str
    only: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """A step."""

    id: str
    only: tuple[str, ...]
    boxes: tuple[Box, ...]
    instruction: str
    description: str
    capture: str
    initials: bool
    inspector: bool


@dataclass(frozen=True, slots=True)
class TaskCard:
    """A card."""

    id: str
    revision: int
    title: str
    scheme: str
    applies: str
    steps: tuple[Step, ...]


def steps_for(card: TaskCard, facts: frozenset[str]) -> tuple[Step, ...]:
    """Pick steps."""
    return card.steps
