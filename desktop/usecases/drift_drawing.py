"""The drift of a magneto over its visits: as found and as left by two shapes, its limits, and a dashed forecast.

Works in black and white: every sign has its shape and its word. What is not known is not drawn.
"""

import itertools
import math
from collections.abc import Iterator
from fractions import Fraction

from desktop.core.shop.orders.visits import History, MagnetoVisit
from desktop.core.typed_text import degrees
from desktop.usecases.drawn_words import SMALL, Box, box_of, boxes_along, free_places, standing_on
from desktop.usecases.drift_axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Axes, axes_of
from reports.drawing import Circle, Drawing, HatchedBox, Line, Polygon, Shape, Stroke, Words

LEAST_VISITS = 2
_FOUND, _LEFT = 4.6, 2.6  # half the size of the two signs: one seen inside the other where they stand together
_BAND = 7.0
_LINE = 11.0
_LEGEND = (HEIGHT - 27.0, HEIGHT - 10.0)


def drift_drawing(history: History) -> Drawing | None:
    """Return the drift of a magneto, 432 by 300 points; None while fewer than two visits can be compared."""
    if len(history.compared) < LEAST_VISITS or history.limits is None:
        return None
    limits = (history.limits.advanced_most, history.limits.retarded_most)
    ahead = history.drift.hours_to_limit if history.drift else None
    axes = axes_of(history, limits, ahead)
    signs = tuple(_signs(history, axes))
    forecast = _forecast(history, axes)
    ahead_shapes: tuple[Shape, ...] = (forecast, *_forecast_word(forecast, signs)) if forecast else ()
    shapes: tuple[Shape, ...] = (
        *_frame(history, axes),
        *_limits(axes, *limits),
        *_between(history, axes),
        *ahead_shapes,
        *signs,
        *_legend(with_forecast=forecast is not None),
    )
    return Drawing(WIDTH, HEIGHT, shapes, f"Drift of magneto {history.serial}. {drift_words(history)}")


def drift_words(history: History) -> str:
    """Say the drift and the forecast in words, the same on screen and on paper."""
    if history.drift is None or history.limits is None:
        return "No drift is known: it takes one visit as left and a later one as found, with hours at both."
    drift, limits = history.drift, history.limits
    if drift.hours_to_limit is None:
        return "Steady: what was found is what was left the time before. There is no forecast."
    way = "advanced" if drift.per_hour > 0 else "retarded"
    limit = limits.advanced_most if drift.per_hour > 0 else limits.retarded_most
    rate = f"It drifts {degrees(abs(drift.per_hour) * 100)} towards {way} in 100 hours."
    if drift.hours_to_limit == 0:
        return f"{rate} It was left at the limit of {degrees(limit)} {way}, or beyond: there is nothing to forecast."
    whole = math.floor(drift.hours_to_limit)
    hours = "less than 1 hour" if whole < 1 else "about 1 hour" if whole == 1 else f"about {whole} hours"
    return f"{rate} Forecast, not an interval: at the limit of {degrees(limit)} {way} {hours} after it was left last."


def _frame(history: History, axes: Axes) -> Iterator[Shape]:
    """Draw the axes with their numbers; nominal is a line of its own."""
    for value, number in axes.hour_ticks():
        x = axes.x(value)
        yield Line(x, BOTTOM, x, BOTTOM + 4, Stroke("fine"))
        yield standing_on(Words(0, 0, number, SMALL), x, BOTTOM + 11)
    for value, number in axes.degree_ticks():
        y = axes.y(value)
        yield Line(LEFT - 4, y, LEFT, y, Stroke("fine"))
        yield Words(LEFT - 7, y + 3, number, SMALL, "end")
        yield Line(LEFT, y, RIGHT, y, Stroke("fine", "line"))
    yield Line(LEFT, axes.y(0), RIGHT, axes.y(0), Stroke("thin"))
    yield Line(LEFT, TOP, LEFT, BOTTOM, Stroke("thin"))
    yield Line(LEFT, BOTTOM, RIGHT, BOTTOM, Stroke("thin"))
    yield Words(6, TOP - 14, "advanced, crankshaft degrees", SMALL)
    yield Words(6, BOTTOM + 29, "retarded", SMALL)
    yield Words(RIGHT, BOTTOM + 29, history.meter.value, SMALL, "end")


