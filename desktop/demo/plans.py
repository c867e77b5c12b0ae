"""How a demo job goes: how the crankshaft is measured, what each magneto is found and left at, who does what."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from desktop.core.timing.readings import Side
from desktop.demo.measuring import Way


@dataclass(frozen=True, slots=True)
class Stands:
    """How a magneto stands, in crankshaft degrees, positive advanced; ``found`` None where it was not read as found."""

    found: Fraction | None = Fraction(0)
    left: Fraction = Fraction(0)

    @property
    def is_turned(self) -> bool:
        """Whether its housing is turned on the way."""
        return self.found is None or self.found != self.left


@dataclass(frozen=True, slots=True)
class Plan:
    """How the cards of a job are worked.

    ``hands`` does the work, ``second`` the steps for a second person. ``says`` holds answers by the id of a step, with
    or without its side; ``skips`` the reasons for steps that are left out. ``tools`` are named at the step for the
    tools, the first of them the light. ``run_up`` is on BOTH, L and R, ``run_up_found`` the same before the work.
    ``against`` names a magneto whose last approach comes against rotation; ``disc_moves`` by how much the closing pair
    is off, in degrees of the disc. ``seen_from`` is the end of the magnetos that the mechanic faces.
    """

    hands: str
    second: str
    way: Way
    stands: Mapping[Side, Stands]
    tools: tuple[str, ...] = ()
    says: Mapping[str, str] = field(default_factory=dict)
    skips: Mapping[str, str] = field(default_factory=dict)
    run_up: tuple[str, str, str] = ("1700", "1640", "1630")
    run_up_found: tuple[str, str, str] = ("1700", "1635", "1620")
    wrench: str = "8"
    extension: str = "2"
    against: Side | None = None
    disc_moves: Fraction = Fraction(0)
    seen_from: str = "back"

    def of(self, side: Side) -> Stands:
        """Return how a magneto stands."""
        return self.stands.get(side, Stands())
