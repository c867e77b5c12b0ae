"""What people type, turned into exact values. The typed text itself is kept by whoever asks.

A number has one written form, ``-?[0-9]{1,6}([.,][0-9]{1,8})?``: the pattern is matched before anything is
converted, because ``Decimal`` also takes ``1_000``, full-width digits, ``nan`` and ``1e999``.
"""

import re
from fractions import Fraction

_NUMBER = re.compile(r"-?[0-9]{1,6}(?:[.,][0-9]{1,8})?")
_RATIO = re.compile(r"([0-9]{1,6})/([0-9]{1,6})")
_SIDED = re.compile(r"(\S+)[ \t]+(before|after)")

HALF_TURN = Fraction(180)
FULL_TURN = Fraction(360)


def number(text: str) -> Fraction | None:
    """Return the exact value of a written number, or None when it has not the written form."""
    if not _NUMBER.fullmatch(text):
        return None
    return Fraction(text.replace(",", "."))


def ratio(text: str) -> Fraction | None:
    """Return a number or a fraction of two whole numbers such as ``77/120``; None when it is neither."""
    parts = _RATIO.fullmatch(text)
    if parts is None:
        return number(text)
    above, below = int(parts[1]), int(parts[2])
    return Fraction(above, below) if below else None


def full_reading(text: str) -> Fraction | None:
    """Return a reading of a disc marked 0 to 360, in disc degrees; None when it is no such reading."""
    value = number(text)
    return value if value is not None and 0 <= value <= FULL_TURN else None


def split_reading(text: str) -> Fraction | None:
    """Return ``40 before`` as -40 and ``40 after`` as 40, in degrees from -180 to 180; None when it is neither.

    Zero and 180 are the same place on both sides and need no side.
    """
    sided = _SIDED.fullmatch(text)
    value = number(sided[1] if sided else text)
    if value is None or not 0 <= value <= HALF_TURN:
        return None
    if sided:
        return -value if sided[2] == "before" else value
    return value if value in (0, HALF_TURN) else None


def decimals(text: str) -> int:
    """Count the decimals that were typed in a number or reading."""
    typed = re.search(r"[.,]([0-9]+)", text)
    return len(typed[1]) if typed else 0


def plain(value: Fraction | float, places: int = 4) -> str:
    """Write a value with at most ``places`` decimals, no trailing zeros and never a minus before zero."""
    text = f"{float(round(Fraction(value), places)):.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def split_text(value: Fraction) -> str:
    """Write degrees in (-180, 180] as a split disc is read: ``22 before``, ``0``, ``12.5 after``, ``180``."""
    text = plain(abs(value))
    if text in ("0", "180"):
        return text
    return f"{text} before" if value < 0 else f"{text} after"


def degrees(value: Fraction | float) -> str:
    """Write degrees for a sentence or a table: at most two decimals, with the sign of degrees."""
    return f"{plain(value, 2)}°"


def deviation_words(deviation: Fraction) -> str:
    """Say a deviation in the trade's words, never with a sign: ``0.5° advanced``, ``1° retarded``, ``on nominal``."""
    if deviation == 0:
        return "on nominal"
    return f"{degrees(abs(deviation))} {'advanced' if deviation > 0 else 'retarded'}"
