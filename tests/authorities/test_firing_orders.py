"""Firing orders that the handbook prints or gives a rule for."""

import pytest

from tests.authorities.known import HANDBOOK, PRACTICE
from tests.toml_card import fault_of, result_of, sound_card

PRINTED = f"{HANDBOOK} p. 1-16"
ORDERS = {
    "six opposed": ([1, 4, 5, 2, 3, 6], PRINTED),
    "six opposed, numbered otherwise": ([1, 6, 3, 2, 5, 4], PRACTICE),
    "four opposed": ([1, 4, 2, 3], PRINTED),
    "four opposed, another": ([1, 3, 2, 4], PRINTED),
    "four in line": ([1, 3, 4, 2], PRACTICE),
    "four in line, another": ([1, 2, 4, 3], PRACTICE),
    "six in line": ([1, 5, 3, 6, 2, 4], PRINTED),
    "radial of five": ([1, 3, 5, 2, 4], PRINTED),
    "radial of seven": ([1, 3, 5, 7, 2, 4, 6], PRINTED),
    "radial of nine": ([1, 3, 5, 7, 9, 2, 4, 6, 8], PRINTED),
    "radial of fourteen": ([1, 10, 5, 14, 9, 4, 13, 8, 3, 12, 7, 2, 11, 6], f"computed by the rule of {PRINTED}"),
    "radial of eighteen": (
        [1, 12, 5, 16, 9, 2, 13, 6, 17, 10, 3, 14, 7, 18, 11, 4, 15, 8],
        f"computed by the rule of {PRINTED}",
    ),
}
# The runs that the handbook prints of the two long orders, and their rules: forward or back, whichever stays inside.
RULES = [("radial of fourteen", 9, 5, [8, 3, 12, 7, 2]), ("radial of eighteen", 11, 7, [1, 12, 5, 16, 9, 2, 13])]


def firing(order: list[int]) -> list[dict[str, float]]:
    rows: list[dict[str, float]] = result_of(
        sound_card(), {"engine.cylinders": len(order), "engine.firing_order": order}
    )["firing"]
    return rows


@pytest.mark.parametrize("name", ORDERS)
def test_that_a_known_order_is_taken_and_kept_as_given(name: str) -> None:
    order, _ = ORDERS[name]
    rows = firing(order)
    assert [row["cylinder"] for row in rows] == order
    assert [row["electrode"] for row in rows] == list(range(1, len(order) + 1))
    cranks = [row["crank"] for row in rows]
    assert cranks == sorted(cranks)
    assert len(set(cranks)) == len(order)


@pytest.mark.parametrize("name", ORDERS)
def test_that_a_known_order_with_a_cylinder_twice_is_refused(name: str) -> None:
    order, _ = ORDERS[name]
    twice = [*order[:-1], order[0]]
    said = fault_of(sound_card(), {"engine.cylinders": len(order), "engine.firing_order": twice})
    assert said is not None
    assert said.startswith("engine.firing_order")


@pytest.mark.parametrize(("name", "up", "down", "run"), RULES)
def test_that_a_double_row_radial_alternates_its_rows_and_closes_its_ring(
    name: str, up: int, down: int, run: list[int]
) -> None:
    order = [int(row["cylinder"]) for row in firing(ORDERS[name][0])]
    count = len(order)
    assert sorted(order) == list(range(1, count + 1))
    for now, following in zip(order, [*order[1:], order[0]], strict=True):
        assert following == (now + up if now + up <= count else now - down)
        assert now % 2 != following % 2
    assert " ".join(map(str, run)) in " ".join(map(str, order + order))


def test_that_the_third_electrode_of_nine_serves_cylinder_5() -> None:
    source = f"{HANDBOOK} pp. 4-6, 4-7"
    rows = firing(ORDERS["radial of nine"][0])
    assert next(row["cylinder"] for row in rows if row["electrode"] == 3) == 5, source


def test_that_every_order_names_its_source() -> None:
    for order, source in ORDERS.values():
        assert order[0] == 1
        assert HANDBOOK in source or source == PRACTICE
