"""The named limits of card steps out of the sheets of a job."""

from dataclasses import replace
from fractions import Fraction

import pytest

from desktop.core.shop.cards.task_card import LIMITS, UNITS
from desktop.core.shop.sheets.sheet_limits import LIMIT_NAMES, Range, limit_for
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, SheetGap, SheetLeads, SheetRetard, SheetTorque
from desktop.core.timing.readings import Side
from tests.core.shop.sheets.sheet_cases import changed, engine, magneto

SIX, RADIAL = engine(), engine("bracken-seven")
LEFT, RIGHT, OLD = magneto("ostrin-t2-l"), magneto("ostrin-t2"), magneto("ostrin-r7")


def of(least: str | None, most: str | None, unit: str, whose: str = "") -> Range:
    low, high = (None if text is None else Fraction(text) for text in (least, most))
    return Range(low, high, unit, whose)


@pytest.mark.parametrize(
    ("name", "side", "left", "expected"),
    [
        ("e-gap", Side.LEFT, LEFT, of("8", "12", "°", "magneto")),
        ("contact gap", Side.LEFT, LEFT, of("0.35", "0.45", "mm")),
        ("retard breaker", Side.LEFT, OLD, of("-7", "-3", "°", "crankshaft")),
        ("impulse lag", Side.LEFT, LEFT, of("28", "32", "°", "magneto")),
        ("lead resistance", Side.LEFT, LEFT, of(None, "12", "kΩ")),
        ("lead resistance", Side.LEFT, replace(LEFT, leads=SheetLeads("9000", "ohm")), of(None, "9000", "Ω")),
        ("nut torque", Side.LEFT, LEFT, of("160", "180", "in-lb")),
        ("clamp torque", None, LEFT, of("90", "100", "in-lb")),
        ("plug torque", None, LEFT, of("360", "420", "in-lb")),
        ("plug gap", None, None, of("0.016", "0.021", "in")),
        ("run-up drop", None, None, of(None, "125", "rpm")),
        ("run-up apart", None, None, of(None, "50", "rpm")),
        ("retard breaker", Side.LEFT, LEFT, None),
        ("impulse lag", Side.LEFT, RIGHT, None),
        ("e-gap", Side.LEFT, None, None),
        ("nut torque", Side.LEFT, None, None),
    ],
)
def test_that_a_limit_comes_from_the_sheet_that_has_it(
    name: str, side: Side | None, left: MagnetoSheet | None, expected: Range | None
) -> None:
    assert limit_for(name, side, SIX, left, RIGHT if side else left) == expected
    if expected is not None:
        assert expected.unit in UNITS


def test_that_the_names_are_those_of_the_task_cards() -> None:
    assert set(LIMIT_NAMES) == set(LIMITS)
    for name in LIMIT_NAMES:
        assert limit_for(name, Side.LEFT, None, None, None) is None
        assert limit_for(name, Side.LEFT, EngineSheet("new"), MagnetoSheet("old"), None) is None
    with pytest.raises(ValueError, match="no limit has the name"):
        limit_for("oil pressure", None, SIX, LEFT, RIGHT)


def test_that_a_step_without_a_side_gets_a_magnetos_limit_only_where_both_are_alike() -> None:
    assert limit_for("e-gap", None, SIX, LEFT, LEFT) == limit_for("e-gap", None, SIX, LEFT, None)
    assert limit_for("e-gap", None, SIX, LEFT, RIGHT) is None
    assert limit_for("e-gap", None, SIX, None, RIGHT) is None
    assert limit_for("e-gap", Side.RIGHT, SIX, None, RIGHT) == of("8", "12", "°", "magneto")


def test_that_a_magnetos_own_torque_comes_before_the_engines() -> None:
    assert limit_for("nut torque", Side.LEFT, RADIAL, OLD, OLD) == of("140", "140", "in-lb")
    assert limit_for("nut torque", Side.LEFT, RADIAL, replace(OLD, torque=None), OLD) == of("130", "150", "in-lb")
    assert limit_for("nut torque", None, RADIAL, None, None) == of("130", "150", "in-lb")
    assert limit_for("nut torque", None, replace(RADIAL, torque=(SheetTorque(),)), None, None) is None


def test_that_a_nominal_without_a_window_is_a_range_of_one_value() -> None:
    plain = changed(LEFT, ("magneto.e_gap_least", None), ("magneto.e_gap_most", None),
                    ("magneto.impulse_lag_least", None), ("magneto.impulse_lag_most", None),
                    ("magneto.impulse_lag_in", "crankshaft"))  # fmt: skip
    assert isinstance(plain, MagnetoSheet)
    assert limit_for("e-gap", Side.LEFT, SIX, plain, RIGHT) == of("10", "10", "°", "magneto")
    assert limit_for("impulse lag", Side.LEFT, SIX, plain, RIGHT) == of("30", "30", "°", "crankshaft")
    retard = replace(OLD, retard=SheetRetard("-5"))
    assert limit_for("retard breaker", Side.LEFT, RADIAL, retard, OLD) == of("-5", "-5", "°", "crankshaft")


@pytest.mark.parametrize("gap", [SheetGap("x", "y", "mm"), SheetGap("0.5", "0.4", "mm"), SheetGap()])
def test_that_what_cannot_be_read_is_no_limit(gap: SheetGap) -> None:
    assert limit_for("contact gap", Side.LEFT, SIX, replace(LEFT, contact_gap=gap), RIGHT) is None
    assert limit_for("lead resistance", Side.LEFT, SIX, replace(LEFT, leads=SheetLeads("9")), None) == of(None, "9", "")


@pytest.mark.parametrize(
    ("limits", "inside", "outside", "words"),
    [
        (of("8", "12", "°", "magneto"), ["8", "10", "12"], ["7.99", "12.01"], "8 to 12°, magneto degrees"),
        (of(None, "125", "rpm"), ["125", "-5"], ["125.5"], "at most 125 rpm"),
        (of("0.5", None, "kV"), ["0.5", "9"], ["0.49"], "at least 0.5 kV"),
        (of("95", "95", "in-lb"), ["95"], ["94", "96"], "95 in-lb"),
        (of("0.016", "0.021", "in"), ["0.016", "0.021"], ["0.015"], "0.016 to 0.021 in"),
        (of(None, "0", "rpm"), ["0"], ["1"], "at most 0 rpm"),
    ],
)
def test_that_a_range_holds_its_edges_and_says_itself(
    limits: Range, inside: list[str], outside: list[str], words: str
) -> None:
    assert all(limits.holds(Fraction(value)) for value in inside)
    assert not any(limits.holds(Fraction(value)) for value in outside)
    assert limits.words == words


@pytest.mark.parametrize("ends", [(None, None), ("2", "1")])
def test_that_a_range_without_an_end_or_the_wrong_way_round_cannot_be_built(
    ends: tuple[str | None, str | None],
) -> None:
    with pytest.raises(ValueError, match="range"):
        of(*ends, "mm")
