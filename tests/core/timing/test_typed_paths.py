"""Values of a typed card are reached and replaced by their key's path."""

import pytest

from desktop.core.timing.faults import found
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import TypedCard, TypedEngine, TypedMagneto
from desktop.core.timing.typed_paths import Value, value_at, with_magneto, with_value


@pytest.mark.parametrize(
    ("path", "value", "back"),
    [
        ("engine.cylinders", "6", "6"),
        ("engine.cylinders", "six", "six"),
        ("engine.firing_order", "1-4-5", "1-4-5"),
        ("engine.firing_order", "145236", "1-4-5-2-3-6"),
        ("engine.firing_order", "1, 4; x", "1-4-x"),
        ("engine.firing_order", "12", "1-2"),
        ("measure.zeroed", "true", True),
        ("measure.zeroed", "false", False),
        ("left.approach[1].from", "310", "310"),
        ("stop[1].with", "12", "12"),
        ("stop[1].after_zeroing", True, None),
        ("torque[1].what", "nut", "nut"),
        ("left.e_gap", " ", None),
    ],
)
def test_that_a_value_comes_back_as_it_was_put(path: str, value: Value, back: Value) -> None:
    if path == "stop[1].after_zeroing":
        card = with_value(TypedCard(), "stop[1].with", "1")
        assert value_at(with_value(card, path, value), path) is True
        return
    assert value_at(with_value(TypedCard(), path, value), path) == back


def test_that_nothing_stands_where_nothing_was_put() -> None:
    assert value_at(TypedCard(), "left.approach[3].light") is None
    assert value_at(with_value(TypedCard(), "left.approach[1].light", "1"), "left.approach[3].light") is None


@pytest.mark.parametrize(
    "path",
    [
        "engine.wheels",
        "engine.cylinders.more",
        "format.more",
        "engine.cylinders!",
        "left.approach[x].light",
        "Left.e_gap",
    ],
)
def test_that_a_key_the_card_does_not_have_is_named(path: str) -> None:
    with pytest.raises(KeyError):
        with_value(TypedCard(), path, "1")


def test_that_an_entry_goes_with_its_last_reading_and_its_ticks_go_with_it() -> None:
    card = with_value(TypedCard(), "left.approach[1].light", "1")
    card = with_value(card, "left.approach[1].click_passed", True)
    card = with_value(card, "left.approach[2].light", "2")
    card = with_value(card, "left.approach[1].light", "")
    assert value_at(card, "left.approach[1].light") == "2"
    card = with_value(card, "left.approach[1].light", None)
    assert card.left is not None
    assert card.left.approach is None


def test_that_the_old_card_stays_as_it_was() -> None:
    old = TypedCard(engine=TypedEngine(cylinders=6))
    with_value(old, "engine.cylinders", "4")
    assert old.engine == TypedEngine(cylinders=6)


def test_that_a_magneto_goes_on_one_side_only() -> None:
    card = with_magneto(TypedCard(), Side.RIGHT, TypedMagneto(poles=2))
    assert (card.left, card.right) == (None, TypedMagneto(poles=2))
    assert with_magneto(card, Side.LEFT, TypedMagneto()).left == TypedMagneto()


def test_that_a_number_of_thousands_of_digits_is_not_written_out() -> None:
    assert found(10**5000) == "found a number that is too large"
    assert found("x" * 100).endswith(" ...")
    assert found(None) == "nothing found"
