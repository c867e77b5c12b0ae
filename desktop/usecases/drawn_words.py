"""Where words find room in a drawing: boxes that are never smaller than the words, and the first free place."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reports.drawing import CAP_HEIGHT, Arc, Line, Words, on_circle

SMALL, LARGE = 9.0, 11.0
"""The two sizes of words in drawings, in points."""

_ASCENT, _DESCENT = 0.75, 0.22  # of the type size; how far letters reach above and below their baseline
# Widths of signs in ems, at least those of the bold face and of figures set to one width.
_WIDTHS = {
    **dict.fromkeys("ijl", 0.33),
    **dict.fromkeys("frt", 0.39),
    **dict.fromkeys(" ,.:;", 0.32),
    **dict.fromkeys("-°", 0.40),
    **dict.fromkeys("mw", 0.89),
    **dict.fromkeys("TDCBN", 0.73),
}
_OTHER_WIDTH = 0.67
_EDGE = 1.5  # free points along the sheet's edges
_STEP = 2.5  # points between the small boxes that stand for a line
_GAP = 1.5  # free points between words and whatever stands beside them


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in points, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        """Tell whether two boxes have an area in common."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def grown(self, by: float) -> "Box":
        """Return the box with a free edge around it."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def is_on(self, width: float, height: float) -> bool:
        """Tell whether it lies on a sheet of this size, clear of its edges."""
        return (
            self.left >= _EDGE and self.top >= _EDGE and self.right <= width - _EDGE and self.bottom <= height - _EDGE
        )


def words_width(text: str, size: float) -> float:
    """Return a width in points that a text does not exceed, in either weight."""
    return size * sum(_WIDTHS.get(sign, _OTHER_WIDTH) for sign in text)


def box_of(words: Words) -> Box:
    """Return the rectangle that words do not leave."""
    width = words_width(words.text, words.size)
    left = words.x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    return Box(left, words.y - _ASCENT * words.size, left + width, words.y + _DESCENT * words.size)


def standing_on(words: Words, x: float, y: float) -> Words:
    """Return the words with the middle of their capitals at (x, y)."""
    return Words(
        x, y + CAP_HEIGHT * words.size / 2, words.text, words.size, "middle", words.bold, words.role, words.code
    )


def reaching_to(words: Words, x: float, y: float, radius: float, angle: float) -> Words:
    """Return the words outside a circle, their nearest edge about on it, at a clock angle."""
    turn = math.radians(angle)
    half = abs(math.sin(turn)) * words_width(words.text, words.size) / 2 + abs(math.cos(turn)) * words.size / 2
    return standing_on(words, *on_circle(x, y, radius + half, angle))


def free_places(places: Iterable[Words], taken: Sequence[Box], width: float, height: float) -> Iterator[Words]:
    """Yield, in their order, the places on the sheet where nothing stands yet."""
    for words in places:
        box = box_of(words)
        if box.is_on(width, height) and not any(box.grown(_GAP).overlaps(other) for other in taken):
            yield words


def boxes_along(path: Line | Arc) -> Iterator[Box]:
    """Yield small boxes along a line, so that words keep clear of it."""
    if isinstance(path, Line):
        length = math.hypot(path.x2 - path.x1, path.y2 - path.y1)
    else:
        length = abs(math.radians(path.sweep)) * path.radius
    steps = max(1, math.ceil(length / _STEP))
    for step in range(steps + 1):
        part = step / steps
        if isinstance(path, Line):
            x, y = path.x1 + (path.x2 - path.x1) * part, path.y1 + (path.y2 - path.y1) * part
        else:
            x, y = on_circle(path.x, path.y, path.radius, path.start + path.sweep * part)
        yield Box(x, y, x, y).grown(_STEP / 2)
