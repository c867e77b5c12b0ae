"""The two numbers outside the dial, each with a leader to its place on the ring, the carrier running clockwise.

Both are placed together, as near to their places as may be: no words overlap, no leader crosses words, TDC or the
other leader. Where no room is left a number stands near the hub, without a leader.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeAlias

from desktop.usecases.dial_face import HEIGHT, NOMINAL_END, RING, WIDTH, X, Y
from desktop.usecases.drawn_words import LARGE, SMALL, Box, box_of, boxes_along, free_places, reaching_to, standing_on
from reports.drawing import Line, Point, Role, Stroke, Words, on_circle

_NEAREST = RING + 15
_FARTHER = (0.0, 13.0)  # points beyond the nearest circle of words
_SHIFT, _MOST_SHIFT = 2, 40  # clock degrees
_APART = 1.5  # points between the two numbers


Drawn: TypeAlias = tuple[Line | Words, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """What stands already: boxes of words, and of lines that words keep clear of."""

    words: tuple[Box, ...]
    lines: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class _Label:
    """Words outside the circle, the leader to the place that they speak of, and how far they had to give way."""

    words: Words
    leader: Line
    given_way: float

    @property
    def drawn(self) -> Drawn:
        return self.leader, self.words


def nominal_label(angle: float, number: str, room: Room) -> Drawn:
    """Place the number of nominal, whose line stands at a clock angle."""
    places = _nominal_places(angle, number, room)
    return places[0].drawn if places else (_near_hub(Words(0, 0, number, SMALL), room),)


def both_labels(nominal: tuple[float, str], reading: tuple[float, str], role: Role, room: Room) -> Drawn:
    """Place the number of nominal and the number of the reading, each given with its clock angle."""
    words = Words(0, 0, reading[1], LARGE, bold=True, role=role)
    readings = tuple(_places(words, on_circle(X, Y, RING + 1, reading[0]), reading[0], Stroke("thin", role), room))
    pairs = sorted(
        product(_nominal_places(*nominal, room), readings), key=lambda pair: sum(one.given_way for one in pair)
    )
    together = next((pair for pair in pairs if _agree(*pair)), None)
    if together:
        return (*together[0].drawn, *together[1].drawn)
    if readings:
        return (_near_hub(Words(0, 0, nominal[1], SMALL), room), *readings[0].drawn)
    inside = _near_hub(words, room)
    return (*nominal_label(*nominal, Room((*room.words, box_of(inside)), room.lines)), inside)


def _nominal_places(angle: float, number: str, room: Room) -> tuple[_Label, ...]:
    start = on_circle(X, Y, NOMINAL_END, angle)
    return tuple(_places(Words(0, 0, number, SMALL), start, angle, Stroke("fine"), room))


def _places(words: Words, start: Point, angle: float, stroke: Stroke, room: Room) -> Iterator[_Label]:
    """Yield the free places outside the circle on the same side of TDC, those near the angle first."""
    for shift, way, farther in product(range(0, _MOST_SHIFT, _SHIFT), (1, -1), _FARTHER):
        place = reaching_to(words, X, Y, _NEAREST + farther, angle + way * shift)
        leader = _leader(place, start, stroke)
        same_side = (leader.x2 - X) * (start[0] - X) > 0 or abs(start[0] - X) < 1
        if same_side and not _meets(leader, room.words):
            yield from (
                _Label(free, leader, shift + farther)
                for free in free_places([place], (*room.words, *room.lines), WIDTH, HEIGHT)
            )


def _near_hub(words: Words, room: Room) -> Words:
    """Return a free place on the two lines below the hub and the two above it: the pointer can only cross one half."""
    near = (standing_on(words, X, Y + offset) for offset in (20.0, -20.0, 33.0, -33.0))
    return next(free_places(near, (*room.words, *room.lines), WIDTH, HEIGHT))


def _agree(one: _Label, other: _Label) -> bool:
    first, second = box_of(one.words).grown(_APART), box_of(other.words).grown(_APART)
    if first.overlaps(second):
        return False
    return not (_meets(one.leader, (second,)) or _meets(other.leader, (first,)) or _cross(one.leader, other.leader))


def _leader(words: Words, start: Point, stroke: Stroke) -> Line:
    box = box_of(words)
    end = (min(max(start[0], box.left), box.right), min(max(start[1], box.top), box.bottom))
    return Line(*start, *end, stroke)


def _meets(line: Line, boxes: Sequence[Box]) -> bool:
    return any(step.overlaps(box) for step in boxes_along(line) for box in boxes)


def _cross(one: Line, other: Line) -> bool:
    return _sides_differ(one, other) and _sides_differ(other, one)


def _sides_differ(line: Line, other: Line) -> bool:
    sides = [
        (line.x2 - line.x1) * (y - line.y1) - (line.y2 - line.y1) * (x - line.x1)
        for x, y in ((other.x1, other.y1), (other.x2, other.y2))
    ]
    return sides[0] * sides[1] < 0
