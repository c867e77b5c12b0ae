"""Hypothesis strategies for jobs: every way of measuring, either hand, direct or geared, with a coupling or none."""

from fractions import Fraction
from types import MappingProxyType

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from tests.simulation.disc import Disc, engine_marks
from tests.simulation.engine import THOUSANDTH, Crankcase, Engine
from tests.simulation.job import SIDES, Job, Sheet
from tests.simulation.magneto import Magneto

PATIENCE = settings(
    max_examples=60,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)

ORDERS = (
    (1, 3, 4, 2),
    (1, 4, 5, 2, 3, 6),
    (6, 3, 2, 5, 4, 1),
    (1, 3, 5, 7, 2, 4, 6),
    (1, 3, 5, 7, 9, 2, 4, 6, 8),
)
DIRECT = Fraction(1)
START = Fraction(-120)  # the piston comes up on compression
GEARS = (Fraction(77, 120), Fraction(2, 3), Fraction(16, 21))
READ_TO = tuple(Fraction(text) for text in ("0.1", "0.2", "0.25", "0.5", "1"))
CLOCK = ("clockwise", "counter-clockwise")
WAYS = ("disc", "gauge", "marks")


def thousandths(least: str, most: str) -> st.SearchStrategy[Fraction]:
    """Angles to a thousandth of a degree."""
    whole = [int(Fraction(end) / THOUSANDTH) for end in (least, most)]
    return st.integers(whole[0], whole[1]).map(lambda count: count * THOUSANDTH)


def in_steps(least: int, most: int, step: str) -> st.SearchStrategy[Fraction]:
    """Figures as a data sheet prints them, from `least` to `most` in `step`."""
    size = Fraction(step)
    return st.integers(int(least / size), int(most / size)).map(lambda count: count * size)


@st.composite
def crankcases(draw: st.DrawFn, *, geared: bool, orders: tuple[tuple[int, ...], ...] = ORDERS) -> Crankcase:
    """An engine's fixed part; the rod is longer than the stroke."""
    stroke = draw(in_steps(80, 160, "0.5"))
    return Crankcase(
        firing_order=draw(st.sampled_from(orders)),
        rotation=draw(st.sampled_from(CLOCK)),
        stroke=stroke,
        rod=stroke * draw(st.sampled_from((Fraction(3, 2), Fraction(7, 4), Fraction(2)))),
        propeller=draw(st.sampled_from(GEARS)) if geared else DIRECT,
    )


@st.composite
def discs(draw: st.DrawFn, turns: Fraction) -> Disc:
    """A disc clamped anywhere, marked in any of the three ways, on a shaft of so many turns a crankshaft turn."""
    marking = draw(st.sampled_from(("full", "split")))
    return Disc(
        turns=turns,
        sign=1 if marking == "split" else draw(st.sampled_from((1, -1))),
        marking=marking,
        read_to=draw(st.sampled_from(READ_TO)),
        at_tdc=draw(thousandths("0", "359.999")),
    )


@st.composite
def coupled(draw: st.DrawFn, ratio: Fraction) -> tuple[Fraction, Fraction, str]:
    """An impulse coupling: its lag in crankshaft degrees, and as the sheet states it."""
    figure = draw(in_steps(10, 30, "0.5"))
    stated_in = draw(st.sampled_from(("magneto", "crankshaft")))
    if stated_in == "magneto":
        figure = Fraction(max(round(figure * ratio), 4))
        return figure / ratio, figure, stated_in
    return figure, figure, stated_in


@st.composite
def magnetos(
    draw: st.DrawFn,
    cylinders: int,
    *,
    impulse: bool,
    off_by: st.SearchStrategy[Fraction],
    nominal: Fraction | None = None,
) -> tuple[Magneto, Sheet]:
    """A magneto that opens the drawn `off_by` crankshaft degrees early, and its sheet."""
    nominal = draw(in_steps(12, 34, "0.5")) if nominal is None else nominal
    poles = draw(st.sampled_from((2, 4, 8)))
    ratio = Fraction(cylinders, 2 * poles)
    lag, stated, stated_in = draw(coupled(ratio)) if impulse else (Fraction(0), None, "magneto")
    magneto = Magneto(
        hand=draw(st.sampled_from(("right", "left"))),
        poles=poles,
        ratio=ratio,
        opening=nominal + draw(off_by),
        play=draw(thousandths("0", "6")),
        catch=draw(thousandths("14", "18")) if impulse else None,
        lag=lag,
        drive=START,
        rotor=START,
    )
    return magneto, Sheet(nominal, draw(st.sampled_from(("back", "drive"))), stated, stated_in)


@st.composite
def jobs(
    draw: st.DrawFn,
    *,
    ways: tuple[str, ...] = WAYS,
    impulse: bool = False,
    off_by: st.SearchStrategy[Fraction] | None = None,
    sides: tuple[str, ...] = SIDES,
    zeroed: bool | None = None,
    geared: bool | None = None,
) -> Job:
    """A whole job; whatever is not asked for is drawn."""
    off_by = thousandths("-5", "5") if off_by is None else off_by
    by = draw(st.sampled_from(ways))
    has_gear = draw(st.booleans()) if geared is None else geared
    case = draw(crankcases(geared=has_gear, orders=ORDERS[:3] if impulse else ORDERS))
    on = draw(st.sampled_from(("propeller", "crankshaft"))) if geared is None else "propeller"
    turns = case.propeller if on == "propeller" and by != "marks" else DIRECT
    disc = engine_marks(draw(st.sampled_from(READ_TO))) if by == "marks" else draw(discs(turns))
    made = {side: draw(magnetos(len(case.firing_order), impulse=impulse, off_by=off_by)) for side in sides}
    line = disc.read_to / turns
    return Job(
        engine=Engine(
            case=case,
            disc=disc,
            magnetos=MappingProxyType({side: magneto for side, (magneto, _) in made.items()}),
            crank=START,
        ),
        by=by,
        on=on,
        zeroed=by != "marks" and (draw(st.booleans()) if zeroed is None else zeroed),
        depth=float(case.stroke) * draw(st.floats(0.03, 0.5)),
        feel=draw(thousandths("-4", "4")),
        beyond=4 * line + draw(thousandths("0", "6")),
        with_first=draw(st.booleans()),
        sheets=MappingProxyType({side: sheet for side, (_, sheet) in made.items()}),
        advanced_most=draw(in_steps(0, 4, "0.1")),
        retarded_most=draw(in_steps(0, 4, "0.1")),
        apart_most=draw(in_steps(0, 4, "0.1")),
    )
