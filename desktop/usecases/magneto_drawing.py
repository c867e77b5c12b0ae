"""The small drawing of a magneto from where the mechanic stands: which way, and how far, to turn its housing."""

from collections.abc import Iterator

from desktop.core.timing.drive import Housing, Mesh, rotor_turns
from desktop.core.timing.readings import SeenFrom, Turn
from desktop.core.timing.results import MagnetoResult
from desktop.core.typed_text import degrees, plain
from desktop.usecases.drawn_words import LARGE, SMALL, standing_on
from reports.drawing import Arc, Arrow, Circle, Drawing, Line, Shape, Stroke, Words, on_circle

WIDTH, HEIGHT = 200.0, 190.0
X, Y = 100.0, 76.0
BODY, EAR, STUDS = 36.0, 54.0, 46.0
TURN_RADIUS, ROTOR_RADIUS = 64.0, 20.0

_SLOT_HALF_WIDTH = 4.0
_SLOT_REACH, _LEAST_REACH, _MOST_REACH = 12.0, 5.0, 25.0  # half of a slot's length, in degrees on the flange
_EAR_BEYOND = 8.0  # degrees of flange beyond the slot's end
_ENDS = {SeenFrom.BACK: "seen from the back", SeenFrom.DRIVE: "seen from the drive end"}


def magneto_drawing(result: MagnetoResult) -> Drawing | None:
    """Return the magneto and how to turn its housing, 200 by 190 points.

    None while the deviation is not known, and where the housing is turned by the other side.
    """
    housing = result.housing
    if housing is None or housing.turn is None:
        return None
    told = _told(housing, result.mesh)
    end = _ENDS[housing.seen_from]
    words = [Words(0, 0, text, LARGE, bold=not place) for place, text in enumerate(told)]
    shapes = (
        *_flange(_slot_reach(result)),
        *_rotor(rotor_turns(result.magneto)),
        *(_way_to_turn(housing.direction) if housing.direction else ()),
        *(standing_on(line, X, 148.0 + 14.0 * place) for place, line in enumerate(words)),
        standing_on(Words(0, 0, end, SMALL, role="quiet"), X, HEIGHT - 9),
    )
    said = ", ".join((*told, *((housing.direction,) if housing.direction else ())))
    return Drawing(WIDTH, HEIGHT, shapes, f"Magneto housing {end}: {said}.")


def _told(housing: Housing, mesh: Mesh | None) -> tuple[str, ...]:
    """Say how far to turn; where the mesh is to be moved, say what comes first."""
    if not housing.turn:
        return ("do not turn",)
    if mesh:
        return (f"{degrees(housing.turn)} is too far to turn", "move the mesh first")
    turn = f"turn {degrees(housing.turn)}"
    return (turn,) if housing.slot_mm is None else (turn, f"{plain(housing.slot_mm, 1)} mm at the slot")


def _slot_reach(result: MagnetoResult) -> float:
    """Return half the slot's length: that of the data, within what can be drawn; else a usual one."""
    whole = result.magneto.slot_degrees
    return _SLOT_REACH if whole is None else min(max(float(whole) / 2, _LEAST_REACH), _MOST_REACH)


def _flange(reach: float) -> Iterator[Shape]:
    """Draw the round body and two ears, each with a slot and a stud in it."""
    half_ear = reach + _EAR_BEYOND
    for middle in (90.0, 270.0):
        yield Arc(X, Y, EAR, middle - half_ear, 2 * half_ear, Stroke("medium"))
        for side in (-1.0, 1.0):
            edge = middle + side * half_ear
            yield Line(*on_circle(X, Y, EAR, edge), *on_circle(X, Y, BODY, edge), Stroke("medium"))
            yield Arc(X, Y, STUDS + side * _SLOT_HALF_WIDTH, middle - reach, 2 * reach)
            yield Arc(
                *on_circle(X, Y, STUDS, middle + side * reach), _SLOT_HALF_WIDTH, middle + side * reach, side * 180
            )
        yield Circle(*on_circle(X, Y, STUDS, middle), 3.2, Stroke("thin"), "line")
    yield Circle(X, Y, BODY, Stroke("medium"))


def _rotor(turn: Turn) -> Iterator[Shape]:
    """Draw the shaft and the way that the rotor runs, as a thin arrow around it."""
    sign = 1.0 if turn is Turn.CLOCKWISE else -1.0
    yield Circle(X, Y, 3.0, None, "ink")
    yield Arrow(Arc(X, Y, ROTOR_RADIUS, -120.0 * sign, 240.0 * sign, Stroke("thin")), 7.0)
    yield standing_on(Words(0, 0, "rotor", SMALL, role="quiet"), X, Y + 13)


def _way_to_turn(direction: Turn) -> Iterator[Shape]:
    """Draw the way to turn the housing, as a large arrow over its top."""
    sign = 1.0 if direction is Turn.CLOCKWISE else -1.0
    yield Arrow(Arc(X, Y, TURN_RADIUS, -42.0 * sign, 84.0 * sign, Stroke("heavy", "act")), 16.0)
