"""A card while it is being filled: what can be read already, and what keeps the rest from being read."""

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from desktop.core import typed_text
from desktop.core.timing.read_card import ReadCard, read_card
from desktop.core.timing.readings import Side
from desktop.core.timing.typed_card import (
    TypedCard,
    TypedEngine,
    TypedLimits,
    TypedMagneto,
    TypedMeasure,
    TypedRunUp,
)

Table = TypeVar("Table")
_FREE_TEXT = "what"


def tidied_card(card: TypedCard) -> TypedCard:
    """Return the card with each number brought into its written form; free text and what cannot be read stay."""
    return _tidied(card)


def read_what_can_be(card: TypedCard) -> ReadCard:
    """Read a card that is still being filled; the faults are all there, the card is what stands without them.

    A last stop pair or approach with a fault is being typed and is left out. A magneto, a run-up or a torque list with
    any other fault is left out whole: what stood before the fault must not be taken for the last reading. Faults in
    engine, limits, way of measuring or earlier stop pairs leave nothing to work out.
    """
    card = tidied_card(card)
    whole = read_card(card)
    if whole.card is not None:
        return whole
    places = [fault.where for fault in whole.faults]
    part = replace(
        card,
        stop=_without_last(card.stop, "stop", places),
        run_up=None if _any_within("run_up", places) else card.run_up,
        torque=None if _any_within("torque", places) else card.torque,
    )
    for side in Side:
        magneto = getattr(card, side)
        if magneto is not None:
            magneto = replace(magneto, approach=_without_last(magneto.approach, f"{side}.approach", places))
        part = replace(part, **{side.value: magneto})
    for side in Side:
        if _any_within(side.value, [fault.where for fault in read_card(part).faults]):
            part = replace(part, **{side.value: None})
    return ReadCard(read_card(part).card, whole.faults)


def read_beside_timing(card: TypedCard, *, run_up: bool, torque: bool) -> ReadCard:
    """Read what a card without timing takes: the run-up, the torques, or both; the card that comes back has no magneto.

    How the crankshaft is measured is not asked for there, and neither are engine and limits: nothing is said of them.
    """
    read = read_card(
        tidied_card(
            TypedCard(
                format=1,
                engine=TypedEngine(1, (1,), rotation="clockwise"),
                limits=TypedLimits("0", "0", "0", "0"),
                measure=TypedMeasure("marks", read_to="1"),
                left=TypedMagneto("right", 2, "back"),
                run_up=(card.run_up or TypedRunUp()) if run_up else None,
                torque=card.torque if torque else None,
            )
        )
    )
    return replace(read, card=replace(read.card, left=None)) if read.card else read


def _any_within(path: str, places: list[str]) -> bool:
    return any(place == path or place.startswith((f"{path}.", f"{path}[")) for place in places)


def _without_last(entries: tuple[Table, ...] | None, path: str, places: list[str]) -> tuple[Table, ...] | None:
    if not entries or not _any_within(f"{path}[{len(entries)}]", places):
        return entries
    return entries[:-1] or None


def _tidied(table: Table) -> Table:
    changes: dict[str, Any] = {}
    for one in fields(table):  # type: ignore[arg-type]  # every table of a typed card is a dataclass
        value = getattr(table, one.name)
        if isinstance(value, str) and one.name != _FREE_TEXT:
            changes[one.name] = typed_text.tidied(value)
        elif is_dataclass(value):
            changes[one.name] = _tidied(value)
        elif isinstance(value, tuple):
            changes[one.name] = tuple(_tidied(entry) if is_dataclass(entry) else entry for entry in value)
    return replace(table, **changes)  # type: ignore[type-var]  # the same
