"""Which signs the shipped faces have, read from their own tables with the standard library alone.

A sign counts as missing when neither face has it, or when it would not be seen on paper: control and format
characters, private and unassigned ones. Spaces and the line feed are not missing.
"""

from __future__ import annotations

import struct
import unicodedata
from functools import cache
from importlib import resources
from typing import Literal, TypeAlias

Face: TypeAlias = Literal["text", "text-bold", "text-italic", "code", "code-bold"]

FACE_FILES: dict[Face, str] = {
    "text": "AtkinsonHyperlegibleNext_400Regular.ttf",
    "text-bold": "AtkinsonHyperlegibleNext_700Bold.ttf",
    "text-italic": "AtkinsonHyperlegibleNext_400Regular_Italic.ttf",
    "code": "B612Mono_400Regular.ttf",
    "code-bold": "B612Mono_700Bold.ttf",
}

_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_SEGMENTS, _GROUPS = 4, 12  # the two forms of character table in use (OpenType specification, chapter "cmap")


def font_bytes(face: Face) -> bytes:
    """Give the file of a shipped face."""
    return resources.files("resources").joinpath("fonts", FACE_FILES[face]).read_bytes()


@cache
def signs_of(face: Face) -> frozenset[int]:
    """Give the code points for which a shipped face has a glyph."""
    return read_character_table(font_bytes(face))


def has_sign(face: Face, sign: str) -> bool:
    """Say whether a face shows this one character."""
    return ord(sign) in signs_of(face) and unicodedata.category(sign) not in _UNSEEN


def missing_signs(text: str) -> tuple[str, ...]:
    """Give the characters of the text that paper cannot show, each once, in the order in which they first come."""
    found = (sign for sign in text if sign != "\n" and not has_sign("text", sign) and not has_sign("code", sign))
    return tuple(dict.fromkeys(found))


def visible_code(sign: str) -> str:
    """Give what prints in place of a sign that cannot be shown, such as `[U+0009]`."""
    return f"[U+{ord(sign):04X}]"


def read_character_table(font: bytes) -> frozenset[int]:
    """Give the code points of a TrueType font's Unicode character tables of form 4 and 12."""
    (tables,) = struct.unpack_from(">H", font, 4)
    at = next(
        offset
        for tag, _, offset, _ in (struct.unpack_from(">4sLLL", font, 12 + 16 * index) for index in range(tables))
        if tag == b"cmap"
    )
    (count,) = struct.unpack_from(">H", font, at + 2)
    points: set[int] = set()
    for index in range(count):
        _, _, offset = struct.unpack_from(">HHL", font, at + 4 + 8 * index)
        (form,) = struct.unpack_from(">H", font, at + offset)
        if form == _SEGMENTS:
            points |= _points_of_segments(font, at + offset)
        elif form == _GROUPS:
            points |= _points_of_groups(font, at + offset)
    return frozenset(points)


def _points_of_segments(font: bytes, at: int) -> set[int]:
    (double,) = struct.unpack_from(">H", font, at + 6)
    count = double // 2
    form = f">{count}H"
    ends = struct.unpack_from(form, font, at + 14)
    starts = struct.unpack_from(form, font, at + 16 + double)
    deltas = struct.unpack_from(form, font, at + 16 + 2 * double)
    ranges_at = at + 16 + 3 * double
    ranges = struct.unpack_from(form, font, ranges_at)
    points: set[int] = set()
    for index, (start, end, delta, distance) in enumerate(zip(starts, ends, deltas, ranges, strict=True)):
        for point in range(start, end + 1):
            glyph = point
            if distance:
                (glyph,) = struct.unpack_from(">H", font, ranges_at + 2 * index + distance + 2 * (point - start))
            if (glyph + delta) % 0x10000 if glyph or not distance else 0:
                points.add(point)
    return points


def _points_of_groups(font: bytes, at: int) -> set[int]:
    (count,) = struct.unpack_from(">L", font, at + 12)
    points: set[int] = set()
    for index in range(count):
        start, end, _ = struct.unpack_from(">LLL", font, at + 16 + 12 * index)
        points.update(range(start, end + 1))
    return points
