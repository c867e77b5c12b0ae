"""What people type, turned into exact values. The typed text itself is kept by whoever asks.

A number has one written form, ``-?[0-9]{1,6}([.,][0-9]{1,8})?``: the pattern is matched before anything is
converted, because ``Decimal`` also takes ``1_000``, full-width digits, ``nan`` and ``1e999``.
"""

import re
from fractions import Fraction

_NUMBER = re.compile(r"-?[0-9]{1,6}(?:[.,][0-9]{1,8})?")
_RATIO = re.compile(r"([0-9]{1,6})/([0-9]{1,6})")
_TAIL = re.compile(r"\s*(?:°|º|deg(?:rees)?)?\s*(?P<side>before|after|btdc|b|a)?$")
_LOOSE = re.compile(r"(?P<minus>-?)(?P<whole>[0-9]{0,6})(?:[.,](?P<decimals>[0-9]{1,8}))?")
_PART = re.compile(r"(?P<minus>-?)(?:(?P<whole>[0-9]{1,6})\s+)?(?P<above>[0-9]{1,3})\s*/\s*(?P<below>[1-9][0-9]{0,2})")
_SIDES = {"b": "before", "btdc": "before", "a": "after"}
_SIGNS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
_SIDED = re.compile(r"(\S+)[ \t]+(before|after)")

MOST_DECIMALS = 8
SHOWN_DECIMALS = 4
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


def plain(value: Fraction | float, places: int = SHOWN_DECIMALS) -> str:
    """Write a value with at most ``places`` decimals, no trailing zeros and never a minus before zero."""
    text = f"{float(round(Fraction(value), places)):.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
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


def tidied(text: str) -> str:
    """Bring a number or reading as people type it into its one written form; anything else comes back as it was.

    ``.5``, ``1/2`` and ``½`` become ``0.5``, ``22 1/2`` becomes ``22.5``, ``338°`` becomes ``338``, ``22 b`` and
    ``22btdc`` become ``22 before``. A fraction that 8 decimals cannot hold stays as it was typed.
    """
    lower = text.strip().lower()
    for sign, part in _SIGNS.items():
        lower = lower.replace(sign, part)
    tail = _TAIL.search(lower)
    bare = lower[: tail.start()] if tail else lower
    side = tail["side"] if tail else None
    written = _decimal(bare.strip())
    if written is None:
        return text
    return f"{written} {_SIDES.get(side, side)}" if side else written


def _decimal(text: str) -> str | None:
    """Write a loosely typed number with a whole part and decimals; None when it is none."""
    loose = _LOOSE.fullmatch(text)
    if loose and (loose["whole"] or loose["decimals"]):
        decimals = f".{loose['decimals']}" if loose["decimals"] else ""
        return f"{loose['minus']}{loose['whole'] or '0'}{decimals}"
    part = _PART.fullmatch(text)
    if part is None:
        return None
    value = int(part["whole"] or 0) + Fraction(int(part["above"]), int(part["below"]))
    if round(value, MOST_DECIMALS) != value:
        return None
    return part["minus"] + plain(value, MOST_DECIMALS)
