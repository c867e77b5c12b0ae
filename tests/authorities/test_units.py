"""Lengths and torques in the other system, against published factors."""

from fractions import Fraction

import pytest

from desktop.core.units import INCH_POUND, SI, UNITS, converted, other_words
from tests.authorities.known import Known

SP_811 = "NIST SP 811 (2008), appendix B.8"
FACTORS = [
    ("in", SI, "mm", Known(25.4, SP_811 + ", inch, exact")),
    ("in-lb", SI, "N·m", Known(0.1129848, SP_811 + ", pound-force inch, as printed", 5e-8)),
    ("ft-lb", SI, "N·m", Known(1.355818, SP_811 + ", pound-force foot, as printed", 5e-7)),
    ("mm", INCH_POUND, "in", Known(0.03937008, "the inverse of the inch, computed", 5e-9)),
    ("N·m", INCH_POUND, "in-lb", Known(8.850746, "the inverse of the pound-force inch, computed", 5e-6)),
]


@pytest.mark.parametrize(("unit", "system", "to", "known"), FACTORS)
def test_that_a_factor_is_the_published_one(unit: str, system: str, to: str, known: Known) -> None:
    found = converted(Fraction(1), unit, system)
    assert found is not None
    assert found[1] == to
    assert known.agrees(float(found[0]))


def test_that_there_and_back_is_the_same_value_exactly() -> None:
    for unit, other in (("in", "mm"), ("in-lb", "N·m")):
        there = converted(Fraction("0.017"), unit, SI)
        assert there is not None
        assert there[1] == other
        assert converted(there[0], other, INCH_POUND) == (Fraction("0.017"), unit)


@pytest.mark.parametrize(
    ("typed", "unit", "system", "said"),
    [
        ("200", "in-lb", SI, "about 22.6 N·m"),
        ("0.017", "in", SI, "about 0.43 mm"),
        (" 3 ", "in", SI, "about 76 mm"),
        ("75", "mm", INCH_POUND, "about 2.95 in"),
        ("0,4", "mm", INCH_POUND, "about 0.016 in"),
        ("20", "ft-lb", SI, "about 27 N·m"),
        ("20", "ft-lb", INCH_POUND, ""),
        ("20", "mm", SI, ""),
        ("20", "°", SI, ""),
        ("2x", "mm", INCH_POUND, ""),
        ("", "mm", INCH_POUND, ""),
        ("1", "mm", "", ""),
    ],
)
def test_that_what_is_said_is_as_fine_as_what_was_typed(typed: str, unit: str, system: str, said: str) -> None:
    assert other_words(typed, unit, system) == said


def test_that_the_finest_typed_value_has_an_end() -> None:
    assert other_words("0.00000001", "mm", INCH_POUND) == "about 0 in"
    assert UNITS == ("in", "in-lb", "ft-lb", "mm", "N·m")
