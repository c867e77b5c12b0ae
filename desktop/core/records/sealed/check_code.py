"""The check code of a print: eight signs from the digest of exactly what it says.

Whoever copies a code by hand must not be able to take one sign for another, so of signs that are confused at most one
is left: neither 0 nor O, neither 1 nor I nor L, and not B (8), G (6), S (5), V (U) or Z (2). Eight of the 26 signs that
stay make 208,827,064,576 codes: two different prints have the same code once in so many.
"""

import re
from collections.abc import Iterable
from hashlib import sha256

from desktop.core.records.record import Section
from desktop.core.records.sealed.canonical import framed

ALPHABET = "23456789ACDEFHJKMNPQRTUWXY"
"""The letters and digits of a check code."""
SIGNS = 8
GROUP = 4
_FORM = b"sparkwright print 1"
_BETWEEN = re.compile(r"[\s\-\u2010-\u2015]+")


def check_code(texts: Iterable[str]) -> str:
    """Return the code of a print from its texts in reading order, such as ``7KQM-X2RT``.

    Give everything that the print says, but not the time of printing, page numbers, or the code itself. The same texts
    cut in another way give another code.
    """
    number = int.from_bytes(sha256(framed(_FORM, *(text.encode("utf-8") for text in texts))).digest(), "big")
    signs = []
    for _ in range(SIGNS):
        number, place = divmod(number, len(ALPHABET))
        signs.append(ALPHABET[place])
    return shown_code("".join(signs))


def sections_code(sections: Iterable[Section]) -> str:
    """Return the code of sections of rows: titles, labels and texts, each in its place."""
    return check_code(_texts(sections))


def same_code(typed: str, code: str) -> bool:
    """Tell whether a code as typed is this one; small letters, spaces and hyphens make no difference."""
    return _bare(typed) == _bare(code)


def is_code(typed: str) -> bool:
    """Tell whether a text as typed could be a code at all: eight signs of the alphabet."""
    bare = _bare(typed)
    return len(bare) == SIGNS and set(bare) <= set(ALPHABET)


def shown_code(typed: str) -> str:
    """Return a code as typed in the form in which it is printed."""
    bare = _bare(typed)
    return f"{bare[:GROUP]}-{bare[GROUP:]}"


def _bare(typed: str) -> str:
    return _BETWEEN.sub("", typed).upper()


def _texts(sections: Iterable[Section]) -> Iterable[str]:
    for section in sections:
        yield from ("section", section.title, str(len(section.rows)))
        for row in section.rows:
            yield from (row.label, row.text)
