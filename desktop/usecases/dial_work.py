"""The work on the dial: approach, reading, backlash and the two numbers outside, the carrier running clockwise."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TypeAlias

from desktop.core.timing.angles import wrapped
from desktop.core.timing.measuring import Scale
from desktop.usecases.dial_face import HEIGHT, NOMINAL_END, RING, WIDTH, X, Y, line_at
from desktop.usecases.dial_geometry import Shown
from desktop.usecases.drawn_words import (
    LARGE,
    SMALL,
    Box,
    box_of,
    boxes_along,
    free_places,
    reaching_to,
    standing_on,
)
from reports.drawing import Arc, Arrow, Circle, Line, Role, Shape, Stroke, Words, on_circle

APPROACH = 66.0
BACKLASH = (77.0, 79.5)
Place: TypeAlias = tuple[float, str]
"""A clock angle and the number that is to be written there."""
Label: TypeAlias = tuple[Words, Line | None]
"""Words, and the leader to the place that they speak of; none where they stand near the hub."""

_HALF_TURN, _LONGEST = 180, 300
_LABELS = RING + 15
_APART = 20.0  # clock degrees between the two numbers outside when their places are close
_SHIFT, _MOST_SHIFT = 2, 34


def pointer(angle: float, shown: Shown) -> Line:
    """Return the pointer at the reading, dashed when it does not count."""
    stroke = Stroke("thick" if shown.counts else "medium", role_of(shown), dashed=not shown.counts)
    return line_at(angle, 12.0, RING - 1, stroke)


def approach(scale: Scale, angle: float, shown: Shown) -> Iterator[Shape]:
    """Draw the way that the pointer came, with a small circle where that is known to have begun.

    An approach from compression is only known to be half a crankshaft turn or more, with rotation.
    """
    judged = shown.judged
    stroke = Stroke("medium", role_of(shown), dashed=not shown.counts)
    if judged.movement is None:
        sweep = float(min(_HALF_TURN * scale.carrier_ratio, Fraction(_LONGEST)))
    else:
        sweep = float(judged.movement * scale.carrier_ratio)
        yield Circle(*on_circle(X, Y, APPROACH, angle - sweep), 2.6, Stroke("medium", stroke.role))
    if sweep:
        yield Arrow(Arc(X, Y, APPROACH, angle - sweep, sweep, stroke), 9.0)


def backlash(scale: Scale, angle: float, shown: Shown) -> Iterator[Shape]:
    """Draw the play between the light and where it went again, as a double line with a stroke across its end."""
    if not shown.judged.backlash:
        return
    sweep = -float(shown.judged.backlash * scale.carrier_ratio)
    for radius in BACKLASH:
        yield Arc(X, Y, radius, angle, sweep, Stroke("thin"))
    yield line_at(angle + sweep, BACKLASH[0] - 3, BACKLASH[1] + 3, Stroke("thin"))


def role_of(shown: Shown) -> Role:
    """Return the colour of what belongs to an approach."""
    return "act" if shown.counts else "quiet"


def nominal_label(nominal: Place, taken: Sequence[Box], wanted: float | None = None, away: float = 1.0) -> Label:
    """Place the number of nominal outside the circle."""
    angle, text = nominal
    return _placed(
        Words(0, 0, text, SMALL),
        angle,
        angle if wanted is None else wanted,
        NOMINAL_END,
        Stroke("fine"),
        taken,
        away,
    )


def both_labels(nominal: Place, reading: Place, role: Role, taken: Sequence[Box]) -> tuple[Label, Label]:
    """Place the numbers of nominal and of the reading, side by side when their places are close."""
    between = float(wrapped(Fraction(reading[0] - nominal[0])))
    away = 1.0 if between > 0 else -1.0
    push = max(0.0, _APART - abs(between)) / 2 * away
    words = Words(0, 0, reading[1], LARGE, bold=True, role=role)
    second = _placed(words, reading[0], reading[0] + push, RING + 1, Stroke("thin", role), taken, away)
    held = [*taken, box_of(second[0]), *(boxes_along(second[1]) if second[1] else ())]
    return nominal_label(nominal, held, nominal[0] - push, -away), second


def _placed(
    words: Words,
    angle: float,
    wanted: float,
    start: float,
    stroke: Stroke,
    taken: Sequence[Box],
    away: float = 1.0,
) -> Label:
    outside = next(free_places(_around(words, wanted, away), taken, WIDTH, HEIGHT), None)
    if outside:
        return outside, _leader(outside, on_circle(X, Y, start, angle), stroke)
    # Two lines below the hub and two above it: the pointer can only cross one half.
    near_hub = (standing_on(words, X, Y + offset) for offset in (20.0, -20.0, 33.0, -33.0))
    return next(free_places(near_hub, taken, WIDTH, HEIGHT)), None


def _around(words: Words, wanted: float, away: float) -> Iterator[Words]:
    for radius in (_LABELS, _LABELS + 12):
        for shift in range(0, _MOST_SHIFT, _SHIFT):
            yield reaching_to(words, X, Y, radius, wanted + away * shift)
            yield reaching_to(words, X, Y, radius, wanted - away * shift)


def _leader(words: Words, start: tuple[float, float], stroke: Stroke) -> Line:
    box = box_of(words)
    end = (min(max(start[0], box.left), box.right), min(max(start[1], box.top), box.bottom))
    return Line(*start, *end, stroke)
