"""Lengths and torques shown in the other system of units, beside what was typed. The typed value stays what it is.

The factors are exact: NIST SP 811 (2008), appendix B.8: 1 inch = 25.4 mm, 1 pound = 0.453 592 37 kg, standard gravity
9.806 65 m/s2; a pound-force inch is the product of the three. Rounding follows its appendix B.7: as fine as what was
typed, and not finer than that by a whole digit.
"""

from fractions import Fraction

from desktop.core.typed_text import decimals, number, plain

INCH_POUND, SI = "inch-pound", "SI"
MM_AN_INCH = Fraction("25.4")
NEWTON_METRES_AN_INCH_POUND = Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.0254")
INCHES_A_FOOT = 12
_TO: dict[str, dict[str, tuple[str, Fraction]]] = {
    SI: {
        "in": ("mm", MM_AN_INCH),
        "in-lb": ("N·m", NEWTON_METRES_AN_INCH_POUND),
        "ft-lb": ("N·m", NEWTON_METRES_AN_INCH_POUND * INCHES_A_FOOT),
    },
    INCH_POUND: {"mm": ("in", 1 / MM_AN_INCH), "N·m": ("in-lb", 1 / NEWTON_METRES_AN_INCH_POUND)},
}
UNITS = tuple(dict.fromkeys(unit for row in _TO.values() for unit in row))
"""The units of which there is another one to show."""
_MOST_PLACES = 8


def converted(value: Fraction, unit: str, system: str) -> tuple[Fraction, str] | None:
    """Return a value in a system's unit, exact; None when it stands in that system, or is neither length nor torque."""
    to = _TO.get(system, {}).get(unit)
    return (value * to[1], to[0]) if to else None


def other_words(text: str, unit: str, system: str) -> str:
    """Say a typed value in a system's unit, such as ``about 22.6 N·m``; empty where there is nothing to say."""
    value = number(text.strip())
    found = converted(value, unit, system) if value is not None else None
    if value is None or found is None:
        return ""
    return f"about {plain(found[0], _places(Fraction(1, 10 ** decimals(text)), unit, system))} {found[1]}"


def _places(step: Fraction, unit: str, system: str) -> int:
    """Return the fewest decimals whose last place is not coarser than the step of what was typed."""
    fine = step * _TO[system][unit][1]
    return next((places for places in range(_MOST_PLACES) if Fraction(1, 10**places) <= fine), _MOST_PLACES)
