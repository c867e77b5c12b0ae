"""The dial: where the crankshaft stands, and what is known of the timing, as a drawing for screen and paper.

It is fixed to the engine: TDC on top, the pointer is whatever carries the disc, the disc's numbers stand where the
pointer would read them. What is not known is not drawn.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from desktop.core.timing.readings import On
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.typed_text import degrees
from desktop.usecases import dial_face as face
from desktop.usecases import dial_work as work
from desktop.usecases.dial_geometry import (
    SEEN,
    Shown,
    View,
    clock_of_btdc,
    clock_of_reading,
    faced,
    shown_approach,
    turn_seen,
)
from desktop.usecases.dial_labels import Room, both_labels, nominal_label
from desktop.usecases.drawn_words import LARGE, SMALL, Box, box_of, boxes_along, standing_on
from reports.drawing import Drawing, Shape, Words

__all__ = ["View", "dial"]


def dial(worked: Worked, result: MagnetoResult, view: View) -> Drawing:
    """Return the dial of one magneto, 284 by 300 points, as it is seen from one end of the engine.

    On a geared propeller that carries the disc the dial is the propeller's circle, in its degrees and its way.
    """
    turn, zero = turn_seen(worked.card, view), worked.scale.zero
    captions = tuple(_captions(worked, view))
    shapes = _unknown() if zero is None else _known(worked, result, zero, [box_of(words) for words in captions])
    return Drawing(
        face.WIDTH,
        face.HEIGHT,
        (*faced(shapes, face.WIDTH, turn), *captions),
        f"Dial {SEEN[view]}; with rotation is {turn}. {_in_words(worked, result)}",
    )


def _captions(worked: Worked, view: View) -> Iterator[Words]:
    yield standing_on(Words(0, 0, SEEN[view], SMALL, role="quiet"), face.X, face.HEIGHT - 18)
    if worked.card.measure.on is On.PROPELLER and worked.scale.carrier_ratio != 1:
        yield standing_on(Words(0, 0, "propeller degrees", SMALL, role="quiet"), face.X, face.HEIGHT - 7)
    elif worked.scale.zero is not None:
        yield standing_on(Words(0, 0, "the pointer is the crankshaft", SMALL, role="quiet"), face.X, face.HEIGHT - 7)


def _unknown() -> Iterator[Shape]:
    yield from face.ring()
    yield from face.way_to_turn()
    yield standing_on(Words(0, 0, "TDC is not known yet", LARGE, role="quiet"), face.X, face.Y + 24)


def _known(worked: Worked, result: MagnetoResult, zero: Fraction, captions: Sequence[Box]) -> Iterator[Shape]:
    """Draw from the ground up; words are placed first, so that each stands clear of what is already there."""
    arrow, turn_words = face.way_to_turn()
    tdc_words, *tdc_lines = face.top_dead_centre(worked)
    words = (*captions, box_of(turn_words), box_of(tdc_words))
    lines = tuple(box for path in (arrow.path, *tdc_lines) for box in boxes_along(path))
    nominal = (clock_of_btdc(worked.scale, result.magneto.nominal), f"nominal {_target(worked, result)}")
    shown = shown_approach(result)
    done: tuple[Shape, ...] = ()
    if shown is None:
        labels = nominal_label(*nominal, Room(words, lines))
    else:
        light = shown.judged.approach.light
        angle = clock_of_reading(worked.scale, zero, light.value)
        pointer = work.pointer(angle, shown)
        done = (*work.backlash(worked.scale, angle, shown), *work.approach(worked.scale, angle, shown), pointer)
        lines = (*lines, *boxes_along(pointer))
        reading = (angle, " ".join(light.typed.split()))
        labels = both_labels(nominal, reading, work.role_of(shown), Room(words, lines))
    taken = (*words, *lines, *(box_of(label) for label in labels if isinstance(label, Words)))

    yield from face.window(worked, result)
    yield from face.ticks(worked, zero, result)
    yield from face.ring()
    yield from (*tdc_lines, *face.nominal_lines(worked.scale, result), *done)
    yield from (arrow, turn_words, tdc_words, *labels)
    yield from face.numbers(worked.card, worked.scale, zero, taken)


def _target(worked: Worked, result: MagnetoResult) -> str:
    return "" if result.target is None else worked.scale.written(result.target)


def _in_words(worked: Worked, result: MagnetoResult) -> str:
    if result.target is None:
        return "TDC is not known yet."
    return f"Nominal at {_target(worked, result)}. {_reading_in_words(shown_approach(result))}"


def _reading_in_words(shown: Shown | None) -> str:
    if shown is None or shown.judged.btdc is None:
        return "No reading yet."
    counts = "" if shown.counts else ", which does not count"
    return f"The light came at {degrees(shown.judged.btdc)} BTDC{counts}."
