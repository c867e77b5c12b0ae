"""Whether an approach establishes a timing. However good its number looks, one that does not is not a reading.

Source: because of gear backlash a timing reading is taken in the direction of rotation, FAA-H-8083-32B pp. 4-27,
4-30; with an impulse coupling the snap is passed first, TM 1-1500-204-23-1; how far to back off, common practice.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from desktop.core.timing.measuring import Scale
from desktop.core.timing.readings import Approach, Magneto

CLEARLY = 2


class Void(StrEnum):
    """A reason for which an approach establishes nothing."""

    AGAINST_ROTATION = "against-rotation"
    BACK_OFF_LEAST = "back-off-least"
    BACK_OFF_MOST = "back-off-most"
    WITHIN_BACKLASH = "within-backlash"
    CLICK_NOT_PASSED = "click-not-passed"
    SNAPPED = "snapped"
    WITHOUT_TDC = "approach-without-tdc"
    DISC_MOVED = "approach-disc-moved"


@dataclass(frozen=True, slots=True)
class Judged:
    """One approach worked out, angles in crankshaft degrees.

    ``movement`` is positive with rotation, None when the direction was declared. ``backlash`` is its own;
    ``known_backlash`` the one that it was held against, its own or the latest before.
    """

    place: int
    approach: Approach
    movement: Fraction | None
    btdc: Fraction | None
    backlash: Fraction | None
    known_backlash: Fraction | None
    voids: tuple[Void, ...]

    @property
    def establishes(self) -> bool:
        """Nothing speaks against it."""
        return not self.voids

    @property
    def is_under_twice_backlash(self) -> bool:
        """It clears the backlash, but by less than that again."""
        if self.movement is None or self.known_backlash is None:
            return False
        return self.known_backlash < self.movement < CLEARLY * self.known_backlash


def judge_all(magneto: Magneto, scale: Scale, *, tdc_known: bool, disc_moved: bool) -> tuple[Judged, ...]:
    """Judge a magneto's approaches in the order taken.

    A disc set to zero has a zero on its scale even where no contact proves it: TDC is then still not known.
    """
    crank = [] if tdc_known else [Void.WITHOUT_TDC]
    if disc_moved:
        crank = [Void.DISC_MOVED]
    judged: list[Judged] = []
    known: Fraction | None = None
    for place, approach in enumerate(magneto.approaches, 1):
        own = None if approach.back is None else scale.movement(approach.back.value, approach.light.value)
        known = own if own is not None else known
        movement = None if approach.began is None else scale.movement(approach.began.value, approach.light.value)
        judged.append(
            Judged(
                place=place,
                approach=approach,
                movement=movement,
                btdc=scale.btdc(approach.light.value),
                backlash=own,
                known_backlash=known,
                voids=tuple(_against_movement(magneto, movement, known) + _against_coupling(magneto, approach) + crank),
            )
        )
    return tuple(judged)


def _against_movement(magneto: Magneto, movement: Fraction | None, backlash: Fraction | None) -> list[Void]:
    if movement is None:
        return [] if magneto.back_off_most is None else [Void.BACK_OFF_MOST]
    voids = []
    if movement <= 0:
        voids.append(Void.AGAINST_ROTATION)
    if magneto.back_off_least is not None and movement < magneto.back_off_least:
        voids.append(Void.BACK_OFF_LEAST)
    if magneto.back_off_most is not None and movement > magneto.back_off_most:
        voids.append(Void.BACK_OFF_MOST)
    if backlash is not None and movement <= backlash:
        voids.append(Void.WITHIN_BACKLASH)
    return voids


def _against_coupling(magneto: Magneto, approach: Approach) -> list[Void]:
    if magneto.impulse_lag is None:
        return []
    voids = [] if approach.click_passed else [Void.CLICK_NOT_PASSED]
    return [*voids, Void.SNAPPED] if approach.snapped else voids
