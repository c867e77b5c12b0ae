"""The six degrees around nominal, magnified: where the work is. A straight scale of crankshaft degrees before TDC.

Where only the timing as found is known and lies beyond them, the scale reaches as far as it does.
"""

import math
from collections.abc import Iterator
from fractions import Fraction

from desktop.core.timing.approach import Judged
from desktop.core.timing.readings import Limits, When
from desktop.core.timing.results import MagnetoResult, Timing, Worked
from desktop.core.typed_text import plain
from desktop.core.words import backlash_words
from desktop.usecases.dial_geometry import SEEN, Shown, View, faced, shown_approach, turn_seen
from desktop.usecases.drawn_words import LARGE, SMALL, standing_on, words_width
from reports.drawing import Arrow, Drawing, HatchedBox, Line, Polygon, Shape, Stroke, Words

WIDTH, HEIGHT = 284.0, 110.0
X, Y = 142.0, 49.0  # nominal on the scale
DEGREE = 40.0  # points a crankshaft degree
REACH = 3  # degrees drawn to each side of nominal

_END = DEGREE * REACH
_MOST_REACH, _LEAST_LABEL = 60, 16.0
_WINDOW_HEIGHT = 12.0
_NOMINAL_ROW, _READING_ROW, _NUMBER_ROW, _BACKLASH_ROW, _CAPTION_ROW = 8.0, 26.0, 66.5, 86.0, 103.0
_BACKLASH_LINES = (75.0, 77.5)


def magnified(worked: Worked, result: MagnetoResult, view: View) -> Drawing:
    """Return the degrees around nominal, 284 by 110 points; movement with rotation runs as on top of the dial."""
    turn = turn_seen(worked.card, view)
    caption = f"degrees BTDC, {result.magneto.side} magneto"
    says = f"{plain(result.magneto.nominal)} nominal, {SEEN[view]}."
    timing = shown_timing(result)
    if timing:
        says += f" The light came at {plain(timing.btdc)} {caption}."
    return Drawing(
        WIDTH,
        HEIGHT,
        (
            *faced(_shapes(worked, result), WIDTH, turn),
            standing_on(Words(0, 0, caption, SMALL, role="quiet"), X, _CAPTION_ROW),
        ),
        says,
    )


def _shapes(worked: Worked, result: MagnetoResult) -> Iterator[Shape]:
    """Draw for a carrier that runs clockwise: with rotation is to the right, so earlier is to the left."""
    timing = shown_timing(result)
    reach = reach_of(result)
    nominal_words = standing_on(Words(0, 0, f"{plain(result.magneto.nominal)} nominal", SMALL), X, _NOMINAL_ROW)
    yield from _window(worked.card.limits, reach)
    yield from _scale(result.magneto.nominal, reach)
    yield Line(X, _NOMINAL_ROW + 6, X, Y, Stroke("fine", dashed=True))
    yield nominal_words
    yield from _way_to_turn()
    if timing is None:
        return
    yield from _reading(timing.deviation, plain(timing.btdc, 2), reach)
    shown = shown_approach(result) if result.timing else Shown(result.found, counts=True) if result.found else None
    if shown and shown.judged.backlash:
        yield from _backlash(timing.deviation, shown.judged, reach)


def shown_timing(result: MagnetoResult) -> Timing | None:
    """Return the timing that the scale shows: as left, or as found while nothing else was taken."""
    only_found = all(judged.approach.when is When.AS_FOUND for judged in result.judged)
    return result.timing or (result.found_timing if only_found else None)


def reach_of(result: MagnetoResult) -> int:
    """Return how many degrees are drawn to each side of nominal: three, or as many as a timing as found needs."""
    timing = shown_timing(result)
    if timing is None or result.timing is not None or abs(timing.deviation) <= REACH:
        return REACH
    return min(math.ceil(abs(timing.deviation)) + 1, _MOST_REACH)


def _x(deviation: Fraction, reach: int) -> float:
    """Return where a deviation stands, at most at the ends of the scale; advanced is to the left."""
    return X - _END / reach * min(max(float(deviation), -reach), reach)


