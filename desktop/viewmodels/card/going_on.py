"""Where the work on a card goes on: every step in order, nothing that is needed jumped, and no further past a stop."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from desktop.core.rules.rule import Severity
from desktop.core.timing.readings import When
from desktop.usecases.fill_card import CardState
from desktop.viewmodels.pieces.card_words import findings_at
from desktop.viewmodels.pieces.fields import ON_THE_ORDER, Field, Group, Kind, Place, Shows, asked_fields, fields_of

STEP_PLACE = "step-"
"""How the id of a place begins that is a step of the task card."""

BY_HAND = "Ctrl+Enter goes on all the same."


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the cursor goes: a place, and a field of it or None where the place is read only. ``why`` is said there."""

    place: str
    field: Field | None
    why: str = ""


def is_read_only(place: Place) -> bool:
    """Tell whether a step asks for nothing: it is read, with what can hurt, and done."""
    return place.id.startswith(STEP_PLACE) and not any(True for _ in fields_of(place))


def stops_of(places: Sequence[Place]) -> Iterator[Stop]:
    """Yield everything that the key to the next open field may stop at, in the order of the work."""
    for place in places:
        if is_read_only(place):
            yield Stop(place.id, None)
        yield from (Stop(place.id, field) for field in asked_fields(place))


def next_stop(places: Sequence[Place], after: tuple[str, str], is_open: Callable[[Stop], bool]) -> Stop | None:
    """Return the next open stop after a place and a field's key, round to the beginning; None when none is open.

    Without a key it is the first after the place; without a place the first of all.
    """
    place_id, key = after
    order = list(stops_of(places))
    ids = [place.id for place in places]
    start = 0
    if place_id in ids:
        here = ids.index(place_id)
        passed = [n for n, stop in enumerate(order) if _is_passed(stop, ids.index(stop.place), here, key)]
        start = passed[-1] + 1 if passed else 0
    rest = order[start:] + order[:start]
    return next((stop for stop in rest if is_open(stop) and _key(stop) != (place_id, key)), None)


def partner_of(place: Place, field: Field) -> Field | None:
    """Return the reading that follows in the same entry: whoever corrects one looks at the other."""
    for group in place.groups:
        if field in group.fields:
            later = group.fields[group.fields.index(field) + 1 :]
            return next((one for one in later if one.kind is Kind.TEXT and not one.optional), None)
    return None


def held_at(place: Place, places: Sequence[Place], state: CardState) -> Stop | None:
    """Return where a place holds whoever would go on, and why; None where nothing stops.

    Contacts that give no TDC are corrected where they stand; a reading that stops is followed by another approach.
    """
    if state.checked is None or not _gives_result(place, state):
        return None
    stopping = [one for one in findings_at(place, places, state) if one.severity == Severity.STOPS]
    if not stopping:
        return None
    first = stopping[0]
    field = _mended_at(place, first.where)
    return Stop(place.id, field, f"{first.sentence.partition('. ')[0].rstrip('.')}. {BY_HAND}")


def _gives_result(place: Place, state: CardState) -> bool:
    """Tell whether the entries of a place are whole and give a verdict; an open one is gone to as an open field."""
    entries = [group for group in place.groups if not group.is_new and _has_readings(group)]
    if not entries or any(state.fault_at(field.path) for group in entries for field in group.fields):
        return False
    if place.shows is Shows.LEFT:
        return place.side is not None and _is_as_left(place, state)
    return place.shows is Shows.TDC or entries[0].fields[0].path.startswith("stop[")


def _is_as_left(place: Place, state: CardState) -> bool:
    """Tell whether the last approach of the place's magneto was taken as left: while it is set, nothing is held."""
    result = state.checked.worked.of(place.side) if state.checked and place.side else None
    return result is not None and bool(result.judged) and result.judged[-1].approach.when is When.AS_LEFT


def _mended_at(place: Place, where: str) -> Field | None:
    if place.side is not None:
        new = next((group for group in place.groups if group.is_new), None)
        if new is not None:
            return new.fields[0]
    named = (f"{where}.", f"{where}[")
    fields = [field for field in fields_of(place) if not field.path.startswith(ON_THE_ORDER)]
    return next((field for field in fields if field.path == where or field.path.startswith(named)), fields[0])


def _has_readings(group: Group) -> bool:
    return any(not field.path.startswith(ON_THE_ORDER) for field in group.fields)


def _is_passed(stop: Stop, at: int, here: int, key: str) -> bool:
    return at < here or (at == here and (not key or _key(stop)[1] == key))


def _key(stop: Stop) -> tuple[str, str]:
    return stop.place, stop.field.key if stop.field else ""
