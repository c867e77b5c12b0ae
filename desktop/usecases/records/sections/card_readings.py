"""The readings of a card as sections: each value as it was typed, with its unit, who took it, when and with what."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from desktop.core.records.record import Row, Section
from desktop.core.shop.orders.order_card import OrderCard, ReadingTaken
from desktop.core.shop.orders.path_words import path_words
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import value_at
from desktop.usecases.records.sections.names import Names, told, yes_no

MARKED = "degrees as marked"
CRANK = "crankshaft degrees"
MAGNETO = "magneto degrees"
UNITS = {
    "measure.read_to": MARKED,
    "measure.centre_by_feel": MARKED,
    "stop.with": MARKED,
    "stop.against": MARKED,
    "side.approach.from": MARKED,
    "side.approach.light": MARKED,
    "side.approach.back": MARKED,
    "limits.left_btdc": f"{CRANK} BTDC",
    "limits.right_btdc": f"{CRANK} BTDC",
    "limits.advanced_most": CRANK,
    "limits.retarded_most": CRANK,
    "limits.apart_most": CRANK,
    "side.back_off_least": CRANK,
    "side.back_off_most": CRANK,
    "side.slot_degrees": MAGNETO,
    "side.e_gap": MAGNETO,
    "side.impulse_lag": "degrees of the magneto, unless the next row says otherwise",
    "torque.required": "in the unit of this torque",
    "torque.wrench": "length, in one unit with the extension",
    "torque.extension": "length, in one unit with the wrench",
    "torque.angle": "degrees from straight",
    "run_up.both_rpm": "rpm",
    "run_up.left_rpm": "rpm",
    "run_up.right_rpm": "rpm",
    "run_up.drop_most": "rpm",
    "run_up.apart_most": "rpm",
    "engine.stroke_mm": "mm",
    "engine.rod_mm": "mm",
    "measure.radius_mm": "mm",
    "measure.centring_mm": "mm",
    "side.slot_radius_mm": "mm",
}
"""The unit of each typed number by its path without places; left and right are "side". What is no number has none."""
_PLACE = re.compile(r"\[[0-9]+\]")
_SIDE = re.compile(r"^(left|right)\b")


def typed_paths(card: TypedCard) -> tuple[str, ...]:
    """Return the path of each value that stands on a card, in the order of the readings file."""
    return tuple(_paths(card, ""))


def unit_of(path: str) -> str:
    """Return the unit of a typed value; empty for one that has none."""
    return UNITS.get(_SIDE.sub("side", _PLACE.sub("", path)), "")


def readings_section(card: OrderCard, names: Names) -> Section:
    """Return every typed value of a card, the attempts in the order in which they were taken."""
    return Section("Readings as typed", tuple(_rows(card, names)))


def _rows(card: OrderCard, names: Names) -> Iterator[Row]:
    paths = typed_paths(card.readings)
    for path in paths:
        words = path_words(path)
        name = words[:1].upper() + words[1:]
        unit = unit_of(path)
        yield from told(f"{name} ({unit})" if unit else name, _said(card.readings, path))
        for taken in card.taken:
            if taken.path == path:
                yield from _taken(name, taken, names)
    for taken in card.taken:
        if taken.path not in paths:
            yield from told("Taken where no value stands any more", taken.path)
            yield from _taken("That value", taken, names)


def _taken(name: str, taken: ReadingTaken, names: Names) -> Iterator[Row]:
    yield from told(f"{name}, taken by", names.stamp(taken.by))
    yield from told(f"{name}, tool", names.tool(taken.tool))


def _said(card: TypedCard, path: str) -> str:
    value = value_at(card, path)
    return yes_no(value) if isinstance(value, bool) else value or ""


def _paths(table: object, path: str) -> Iterator[str]:
    if is_dataclass(table):
        begin = f"{path}." if path else ""
        for one in fields(table):
            yield from _paths(getattr(table, one.name), f"{begin}{one.metadata.get('key', one.name)}")
    elif isinstance(table, tuple) and any(is_dataclass(entry) for entry in table):
        for place, entry in enumerate(table, 1):
            yield from _paths(entry, f"{path}[{place}]")
    elif table is not None:
        yield path
