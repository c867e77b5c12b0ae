"""From degrees as marked to crankshaft degrees: the one place where that is done."""

from dataclasses import dataclass
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.timing.angles import around, wrapped
from desktop.core.timing.readings import By, Card, Counts, Marking


@dataclass(frozen=True, slots=True)
class Scale:
    """How readings speak of the crankshaft.

    ``sense`` is +1 when readings rise as the crankshaft turns with rotation, -1 when they fall. ``carrier_ratio``
    is turns of the disc per crankshaft turn. ``zero`` is the reading at TDC, None while TDC is not known.
    """

    sense: int
    carrier_ratio: Fraction
    zero: Fraction | None
    split: bool

    def movement(self, start: Fraction, end: Fraction) -> Fraction:
        """Return the crankshaft degrees from one reading to another; positive is with rotation."""
        return wrapped(self.sense * (end - start)) / self.carrier_ratio

    def btdc(self, reading: Fraction) -> Fraction | None:
        """Return a reading as crankshaft degrees before TDC, None while TDC is not known."""
        if self.zero is None:
            return None
        return wrapped(-self.sense * (reading - self.zero)) / self.carrier_ratio

    def reading_at(self, btdc: Fraction) -> Fraction | None:
        """Return the reading that stands at so many crankshaft degrees before TDC, as the scale is marked."""
        if self.zero is None:
            return None
        return self.as_marked(self.zero - self.sense * self.carrier_ratio * btdc)

    def as_marked(self, reading: Fraction) -> Fraction:
        """Bring a reading into the numbers that the scale carries: [0, 360), or (-180, 180] on a split one."""
        return wrapped(reading) if self.split else around(reading)

    def written(self, reading: Fraction) -> str:
        """Write a reading as the mechanic reads it: ``338``, or ``22 before`` on a split scale."""
        rounded = round(reading, typed_text.SHOWN_DECIMALS)
        return typed_text.split_text(wrapped(rounded)) if self.split else typed_text.plain(around(rounded))


def scale_of(card: Card, tdc_reading: Fraction | None) -> Scale:
    """Return the scale of a card; a zeroed disc and the engine's marks stand at 0 at TDC."""
    measure = card.measure
    return Scale(
        sense=1 if measure.counts is Counts.UP else -1,
        carrier_ratio=card.carrier_ratio,
        zero=Fraction(0) if measure.zeroed else tdc_reading,
        split=measure.marking is Marking.SPLIT,
    )


def is_measured_with_stop(card: Card) -> bool:
    """Tell whether TDC comes from stop contacts; the engine's own marks need none."""
    return card.measure.by is not By.MARKS
