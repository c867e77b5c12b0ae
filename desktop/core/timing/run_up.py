"""The drops of the run-up: what the engine loses on each magneto alone.

Source: FAA-H-8083-32B p. 4-31, and pp. 10-26, 10-27: no drop at all means faulty grounding of the other side.
"""

from dataclasses import dataclass
from fractions import Fraction

from desktop.core.timing.readings import RunUp, Side


@dataclass(frozen=True, slots=True)
class Drops:
    """Drops in rpm and the sides that are outside; ``difference`` is left drop less right drop."""

    left_drop: Fraction
    right_drop: Fraction
    difference: Fraction
    no_drop: tuple[Side, ...]
    too_great: tuple[Side, ...]
    too_far_apart: bool

    @property
    def is_within(self) -> bool:
        """Both drops are there, neither is too great and they lie near enough."""
        return not (self.no_drop or self.too_great or self.too_far_apart)


def drops(run_up: RunUp) -> Drops:
    """Work out the drops; a value on its limit is within."""
    by_side = {Side.LEFT: run_up.both_rpm - run_up.left_rpm, Side.RIGHT: run_up.both_rpm - run_up.right_rpm}
    difference = by_side[Side.LEFT] - by_side[Side.RIGHT]
    return Drops(
        left_drop=by_side[Side.LEFT],
        right_drop=by_side[Side.RIGHT],
        difference=difference,
        no_drop=tuple(side for side, drop in by_side.items() if drop <= 0),
        too_great=tuple(side for side, drop in by_side.items() if drop > run_up.drop_most),
        too_far_apart=abs(difference) > run_up.apart_most,
    )
