"""The magneto's speed, its poles, and what its angles are worth at the crankshaft."""

import math

import pytest

from desktop.core.timing.drive import housing, magneto_ratio, tooth
from desktop.core.timing.firing_order import firing_table
from desktop.core.timing.mistakes import Kind, known_mistakes
from desktop.core.timing.readings import Magneto
from tests.authorities.known import HANDBOOK, MEMORY, PRACTICE, Known, core_card, cylinders
from tests.toml_card import Changes

POLES = f"{HANDBOOK} pp. 4-2, 4-3"
RATIO = f"computed from {HANDBOOK} p. 1-25 and pp. 4-2, 4-3; the formula's text {MEMORY}"
RATIOS = [
    (4, 2, Known(1.0, RATIO)),
    (4, 4, Known(0.5, RATIO)),
    (6, 2, Known(1.5, RATIO)),
    (6, 4, Known(0.75, RATIO)),
    (8, 4, Known(1.0, RATIO)),
    (9, 4, Known(1.125, RATIO)),
    (14, 8, Known(0.875, RATIO)),
    (18, 4, Known(2.25, RATIO)),
    (18, 8, Known(1.125, RATIO)),
]
BETWEEN_SPARKS = [(2, Known(180, POLES)), (4, Known(90, POLES)), (8, Known(45, POLES))]
E_GAP = "10 degrees of E-gap over the ratio, computed from the same"
E_GAPS = [
    (4, 2, Known(10.0, E_GAP)),
    (4, 4, Known(20.0, E_GAP)),
    (6, 2, Known(6.667, E_GAP, 5e-4)),
    (6, 4, Known(13.333, E_GAP, 5e-4)),
    (9, 4, Known(8.889, E_GAP, 5e-4)),
]
TOOTH = "360/Z, computed; " + PRACTICE
TEETH = [
    (24, Known(15.0, TOOTH)),
    (30, Known(12.0, TOOTH)),
    (36, Known(10.0, TOOTH)),
    (40, Known(9.0, TOOTH)),
    (45, Known(8.0, TOOTH)),
    (48, Known(7.5, TOOTH)),
    (50, Known(7.2, TOOTH)),
    (60, Known(6.0, TOOTH)),
]
RIM = "a degree on a circle, computed; millimetres"
RIMS = [
    (50, Known(0.873, RIM, 5e-4)),
    (75, Known(1.309, RIM, 5e-4)),
    (100, Known(1.745, RIM, 5e-4)),
    (150, Known(2.618, RIM, 5e-4)),
]


def magneto_on(count: int, poles: int, data: Changes | None = None) -> tuple[Magneto, float]:
    card = core_card({**cylinders(count), "left.poles": poles, **(data or {})})
    assert card.left is not None
    return card.left, float(magneto_ratio(card.engine, card.left))


@pytest.mark.parametrize(("count", "poles", "known"), RATIOS)
def test_that_the_magneto_turns_once_for_every_two_poles_of_cylinders(count: int, poles: int, known: Known) -> None:
    assert known.agrees(magneto_on(count, poles)[1])


@pytest.mark.parametrize(("poles", "known"), BETWEEN_SPARKS)
@pytest.mark.parametrize("count", [2, 4, 5, 6, 7, 8, 9, 12, 14, 18])
def test_that_a_pole_passes_between_two_sparks_on_every_engine(count: int, poles: int, known: Known) -> None:
    # The rotor's angle between sparks over the ratio is the crankshaft's angle between firings.
    card = core_card({**cylinders(count), "left.poles": poles})
    assert card.left is not None
    table = firing_table(card.engine)
    between = (table[1].crank - table[0].crank) * magneto_ratio(card.engine, card.left)
    assert known.agrees(float(between))


@pytest.mark.parametrize(("count", "poles", "known"), E_GAPS)
def test_that_an_e_gap_of_10_rotor_degrees_is_worth_so_much_at_the_crankshaft(
    count: int, poles: int, known: Known
) -> None:
    card = core_card({**cylinders(count), "left.poles": poles, "left.e_gap": "10"})
    assert card.left is not None
    ratio = magneto_ratio(card.engine, card.left)
    early = next(
        mistake
        for mistake in known_mistakes(card.left, ratio, 20 / ratio)
        if mistake.kind is Kind.WRONG_HAND and mistake.deviation > 0
    )
    # Marks of the wrong hand set the rotor on the other side of neutral: twice the E-gap.
    assert known.agrees(float(early.deviation) / 2)


@pytest.mark.parametrize(("teeth", "known"), TEETH)
def test_that_one_tooth_turns_the_rotor_so_far(teeth: int, known: Known) -> None:
    found = tooth(magneto_on(6, 2, {"left.drive_gear_teeth": teeth})[0])
    assert found is not None
    assert known.agrees(float(found))


@pytest.mark.parametrize(("radius", "known"), RIMS)
def test_that_a_degree_on_the_slot_is_so_many_millimetres(radius: int, known: Known) -> None:
    card = core_card({**cylinders(4), "left.slot_radius_mm": str(radius)})
    assert card.left is not None
    ratio = magneto_ratio(card.engine, card.left)
    slot = housing(card.left, ratio, 1 / ratio).slot_mm
    assert slot is not None
    assert known.agrees(slot)
    assert math.isclose(slot, 2 * math.pi * radius / 360, rel_tol=1e-12)
