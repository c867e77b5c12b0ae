"""Readings files for single cases: a small sound card, and changes to it named by their paths.

A path is written as the program writes one: ``left.approach[2].light``, entries counted from 1.
"""

import re
from collections.abc import Mapping
from copy import deepcopy
from typing import Any, Final

import tomli_w

from tests.door import check, faults

Card = dict[str, Any]
Changes = dict[str, Any]
GONE: Final = object()
"""The value of a change that takes a key or an entry away."""

_STEP = re.compile(r"([a-z_]+)|\[([0-9]+)\]")


def sound_card() -> Card:
    """A disc set to zero, counting up, read to half a degree; both magnetos at 22 exactly; not one finding."""
    magneto: Card = {
        "rotation": "right",
        "poles": 2,
        "seen_from": "back",
        "approach": [
            {"from": "310", "light": "338", "back": "336"},
            {"from": "309", "light": "338", "back": "336"},
        ],
    }
    return {
        "format": 1,
        "engine": {"cylinders": 6, "firing_order": [1, 4, 5, 2, 3, 6], "rotation": "clockwise"},
        "limits": {
            "left_btdc": "22",
            "right_btdc": "22",
            "advanced_most": "1",
            "retarded_most": "1",
            "apart_most": "1",
        },
        "measure": {
            "by": "disc",
            "marking": "full",
            "counts": "up",
            "read_to": "0.5",
            "on": "propeller",
            "zeroed": True,
        },
        "stop": [{"with": "0", "against": "78"}, {"with": "321", "against": "39", "after_zeroing": True}],
        "left": magneto,
        "right": deepcopy(magneto),
    }


def marks_card() -> Card:
    """The engine's own marks, read to a degree; the left magneto only, at 22 exactly; no stop contacts."""
    card = sound_card()
    card["measure"] = {"by": "marks", "read_to": "1"}
    del card["stop"], card["right"], card["limits"]["right_btdc"], card["limits"]["apart_most"]
    row = {"from": "50 before", "light": "22 before", "back": "24 before"}
    card["left"]["approach"] = [dict(row), dict(row)]
    return card


def standing_card() -> Card:
    """The sound card with the disc as it stood: top dead centre reads 39."""
    card = sound_card()
    card["measure"]["zeroed"] = False
    card["stop"] = [{"with": "0", "against": "78"}, {"with": "0", "against": "78"}]
    for side in ("left", "right"):
        card[side]["approach"] = [
            {"from": "349", "light": "17", "back": "15"},
            {"from": "348", "light": "17", "back": "15"},
        ]
    return card


def geared_card() -> Card:
    """A propeller that makes 2 turns for 3 of the crankshaft, the disc as it stood: top dead centre reads 26.

    Half the arc is 39 crankshaft degrees, which the disc shows as 26. Nominal is 22.5, 15 degrees of the disc.
    """
    card = standing_card()
    card["engine"]["propeller_turns_per_crank_turn"] = "2/3"
    card["measure"]["centre_by_feel"] = "30"
    card["stop"] = [{"with": "0", "against": "172"}, {"with": "0", "against": "172"}]
    card["limits"] |= {"left_btdc": "22.5", "right_btdc": "22.5"}
    for side in ("left", "right"):
        card[side]["approach"] = [
            {"from": "351", "light": "11", "back": "9.5"},
            {"from": "350", "light": "11", "back": "9.5"},
        ]
    return card


def changed(base: Card, changes: Changes) -> Card:
    """Return a copy of a card with the values at some paths replaced, added or, with GONE, taken away."""
    card = deepcopy(base)
    for path, value in changes.items():
        steps: list[str | int] = [name or int(place) - 1 for name, place in _STEP.findall(path)]
        table: Any = card
        for step in steps[:-1]:
            table = table.setdefault(step, {}) if isinstance(table, dict) else table[step]
        last = steps[-1]
        if value is GONE:
            del table[last]
        elif isinstance(table, list) and last == len(table):
            table.append(deepcopy(value))
        else:
            table[last] = deepcopy(value)
    return card


def text_of(card: Card) -> str:
    """Write a card as a readings file."""
    return tomli_w.dumps(card)


def result_of(base: Card, changes: Changes | None = None) -> dict[str, Any]:
    """Return what the program says of a changed card."""
    return check(text_of(changed(base, changes or {})))


def fault_of(base: Card, changes: Changes | None = None) -> str | None:
    """Return the one line of a changed card's first structure fault, or None when it can be read."""
    return faults(text_of(changed(base, changes or {})))


def rules_in(result: Mapping[str, Any], *, severity: str | None = None, side: str = "") -> list[str]:
    """Return the rules that found something, sorted; of one severity and one side where these are given."""
    return sorted(
        finding["rule"]
        for finding in result["findings"]
        if severity in (None, finding["severity"]) and finding["where"].startswith(side)
    )
