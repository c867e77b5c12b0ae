"""The firing table: evenly spaced from the reference, electrodes by the place in the order as given."""

from typing import Any

import pytest

from tests.toml_card import result_of, sound_card


def table(order: list[int], **engine: object) -> list[tuple[int, int, float]]:
    changes: dict[str, Any] = {"engine.cylinders": len(order), "engine.firing_order": order}
    changes |= {f"engine.{key}": value for key, value in engine.items()}
    return [(row["cylinder"], row["electrode"], row["crank"]) for row in result_of(sound_card(), changes)["firing"]]


def test_that_the_reference_is_the_first_of_the_order_when_none_is_named() -> None:
    assert table([1, 4, 5, 2, 3, 6]) == [(1, 1, 0), (4, 2, 120), (5, 3, 240), (2, 4, 360), (3, 5, 480), (6, 6, 600)]
    assert table([3, 1, 2]) == [(3, 1, 0), (1, 2, 240), (2, 3, 480)]


def test_that_degrees_count_from_the_reference_and_electrodes_from_the_order_as_given() -> None:
    assert table([1, 4, 5, 2, 3, 6], reference=5) == [
        (1, 1, 480),
        (4, 2, 600),
        (5, 3, 0),
        (2, 4, 120),
        (3, 5, 240),
        (6, 6, 360),
    ]


@pytest.mark.parametrize(
    ("cylinders", "interval"), [(1, 720), (2, 360), (5, 144), (7, 102.8571), (14, 51.4286), (28, 25.7143)]
)
def test_that_the_cylinders_share_two_turns(cylinders: int, interval: float) -> None:
    rows = table(list(range(1, cylinders + 1)))
    assert len(rows) == cylinders
    assert rows[:1] == [(1, 1, 0)]
    assert rows[1:2] == [(2, 2, interval)][: cylinders - 1]
    assert rows[-1][2] == pytest.approx(720 - 720 / cylinders, abs=5.1e-5)
