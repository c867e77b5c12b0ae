"""How far the piston lies below its top, and how fast it moves there."""

import math

import pytest
from scipy.optimize import brentq, minimize_scalar

from desktop.core.timing.tdc import piston_depth, piston_slope
from tests.authorities.known import Known
from tests.toml_card import result_of, standing_card

TEXTBOOK = "standard textbook relation of the crank drive, computed; r = 2, l = 6"
UNIVERSITY = "open university problem's data, r = 8 cm, l = 24.5 cm; results computed"
FIVE = 6e-6
DEPTHS = [
    (5, 0.01014), (10, 0.04044), (15, 0.09052), (20, 0.15973), (22, 0.19259), (24, 0.22831), (25, 0.24722),
    (28, 0.30803), (30, 0.35187), (32, 0.39825), (45, 0.75483), (60, 1.25544), (90, 2.34315), (180, 4.00000),
]  # fmt: skip
CENTIMETRES = [(10, 0.1610), (20, 0.6357), (25, 0.9839), (30, 1.4005), (90, 9.3429)]
FASTEST = [
    (4.0, 6.0, Known(73.17530, TEXTBOOK, 1e-5)),
    (16.0, 24.5, Known(73.44449, UNIVERSITY, 1e-5)),
]
SLOPES = [(1, Known(0.0008, TEXTBOOK, 5e-5)), (10, Known(0.0081, TEXTBOOK, 5e-5)), (25, Known(0.0193, TEXTBOOK, 5e-5))]


@pytest.mark.parametrize(("angle", "depth"), DEPTHS)
def test_that_the_piston_lies_so_deep(angle: float, depth: float) -> None:
    known = Known(depth, TEXTBOOK, FIVE)
    assert known.agrees(piston_depth(angle, 4, 6))
    assert known.agrees(piston_depth(-angle, 4, 6))


@pytest.mark.parametrize(("angle", "depth"), CENTIMETRES)
def test_that_the_piston_of_the_published_problem_lies_so_deep(angle: float, depth: float) -> None:
    assert Known(depth, UNIVERSITY, 5.1e-5).agrees(piston_depth(angle, 16, 24.5))


@pytest.mark.parametrize(("stroke", "rod", "known"), FASTEST)
def test_that_the_piston_is_fastest_there_and_not_where_rod_and_crank_are_square(
    stroke: float, rod: float, known: Known
) -> None:
    found = minimize_scalar(
        lambda angle: -piston_slope(angle, stroke, rod), bounds=(30, 120), method="bounded", options={"xatol": 1e-9}
    ).x
    assert known.agrees(found)
    square = math.degrees(math.atan(rod / (stroke / 2)))
    assert abs(found - square) > 1


@pytest.mark.parametrize(("angle", "known"), SLOPES)
def test_that_near_the_top_the_piston_hardly_moves_for_a_degree(angle: float, known: Known) -> None:
    assert known.agrees(piston_slope(angle, 4, 6))


@pytest.mark.parametrize("angle", [1, 20, 39, 90, 150])
def test_that_the_slope_is_the_change_of_the_depth(angle: float) -> None:
    step = 1e-4
    change = (piston_depth(angle + step, 98, 160) - piston_depth(angle - step, 98, 160)) / (2 * step)
    assert math.isclose(piston_slope(angle, 98, 160), change, rel_tol=1e-6)


# An offset of 0.02 with r = 2, l = 6, stop 0.3 below the top: computed.
OFFSET = "r = 2, l = 6, offset 0.02, stop 0.3 below the top, computed"
AGAINST, WITH = Known(27.7691, OFFSET, 5e-5), Known(-27.4715, OFFSET, 5e-5)
MIDDLE, TRUE = Known(0.14882, OFFSET, 6e-5), Known(0.14324, OFFSET, 1e-5)


def test_that_an_offset_cylinder_puts_the_midpoint_out_by_less_than_a_scale_shows() -> None:
    def height(angle: float) -> float:
        turned = math.radians(angle)
        return 2 * math.cos(turned) + math.sqrt(36 - (2 * math.sin(turned) - 0.02) ** 2)

    top = minimize_scalar(lambda angle: -height(angle), bounds=(-5, 5), method="bounded", options={"xatol": 1e-9}).x
    low = brentq(lambda angle: height(angle) - height(top) + 0.3, -60, 0)
    high = brentq(lambda angle: height(angle) - height(top) + 0.3, 0, 60)
    assert TRUE.agrees(top)
    assert (WITH.agrees(low), AGAINST.agrees(high)) == (True, True)
    pair = {"with": f"{360 + low:.8f}", "against": f"{high:.8f}"}
    reading = result_of(standing_card(), {"stop": [pair, pair]})["tdc"]["reading"]
    assert MIDDLE.agrees(reading)
    assert abs(reading - top) < 0.0057
