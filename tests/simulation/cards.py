"""Whole readings files as tables, for the laws: every key that a file can have, typed by hand, no engine behind."""

from collections.abc import Callable, Iterator
from copy import deepcopy
from fractions import Fraction
from typing import Any

import tomli_w

from tests.simulation.disc import written

Card = dict[str, Any]
Path = tuple[str | int, ...]
Make = Callable[[], Card]
DISC_READINGS = ("with", "against", "from", "light", "back", "centre_by_feel")


def direct_card() -> Card:
    """A full disc on a direct propeller, as it stood, TDC at 40; both magnetos timed; every optional key present."""
    return {
        "format": 1,
        "engine": {
            "cylinders": 6,
            "firing_order": [1, 4, 5, 2, 3, 6],
            "reference": 1,
            "rotation": "clockwise",
            "propeller_turns_per_crank_turn": "1",
            "propeller_rotation": "clockwise",
            "stroke_mm": "98",
            "rod_mm": "160",
        },
        "limits": {
            "left_btdc": "22",
            "right_btdc": "20",
            "advanced_most": "1",
            "retarded_most": "1",
            "apart_most": "1",
            "decision": "guarded",
        },
        "measure": {
            "by": "disc",
            "marking": "full",
            "counts": "up",
            "read_to": "0.5",
            "on": "propeller",
            "zeroed": False,
            "centre_by_feel": "43",
            "radius_mm": "75",
            "centring_mm": "0.5",
        },
        "stop": [
            {"with": "0", "against": "80"},
            {"with": "359.5", "against": "80.5", "after_zeroing": False},
            {"with": "0.5", "against": "79.5"},
        ],
        "magnetos": {"one_housing": False},
        "left": {
            "rotation": "right",
            "poles": 2,
            "seen_from": "back",
            "back_off_least": "2",
            "back_off_most": "40",
            "drive_gear_teeth": 30,
            "slot_degrees": "20",
            "slot_radius_mm": "38",
            "impulse_lag": "25",
            "impulse_lag_in": "magneto",
            "e_gap": "10",
            "approach": [
                {"when": "as found", "from": "5", "light": "14", "back": "12", "click_passed": True, "snapped": False},
                {"when": "setting", "from": "5", "light": "17.5", "back": "16", "click_passed": True},
                {"when": "as left", "from": "5", "light": "18.5", "back": "17", "click_passed": True},
            ],
        },
        "right": {
            "rotation": "left",
            "poles": 4,
            "seen_from": "drive",
            "approach": [{"from": "350", "light": "19.5", "back": "18"}, {"from": "345", "light": "19", "back": "18"}],
        },
        "run_up": {
            "both_rpm": "1700",
            "left_rpm": "1620",
            "right_rpm": "1610",
            "drop_most": "150",
            "apart_most": "50",
        },
        "torque": [
            {"what": "long nut", "required": "60", "unit": "in-lb", "wrench": "10", "extension": "4", "angle": "30"},
            {"what": "short nut", "required": "17", "unit": "ft-lb", "wrench": "12", "extension": "2"},
        ],
    }


def zeroed_card() -> Card:
    """A full disc set to zero, one magneto, no coupling; the light at 338, which is the nominal 22 exactly."""
    return {
        "format": 1,
        "engine": {"cylinders": 4, "firing_order": [1, 3, 4, 2], "rotation": "counter-clockwise"},
        "limits": {"left_btdc": "22", "advanced_most": "1", "retarded_most": "1"},
        "measure": {
            "by": "disc",
            "marking": "full",
            "counts": "up",
            "read_to": "0.5",
            "on": "propeller",
            "zeroed": True,
        },
        "stop": [{"with": "0", "against": "78"}, {"with": "321", "against": "39", "after_zeroing": True}],
        "left": {
            "rotation": "right",
            "poles": 4,
            "seen_from": "back",
            "approach": [{"from": "310", "light": "338", "back": "336"}],
        },
    }


def split_card() -> Card:
    """The same engine on a split gauge."""
    card = zeroed_card()
    card["measure"] = {"by": "gauge", "marking": "split", "read_to": "0.5", "on": "crankshaft", "zeroed": True}
    card["stop"] = [
        {"with": "20 before", "against": "58 after"},
        {"with": "39 before", "against": "39 after", "after_zeroing": True},
    ]
    card["left"]["approach"] = [{"from": "50 before", "light": "22 before", "back": "24 before"}]
    return card


def marks_card() -> Card:
    """The same engine by its own marks."""
    card = split_card()
    del card["stop"]
    card["measure"] = {"by": "marks", "read_to": "0.5"}
    return card


def geared_card() -> Card:
    """A geared propeller, two disc turns for three of the crankshaft, disc not set to zero, TDC at 70, arc 90."""
    card = zeroed_card()
    card["engine"]["propeller_turns_per_crank_turn"] = "2/3"
    card["measure"] |= {"zeroed": False, "centre_by_feel": "72"}
    # Contact with rotation 45 crankshaft degrees before TDC; against it, 315 before.
    card["stop"] = [{"with": "40", "against": "220"}, {"with": "40", "against": "220"}]
    card["left"]["approach"] = [{"from": "40", "light": "55", "back": "54"}]
    card["limits"]["left_btdc"] = "22.5"
    return card


def as_text(card: Card) -> str:
    """The card as TOML."""
    return tomli_w.dumps(card)


def leaves(value: object, path: Path = ()) -> Iterator[tuple[Path, object]]:
    """Every single value of a card with its path; list entries are counted from 0."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from leaves(inner, (*path, index))
    else:
        yield path, value


def changed(card: Card, path: Path, value: object) -> Card:
    """A copy of the card with one value replaced."""
    copy: Any = deepcopy(card)
    inner = copy
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    return dict(copy)


def without(card: Card, path: Path) -> Card:
    """A copy of the card with one value taken out."""
    copy: Any = deepcopy(card)
    inner = copy
    for step in path[:-1]:
        inner = inner[step]
    del inner[path[-1]]
    return dict(copy)


def path_text(path: Path) -> str:
    """A path as findings and faults write it: entries counted from 1."""
    parts = [f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path]
    return "".join(parts).removeprefix(".")


def readings_mapped(card: Card, turn: "Turn") -> Card:
    """A copy of the card with every place on the disc turned."""
    for path, value in leaves(card):
        if path[-1] in DISC_READINGS and value != "compression":
            card = changed(card, path, turn(str(value)))
    return card


class Turn:
    """A place on a full disc after the whole disc was turned by `by`, or mirrored."""

    def __init__(self, by: Fraction = Fraction(0), *, mirrored: bool = False) -> None:
        self.by = by
        self.way = -1 if mirrored else 1

    def __call__(self, typed: str) -> str:
        return written((self.way * Fraction(typed) + self.by) % 360)
