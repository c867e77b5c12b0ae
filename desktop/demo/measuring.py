"""Where a crankshaft stands, written as the disc, gauge or mark of a demo job shows it."""

from dataclasses import dataclass, replace
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.timing.measuring import Scale
from desktop.core.timing.typed_card import TypedMeasure

CONTACT = Fraction(40)
"""How far from TDC the demo's piston stop meets the piston, in crankshaft degrees."""
OTHER_CONTACT = 360 - CONTACT
"""Where it meets it against rotation, the long way round from the first contact."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way of measuring; ``turns`` of disc or gauge for one of the crankshaft, ``stood`` what it read at TDC at first.

    ``turns_back`` is False where the engine may not be turned against rotation.
    """

    measure: TypedMeasure
    turns: Fraction = Fraction(1)
    stood: Fraction = Fraction(0)
    turns_back: bool = True

    @property
    def has_stop(self) -> bool:
        """Whether TDC comes from the two contacts of a piston stop."""
        return self.measure.by != "marks"

    def at(self, btdc: Fraction, *, off: Fraction = Fraction(0), first: bool = False) -> str:
        """Write what stands under the pointer so many crankshaft degrees before TDC.

        ``first``: before the disc was set to zero. ``off``: by how much it moved since, in its own degrees.
        """
        zero = off + (self.stood if first or not self.measure.zeroed else Fraction(0))
        scale = Scale(-1 if self.measure.counts == "down" else 1, self.turns, zero, self._is_split)
        reading = scale.reading_at(btdc)
        step = Fraction(self.measure.read_to or "1")
        return "" if reading is None else scale.written(round(reading / step) * step)

    def number_at(self, btdc: Fraction) -> str:
        """Write the same as a plain number, as a step asks for it: before zero on a split scale counts as minus."""
        number, _, word = self.at(btdc).partition(" ")
        return f"-{number}" if word == "before" else number

    def values(self) -> tuple[tuple[str, str | bool], ...]:
        """Return what is typed about the way, with the path of each."""
        typed = {name: getattr(self.measure, name) for name in ("by", "marking", "counts", "read_to", "on", "zeroed")}
        return tuple((f"measure.{name}", value) for name, value in typed.items() if value is not None)

    @property
    def _is_split(self) -> bool:
        return self.measure.marking != "full"


DISC = Way(TypedMeasure("disc", "full", "up", "0.5", "propeller", zeroed=True), stood=Fraction(12))
SPLIT_DISC = Way(TypedMeasure("disc", "split", None, "0.5", "propeller", zeroed=True), stood=Fraction(-9))
GAUGE = Way(TypedMeasure("gauge", "split", None, "0.5", "propeller", zeroed=False), stood=Fraction(7))
MARKS = Way(TypedMeasure("marks", read_to="0.5"))
MARKS_FORWARD = replace(MARKS, turns_back=False)


def geared(way: Way, turns: Fraction) -> Way:
    """Return a way of measuring at a geared propeller."""
    return replace(way, turns=turns)


def plain(value: Fraction) -> str:
    """Write a number with as many decimals as it has, six at most."""
    return typed_text.plain(value, 6)
