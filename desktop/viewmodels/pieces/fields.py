"""What the form of a card is made of: fields in groups in places. Pure; no widget, no Qt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from desktop.core.timing.readings import By, Marking, Side
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import Value

ON_THE_ORDER = "@"
"""How the path of a field begins that stands on the order and not among the readings."""


class Kind(StrEnum):
    """How a field is filled in."""

    TEXT = "text"
    CHOICE = "choice"
    TICK = "tick"


class Shows(StrEnum):
    """Which results stand under the fields of a place."""

    NOTHING = "nothing"
    TDC = "TDC"
    FOUND = "as found"
    LEFT = "as left"
    ALL = "all"


@dataclass(frozen=True, slots=True)
class Field:
    """One field: its path in the card, its label, the unit behind it, the words to choose from.

    Optional fields are passed over by the key that goes to the next open field. The same path can stand in two places
    while nothing is typed there (the next approach, as found or as left), so a field is known by place and path.
    """

    path: str
    label: str
    kind: Kind = Kind.TEXT
    unit: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    optional: bool = False
    hint: str = ""
    place: str = ""

    @property
    def key(self) -> str:
        """The field's own name, which stays when the entry that it begins has begun."""
        return f"{self.place}:{self.path}"


@dataclass(frozen=True, slots=True)
class Group:
    """Fields under one heading; ``is_new`` on the empty group that begins a new entry."""

    title: str
    fields: tuple[Field, ...]
    is_new: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the card, in the order of the work. ``side`` says whose dial stands beside it.

    ``boxes`` stand above the fields: what can hurt somebody or something, each with its kind. ``entry_says`` is what a
    new entry is by the place where it begins; ``more`` stands quietly under the task.
    """

    id: str
    title: str
    task: str
    groups: tuple[Group, ...]
    side: Side | None = None
    boxes: tuple[tuple[str, str], ...] = ()
    shows: Shows = Shows.NOTHING
    entry_says: tuple[tuple[str, Value], ...] = ()
    more: str = ""


def named(place: Place) -> Place:
    """Say in each field in which place it stands."""
    groups = tuple(
        replace(group, fields=tuple(replace(field, place=place.id) for field in group.fields)) for group in place.groups
    )
    return replace(place, groups=groups)


def fields_of(place: Place) -> Iterator[Field]:
    """Yield the fields of a place in their order."""
    for group in place.groups:
        yield from group.fields


def asked_fields(place: Place) -> tuple[Field, ...]:
    """Return the fields that the key to the next open field may stop at.

    A new entry is asked for while its place has none; after that it is there to be used, not asked for.
    """
    begun = any(not group.is_new and not _is_on_the_order(group) for group in place.groups)
    return tuple(field for group in place.groups if not (group.is_new and begun) for field in group.fields)


def _is_on_the_order(group: Group) -> bool:
    return all(field.path.startswith(ON_THE_ORDER) for field in group.fields)


def is_measured_by(card: TypedCard, by: By) -> bool:
    """Tell how the crankshaft is measured."""
    return card.measure is not None and card.measure.by == by.value


def is_full(card: TypedCard) -> bool:
    """Tell whether the disc is marked 0 to 360."""
    return card.measure is not None and card.measure.marking == Marking.FULL.value


def sides_of(card: TypedCard) -> tuple[Side, ...]:
    """Return the sides whose magneto is on the card."""
    return tuple(side for side in Side if getattr(card, side) is not None)


def words_of(kind: type[StrEnum]) -> tuple[tuple[str, str], ...]:
    """Return the words of a choice as they stand in the data."""
    return tuple((member.value, member.value) for member in kind)


def choice(
    path: str, label: str, choices: tuple[tuple[str, str], ...], *, optional: bool = False, hint: str = ""
) -> Field:
    """Return a field with a choice of words."""
    return Field(path, label, Kind.CHOICE, choices=choices, optional=optional, hint=hint)
