"""Text as nobody meant to type it: random, odd, long, and nearly right."""

import random
import string
from collections.abc import Iterator

_NEARLY = (
    "22", "337.5", "337,5", "22 before", "40 after", ".5", "1/2", "22 1/2", "½", "1-3-2-4", "77/120", "2026-12-01",
    "1 Dec 2026", "1.12.2026", "clockwise", "disc", "full", "true", "left", "in-lb", "W-0001", "1/16 in", "22btdc",
)  # fmt: skip
# The signs are meant to be taken for others.
# ruff: noqa: RUF001
_ODD = (
    "", " ", "\t", "\n", "\r\n", "\0", "\x1b[31m", "\u200b", "\u202e", "\ufeff", "\u2028", "e\u0301", "ß", "İ", "ſ",
    "１２", "٣", "²", "½", "−5",
    "NaN", "inf", "1e999", "1_000", "0x16", "--1", "+1", "1.2.3", "9" * 400, "0." + "1" * 400,
    "1/0", "0/0", "'; DROP TABLE work_order; --", "=1+1", "<b>", "%s", "{0}", "../../x", "C:\\x", "\ud800",
)  # fmt: skip
_SIGNS = string.printable + "°º½¼¾′″±←→≤≥ΔäöüßéЖ中🙂\u0000\u200d\u202e\u2028\ufeff"


def odd_texts(count: int, seed: int = 20310304) -> Iterator[str]:
    """Give so many texts, the same each time: a third random signs, a third nearly right, a third odd ones."""
    dice = random.Random(seed)  # noqa: S311 - texts, not secrets
    for number in range(count):
        if number % 3 == 0:
            yield "".join(dice.choices(_SIGNS, k=dice.choice((1, 2, 3, 5, 8, 13, 40, 300))))
        elif number % 3 == 1:
            yield _mistyped(dice.choice(_NEARLY), dice)
        else:
            yield dice.choice(_ODD) + dice.choice(("", " ", dice.choice(_NEARLY))) + dice.choice(_ODD)


def _mistyped(text: str, dice: random.Random) -> str:
    signs = list(text)
    for _ in range(dice.randrange(3)):
        at = dice.randrange(len(signs) + 1)
        match dice.randrange(3):
            case 0:
                signs.insert(at, dice.choice(_SIGNS))
            case 1 if signs:
                del signs[min(at, len(signs) - 1)]
            case _ if signs:
                signs[min(at, len(signs) - 1)] = dice.choice(_SIGNS)
    return "".join(signs)