def _limits(axes: Axes, advanced: Fraction, retarded: Fraction) -> Iterator[Shape]:
    """Draw both limits as lines, the allowed window hatched at the plot's edge, and say each limit beside it."""
    top, bottom = axes.y(float(advanced)), axes.y(-float(retarded))
    for y in (top, bottom):
        yield Line(LEFT, y, RIGHT + _BAND, y, Stroke("medium", "good"))
    if bottom > top:
        yield HatchedBox(RIGHT, top, _BAND, bottom - top, 2.4, 45.0, Stroke("fine", "good"))
    x = RIGHT + _BAND + 4
    yield Words(x, top - _LINE - 1, f"limit {degrees(advanced)}", SMALL)
    yield Words(x, top - 1, "advanced", SMALL)
    yield Words(x, bottom + 9, f"limit {degrees(retarded)}", SMALL)
    yield Words(x, bottom + 9 + _LINE, "retarded", SMALL)


def _between(history: History, axes: Axes) -> Iterator[Shape]:
    """Draw what happened between two visits: from as left to the next as found."""
    for last, now in itertools.pairwise(history.compared):
        if last.left is not None and now.found is not None:
            yield Line(
                *_place(history, axes, last, last.left), *_place(history, axes, now, now.found), Stroke("medium")
            )


def _signs(history: History, axes: Axes) -> Iterator[Circle | Polygon]:
    for visit in history.compared:
        if visit.found is not None:
            yield Circle(*_place(history, axes, visit, visit.found), _FOUND, Stroke("medium"))
        if visit.left is not None:
            yield _square(*_place(history, axes, visit, visit.left))


def _forecast(history: History, axes: Axes) -> Line | None:
    """Draw from the last as left to the limit, or to where the picture ends."""
    drift = history.drift
    last = next((visit for visit in reversed(history.compared) if visit.left is not None), None)
    if drift is None or not drift.hours_to_limit or last is None or last.left is None:
        return None
    from_hours = float(history.hours(last))
    ahead = min(float(drift.hours_to_limit), axes.last - from_hours)
    end = float(last.left) + ahead * float(drift.per_hour)
    return Line(
        *_place(history, axes, last, last.left),
        axes.x(from_hours + ahead),
        axes.y(end),
        Stroke("medium", "ask", dashed=True),
    )


def _forecast_word(line: Line, signs: tuple[Circle | Polygon, ...]) -> Iterator[Words]:
    """Write the word beside the dashed line, where nothing stands; without room the legend says it."""
    taken = [*boxes_along(line), *(_box(sign) for sign in signs)]
    places = [
        standing_on(Words(0, 0, "forecast", SMALL), line.x1 + (line.x2 - line.x1) * part, y + shift)
        for part in (0.6, 0.5, 0.75, 0.4, 0.9)
        for shift in (-9.0, 9.0, -16.0, 16.0, -24.0, 24.0)
        for y in (line.y1 + (line.y2 - line.y1) * part,)
    ]
    inside = [words for words in places if box_of(words).right < RIGHT - 2]
    yield from itertools.islice(free_places(inside, taken, WIDTH, HEIGHT), 1)


def _legend(*, with_forecast: bool) -> Iterator[Shape]:
    """Say what each sign is."""
    y, below = _LEGEND
    yield Circle(14, y, _FOUND, Stroke("medium"))
    yield Words(24, y + 3, "as found", SMALL)
    yield _square(126, y)
    yield Words(136, y + 3, "as left", SMALL)
    yield Line(226, y, 252, y, Stroke("medium"))
    yield Words(258, y + 3, "from as left to the next as found", SMALL)
    yield HatchedBox(8, below - 5, 12, 10, 2.4, 45.0, Stroke("fine", "good"))
    yield Words(24, below + 3, "within limits", SMALL)
    if with_forecast:
        yield Line(226, below, 252, below, Stroke("medium", "ask", dashed=True))
        yield Words(258, below + 3, "forecast, not an interval", SMALL)


def _place(history: History, axes: Axes, visit: MagnetoVisit, deviation: Fraction) -> tuple[float, float]:
    return axes.x(float(history.hours(visit))), axes.y(float(deviation))


def _square(x: float, y: float) -> Polygon:
    half = _LEFT
    return Polygon(
        ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)), None, "ink"
    )


def _box(sign: Circle | Polygon) -> Box:
    if isinstance(sign, Circle):
        return Box(sign.x, sign.y, sign.x, sign.y).grown(sign.radius)
    x, y = sign.points[0]
    return Box(x, y, x + 2 * _LEFT, y + 2 * _LEFT)
