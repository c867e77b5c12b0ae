"""Where the advice changes from one thing to another, and where a figure stops being one that can be read."""

from fractions import Fraction
from typing import Any

import pytest

from tests.door import check, faults
from tests.simulation.cards import Path, as_text, changed, direct_card, path_text, zeroed_card
from tests.simulation.disc import written


def far_out(deviation: str, **more: object) -> dict[str, Any]:
    """What is said of a four-pole magneto on four cylinders (half a magneto degree a crankshaft degree), so far out."""
    card = zeroed_card()
    card["left"] |= more
    light = -22 - Fraction(deviation)
    card["left"]["approach"] = [{"from": written((light - 30) % 360), "light": written(light % 360)}]
    said: dict[str, Any] = check(as_text(card))["left"]
    return said


@pytest.mark.parametrize(
    ("deviation", "teeth", "left"),
    [
        # 36 teeth are 10 magneto degrees each, 20 of the crankshaft; exactly half a tooth rounds away from nought.
        ("10.00000002", 1, -5),
        ("20", 1, 0),
        ("-20", -1, 0),
        ("30", 2, -5),
        ("-30", -2, 5),
        ("29.9", 1, Fraction("4.95")),
        ("-29.9", -1, Fraction("-4.95")),
    ],
)
def test_that_the_nearest_tooth_is_named_and_half_a_tooth_rounds_away(
    deviation: str, teeth: int, left: Fraction | int
) -> None:
    mesh = far_out(deviation, drive_gear_teeth=36)["mesh"]
    assert mesh["teeth"] == teeth
    assert abs(Fraction(str(mesh["left_to_turn"])) - left) <= Fraction(1, 10_000)


@pytest.mark.parametrize(
    ("deviation", "slot", "meshed"),
    [
        ("10", None, False),
        ("-10", None, False),
        ("10.00000002", None, True),
        ("20", "20", False),
        ("20.00000002", "20", True),
        ("-20", "20", False),
        ("-20.00000002", "20", True),
        ("9", "1", False),
        ("10", "1", True),
        ("-10", "1", True),
    ],
)
def test_that_the_gear_is_spoken_of_only_beyond_half_the_slot_or_half_a_tooth(
    deviation: str, slot: str | None, meshed: bool
) -> None:
    more = {"drive_gear_teeth": 36} | ({"slot_degrees": slot} if slot else {})
    assert (far_out(deviation, **more)["mesh"] is not None) is meshed
    assert far_out(deviation)["mesh"] is None


@pytest.mark.parametrize(
    ("deviation", "direction"),
    [("0", "none"), ("0.00000001", "counter-clockwise"), ("-0.00000001", "clockwise")],
)
def test_that_only_exactly_nothing_needs_no_turning(deviation: str, direction: str) -> None:
    # A right-hand rotor seen from the back turns counter-clockwise; early is turned that way.
    assert far_out(deviation)["housing"]["direction"] == direction


@pytest.mark.parametrize(
    ("place", "typed", "refused"),
    [
        (("measure", "read_to"), "0", True),
        (("measure", "read_to"), "0.00000001", False),
        (("engine", "propeller_turns_per_crank_turn"), "0", True),
        (("engine", "stroke_mm"), "0", True),
        (("engine", "rod_mm"), "-1", True),
        (("limits", "advanced_most"), "0", False),
        (("limits", "advanced_most"), "-0.00000001", True),
        (("limits", "apart_most"), "-1", True),
        (("run_up", "drop_most"), "0", False),
        (("run_up", "drop_most"), "-0.1", True),
        (("run_up", "both_rpm"), "0", True),
        (("torque", 1, "wrench"), "0", True),
        (("stop", 0, "with"), "360", False),
        (("stop", 0, "with"), "360.00000001", True),
        (("stop", 0, "with"), "-0.1", True),
        (("left", "drive_gear_teeth"), 0, True),
        (("engine", "cylinders"), 0, True),
        (("engine", "cylinders"), 29, True),
        (("engine", "reference"), 7, True),
        (("engine", "firing_order"), [1, 4, 5, 2, 3, 3], True),
        (("left", "poles"), 3, True),
        (("format",), 2, True),
    ],
)
def test_that_a_figure_at_the_end_of_its_range_is_read_and_beyond_it_refused(
    place: Path, typed: object, refused: bool
) -> None:
    fault = faults(as_text(changed(direct_card(), place, typed)))
    assert (fault is not None) is refused, fault
    if fault is not None:
        assert path_text(place) in fault


@pytest.mark.parametrize(("extension", "refused"), [("10", True), ("9.99999999", False), ("10.00000001", True)])
def test_that_an_extension_that_points_back_over_the_whole_wrench_is_refused(extension: str, refused: bool) -> None:
    card = direct_card()
    card["torque"][0] |= {"wrench": "10", "extension": extension, "angle": "180"}
    assert (faults(as_text(card)) is not None) is refused