def _scale(nominal: Fraction, reach: int) -> Iterator[Shape]:
    yield Line(X - _END, Y, X + _END, Y)
    degree = _END / reach
    apart = next(step for step in (1, 2, 5, 10) if degree * step >= _LEAST_LABEL)
    for half in range(math.ceil(2 * (nominal - reach)), math.floor(2 * (nominal + reach)) + 1):
        x = _x(Fraction(half, 2) - nominal, reach)
        if half % 2:
            if reach == REACH:
                yield Line(x, Y, x, Y + 5, Stroke("thin", "quiet"))
            continue
        if half // 2 % apart:
            yield Line(x, Y, x, Y + 5, Stroke("thin", "quiet"))
            continue
        yield Line(x, Y, x, Y + 9)
        yield _at(Words(0, 0, str(half // 2), SMALL), x, _NUMBER_ROW)


def _window(limits: Limits, reach: int) -> Iterator[Shape]:
    left, right = _x(limits.advanced_most, reach), _x(-limits.retarded_most, reach)
    top = Y - _WINDOW_HEIGHT
    if right > left:
        yield HatchedBox(left, top, right - left, _WINDOW_HEIGHT, 4.0, 45.0, Stroke("fine", "good"))
        yield Line(left, top, right, top, Stroke("fine", "good"))
    for x, most in ((left, limits.advanced_most), (right, limits.retarded_most)):
        if most <= reach:
            yield Line(x, top, x, Y, Stroke("thin", "good"))


def _way_to_turn() -> Iterator[Shape]:
    """Draw the small arrow in the corner to which movement with rotation runs."""
    words = Words(0, 0, "with rotation", SMALL, role="quiet")
    tip, length = WIDTH - 6, 26.0
    yield Arrow(Line(tip - length, _NOMINAL_ROW, tip, _NOMINAL_ROW, Stroke("medium")), 7.0)
    yield standing_on(words, tip - length - 4 - words_width(words.text, SMALL) / 2, _NOMINAL_ROW)


def _reading(deviation: Fraction, number: str, reach: int) -> Iterator[Shape]:
    """Mark the reading on the scale, or point over the scale's end when it lies beyond; its number stands beside."""
    words = Words(0, 0, number, LARGE, bold=True, role="act")
    half, x = words_width(number, LARGE) / 2, _x(deviation, reach)
    side = -1.0 if deviation > 0 else 1.0
    if abs(deviation) <= reach:
        yield Polygon(((x, Y), (x - 5, Y - 9.5), (x + 5, Y - 9.5)), None, "act")
        yield _at(words, x + side * (half + 3), _READING_ROW)
    else:
        yield Arrow(Line(x - side * 22, Y - 6, x + side * 8, Y - 6, Stroke("thick", "act")), 10.0)
        yield _at(words, x, _READING_ROW)


def _backlash(deviation: Fraction, judged: Judged, reach: int) -> Iterator[Shape]:
    """Draw the play from the light to where it went again, and its number; nothing where it lies beyond the scale."""
    play = judged.backlash or Fraction(0)
    first, last = sorted((deviation, deviation + play))
    left, right = _x(last, reach), _x(first, reach)
    if right <= left:
        return
    for y in _BACKLASH_LINES:
        yield Line(left, y, right, y, Stroke("thin"))
    for x, end in ((left, last), (right, first)):
        if abs(end) <= reach:
            yield Line(x, _BACKLASH_LINES[0] - 2, x, _BACKLASH_LINES[1] + 2, Stroke("thin"))
    yield _at(Words(0, 0, backlash_words(judged), SMALL), (left + right) / 2, _BACKLASH_ROW)


def _at(words: Words, x: float, y: float) -> Words:
    """Return the words with their middle at (x, y), moved sideways as far as the sheet needs."""
    room = words_width(words.text, words.size) / 2 + 2
    return standing_on(words, min(max(x, room), WIDTH - room), y)
