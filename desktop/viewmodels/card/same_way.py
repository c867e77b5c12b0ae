"""The way of measuring as it stands on the newest card of the same engine: shown, and taken over by one tick."""

from dataclasses import dataclass, fields, replace

from desktop.core.shop.cards.card_scope import takes_timing
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_line import order_name, words_of
from desktop.core.shop.orders.visits import serial_key
from desktop.core.timing.readings import By, Counts, Marking
from desktop.core.timing.typed_card import TypedMeasure
from desktop.core.timing.typed_paths import Value
from desktop.usecases.shop.lists.look_up import MOST_WORDS, PAGE
from desktop.usecases.shop.ports import ShopStore
from desktop.viewmodels.pieces.fields import Field, Group, Kind, Place

SAME = "@same."
"""How the path of the field begins that takes the way of measuring from another card."""

TAKEN = ("by", "marking", "counts", "on", "zeroed", "read_to")
"""What is taken: how it is measured. What was read or set up on that day is not."""

_BY = {By.DISC.value: "timing disc", By.GAUGE.value: "angle gauge", By.MARKS.value: "own marks of the engine"}
_MARKING = {Marking.FULL.value: "0 to 360", Marking.SPLIT.value: "180 each way"}
_COUNTS = {Counts.UP.value: "rises with rotation", Counts.DOWN.value: "falls with rotation"}


@dataclass(frozen=True, slots=True)
class SameWay:
    """A way of measuring, and the card on which it stands."""

    measure: TypedMeasure
    order: int
    card: str

    @property
    def source(self) -> str:
        """The card on which it stands, in words."""
        return f"card {self.card} of {order_name(self.order)}"

    @property
    def words(self) -> str:
        """The way of measuring in a line."""
        one = self.measure
        parts = [
            _BY.get(one.by or "", one.by or ""),
            _MARKING.get(one.marking or "", ""),
            _COUNTS.get(one.counts or "", ""),
            f"on the {one.on}" if one.on else "",
            "" if one.zeroed is None else ("set to 0 at TDC" if one.zeroed else "read as it stands"),
            f"read to {one.read_to}°" if one.read_to else "",
        ]
        return ", ".join(part for part in parts if part)

    def values(self, *, taken: bool) -> tuple[tuple[str, Value], ...]:
        """Return what goes into the card's fields when it is taken, or taken back."""
        return tuple((f"measure.{key}", getattr(self.measure, key) if taken else None) for key in TAKEN)

    def stands_on(self, measure: TypedMeasure | None) -> bool:
        """Tell whether a card measures the same way."""
        return measure is not None and _way(measure) == _way(self.measure)


def newest_way(store: ShopStore, order: WorkOrder, card: OrderCard) -> SameWay | None:
    """Return the way of measuring of the newest other card of the same engine; None where no card has one."""
    serial = serial_key(order.engine.serial)
    if not serial or not takes_timing(card.task):
        return None
    for line in store.orders(words_of(order.engine.serial)[:MOST_WORDS], None, PAGE, None):
        one = order if line.number == order.number else store.order(line.number)
        if one is None or serial_key(one.engine.serial) != serial:
            continue
        for other in reversed(one.cards):
            is_this = (line.number, other.number) == (order.number, card.number)
            measure = other.readings.measure
            if not is_this and measure is not None and measure.by and measure.read_to:
                return SameWay(measure, line.number, other.task.id)
    return None


def with_same_way(place: Place, same: SameWay | None, measure: TypedMeasure | None) -> Place:
    """Return the place for the way of measuring with the tick that takes it over.

    The tick is there while nothing was typed, and stays as the mark of where it was taken from.
    """
    if same is None:
        return place
    is_taken = same.stands_on(measure)
    if not is_taken and not is_empty(measure):
        return place
    tick = Field(f"{SAME}measure", f"As on {same.source}", Kind.TICK)
    more = f"Taken from {same.source}. See that it is so." if is_taken else f"C{same.source[1:]}: {same.words}."
    return replace(place, groups=(Group("The same engine before", (tick,)), *place.groups), more=more)


def is_empty(measure: TypedMeasure | None) -> bool:
    """Tell whether nothing was typed of the way of measuring."""
    return measure is None or all(getattr(measure, one.name) is None for one in fields(measure))


def _way(measure: TypedMeasure) -> tuple[object, ...]:
    return tuple(getattr(measure, key) for key in TAKEN)
