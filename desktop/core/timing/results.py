"""What is worked out from a card, as values."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from desktop.core.timing.approach import Judged
from desktop.core.timing.drive import Housing, Mesh
from desktop.core.timing.firing_order import Firing
from desktop.core.timing.measuring import Scale
from desktop.core.timing.mistakes import Mistake
from desktop.core.timing.readings import Card, Magneto, Side
from desktop.core.timing.run_up import Drops
from desktop.core.timing.tdc import TdcFinding


class Verdict(StrEnum):
    """How a timing stands against its limits."""

    WITHIN = "within"
    ADVANCED = "advanced"
    RETARDED = "retarded"
    TOO_CLOSE = "too close"
    NOT_ESTABLISHED = "not established"


class SyncVerdict(StrEnum):
    """How the two magnetos stand to each other."""

    WITHIN = "within"
    OUTSIDE = "outside"
    NOT_ESTABLISHED = "not established"


@dataclass(frozen=True, slots=True)
class Timing:
    """An established timing in crankshaft degrees; positive deviation is advanced."""

    btdc: Fraction
    deviation: Fraction
    verdict: Verdict
    variance: Fraction
    probability_within: float
    mistakes: tuple[Mistake, ...]


@dataclass(frozen=True, slots=True)
class MagnetoResult:
    """One magneto worked out.

    ``last`` is its last as-left approach, ``setting_after`` a setting that came later, ``timing`` what they
    establish. ``housing`` is None where the housing is turned by the other side.
    """

    magneto: Magneto
    ratio: Fraction
    target: Fraction | None
    judged: tuple[Judged, ...]
    last: Judged | None
    setting_after: Judged | None
    timing: Timing | None
    found: Judged | None
    found_timing: Timing | None
    repeats: int
    back_off: Fraction | None
    backlash: Fraction | None
    housing: Housing | None
    mesh: Mesh | None
    click: Fraction | None

    @property
    def verdict(self) -> Verdict:
        """The verdict of the timing as left."""
        return self.timing.verdict if self.timing else Verdict.NOT_ESTABLISHED

    @property
    def deviation(self) -> Fraction | None:
        """The deviation as left in crankshaft degrees, None while not established."""
        return self.timing.deviation if self.timing else None


@dataclass(frozen=True, slots=True)
class Sync:
    """Left deviation less right deviation in crankshaft degrees, and the verdict where a limit is given."""

    difference: Fraction | None
    verdict: SyncVerdict | None


@dataclass(frozen=True, slots=True)
class Worked:
    """Everything that one card gives."""

    card: Card
    scale: Scale
    tdc: TdcFinding
    left: MagnetoResult | None
    right: MagnetoResult | None
    sync: Sync | None
    firing: tuple[Firing, ...]
    run_up: Drops | None
    torque: tuple[Fraction, ...]

    @property
    def magnetos(self) -> tuple[MagnetoResult, ...]:
        """The results of the magnetos on the card, left first."""
        return tuple(result for result in (self.left, self.right) if result)

    def of(self, side: Side) -> MagnetoResult | None:
        """Return one side's result."""
        return self.left if side is Side.LEFT else self.right
