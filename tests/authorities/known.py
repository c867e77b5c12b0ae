"""A value from outside the project, with its source and how near the program must come, in the trade's unit."""

from dataclasses import dataclass

from desktop.core.timing.read_card import read_card
from desktop.core.timing.readings import Card
from desktop.files.readings import read_readings
from tests.toml_card import Changes, changed, sound_card, text_of

HANDBOOK = "FAA-H-8083-32B"
GENERAL = "FAA-H-8083-30B"
PRACTICE = "common practice, no source"
MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Known:
    """A known value; ``within`` is the tolerance, 0 for a value that must be met exactly."""

    value: float
    source: str
    within: float = 0.0

    def agrees(self, found: float) -> bool:
        """Whether a found value is the known one."""
        return abs(float(found) - self.value) <= self.within


def core_card(changes: Changes | None = None) -> Card:
    """The sound card, changed, as the core sees it."""
    card = read_card(read_readings(text_of(changed(sound_card(), changes or {})).encode())).card
    assert card is not None
    return card


def cylinders(count: int) -> Changes:
    """Changes for an engine of so many cylinders, firing in the order of their numbers."""
    return {"engine.cylinders": count, "engine.firing_order": list(range(1, count + 1))}
