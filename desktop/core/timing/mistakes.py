"""Known mistakes that a deviation looks like."""

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from desktop.core.timing.drive import lag_on_crank, tooth
from desktop.core.timing.readings import Magneto

ALIKE_WITHIN = 2
TEETH_NAMED_EACH_WAY = 20  # reaches every match of a gear whose tooth is 0.1 crankshaft degrees or more


class Kind(StrEnum):
    """A mistake that the trade knows."""

    TDC_MARK = "mistake-tdc-mark"
    TEETH = "mistake-teeth"
    WRONG_HAND = "mistake-wrong-hand"
    LAG = "mistake-lag"


@dataclass(frozen=True, slots=True)
class Mistake:
    """A mistake and the deviation that it gives, in crankshaft degrees; ``teeth`` only where the mesh is out."""

    kind: Kind
    deviation: Fraction
    teeth: int = 0


def known_mistakes(magneto: Magneto, ratio: Fraction, deviation: Fraction) -> tuple[Mistake, ...]:
    """Name every known mistake within 2 crankshaft degrees of a deviation.

    Sources: the whole advance when the TDC mark was used, teeth of the mesh, twice the E-gap with the marks of the
    other hand, the lag of a coupling that was not released; sizes computed, the mistakes common practice.
    """
    suspects = [Mistake(Kind.TDC_MARK, -magneto.nominal)]
    suspects += _teeth(magneto, ratio, deviation)
    if magneto.e_gap is not None:
        suspects += [Mistake(Kind.WRONG_HAND, sign * 2 * magneto.e_gap / ratio) for sign in (1, -1)]
    lag = lag_on_crank(magneto, ratio)
    if lag is not None:
        suspects.append(Mistake(Kind.LAG, -lag))
    return tuple(one for one in suspects if abs(deviation - one.deviation) <= ALIKE_WITHIN)


def _teeth(magneto: Magneto, ratio: Fraction, deviation: Fraction) -> list[Mistake]:
    """List the whole numbers of teeth nearest to a deviation; a very fine gear has too many to name them all."""
    one = tooth(magneto)
    if one is None:
        return []
    on_crank = one / ratio
    nearest = math.floor(deviation / on_crank + Fraction(1, 2))
    around = range(nearest - TEETH_NAMED_EACH_WAY, nearest + TEETH_NAMED_EACH_WAY + 1)
    return [Mistake(Kind.TEETH, teeth * on_crank, teeth) for teeth in around if teeth]
