"""Typed text becomes a card: what stands where nothing was typed, and every fault in one pass."""

from fractions import Fraction

import pytest

from desktop.core.timing.read_card import read_card
from desktop.core.timing.readings import Card, Decision, LagIn, Turn, When
from desktop.core.timing.typed_card import TypedCard
from desktop.files.readings import read_readings
from tests.toml_card import GONE, Changes, changed, sound_card, text_of


def typed(changes: Changes) -> TypedCard:
    return read_readings(text_of(changed(sound_card(), changes)).encode())


def card(changes: Changes) -> Card:
    read = read_card(typed(changes)).card
    assert read is not None
    return read


@pytest.mark.parametrize("rotation", list(Turn))
def test_that_the_propeller_turns_as_the_engine_unless_said_otherwise(rotation: Turn) -> None:
    assert card({"engine.rotation": rotation.value}).engine.propeller_rotation is rotation
    other = {"engine.rotation": rotation.value, "engine.propeller_rotation": rotation.reversed().value}
    assert card(other).engine.propeller_rotation is rotation.reversed()


def test_that_what_is_left_out_has_its_default() -> None:
    read = card({"engine.firing_order": [4, 1, 5, 2, 3, 6], "left.impulse_lag": "25", "limits.apart_most": GONE})
    assert (read.engine.reference, read.engine.propeller_ratio) == (4, Fraction(1))
    assert (read.limits.decision, read.limits.apart_most) == (Decision.SIMPLE, None)
    assert read.one_housing is False
    assert [pair.after_zeroing for pair in read.stops] == [False, True]
    assert read.left is not None
    assert read.left.impulse_lag_in is LagIn.MAGNETO
    first = read.left.approaches[0]
    assert (first.when, first.click_passed, first.snapped) == (When.AS_LEFT, False, False)
    assert (read.run_up, read.torque) == (None, ())


def test_that_a_reading_keeps_its_typed_text_beside_its_exact_value() -> None:
    read = card({"left.approach[1].light": "337,50"})
    assert read.left is not None
    light = read.left.approaches[0].light
    assert (light.typed, light.value) == ("337,50", Fraction(675, 2))


def test_that_all_faults_are_found_in_one_pass_each_at_its_key() -> None:
    wrong: Changes = {
        "engine.rotation": "left",
        "limits.advanced_most": "-1",
        "measure.read_to": "0",
        "stop[2].with": "400",
        "left.poles": 3,
        "left.approach[2].light": "338.5.5",
        "right.approach[1].when": "later",
    }
    read = read_card(typed(wrong))
    assert read.card is None
    assert sorted(fault.where for fault in read.faults) == sorted(wrong)
    assert all(fault.sentence.startswith(f"{fault.where}: ") for fault in read.faults)


def test_that_an_empty_card_has_faults_for_every_table_it_needs() -> None:
    read = read_card(TypedCard())
    assert {fault.where for fault in read.faults} == {"format", "left", "engine", "limits", "measure"}
