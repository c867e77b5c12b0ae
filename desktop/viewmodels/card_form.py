"""The form of a card: its places in the order of the work, and the fields of each. Pure; no widget, no Qt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from desktop.core.timing.readings import (
    By,
    Counts,
    Decision,
    Hand,
    LagIn,
    Marking,
    On,
    SeenFrom,
    Side,
    Turn,
    Unit,
    When,
)
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedMagneto


class Kind(StrEnum):
    """How a field is filled in."""

    TEXT = "text"
    CHOICE = "choice"
    TICK = "tick"


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
    """One place of the card, in the order of the work. ``side`` says whose dial stands beside it."""

    id: str
    title: str
    task: str
    groups: tuple[Group, ...]
    side: Side | None = None


def places_of(card: TypedCard) -> tuple[Place, ...]:
    """Return the places of a card as it stands: what its way of measuring and its magnetos do not need is not there."""
    marks = _is(card, By.MARKS)
    places = [_engine(), _limits(card), _measure(card), *_magnetos(card)]
    if not marks:
        places.append(_stops(card, closing=False))
    places += [_approaches(card, side, found=True) for side in _sides(card)]
    places += [_approaches(card, side, found=False) for side in _sides(card)]
    if not marks:
        places.append(_stops(card, closing=True))
    places += [_torque(card), _run_up(), Place("check", "Check and print", "Read every finding, then print.", ())]
    return tuple(_named(place) for place in places)


def _named(place: Place) -> Place:
    """Say in each field in which place it stands."""
    groups = tuple(
        replace(group, fields=tuple(replace(field, place=place.id) for field in group.fields)) for group in place.groups
    )
    return replace(place, groups=groups)


def fields_of(place: Place) -> Iterator[Field]:
    """Yield the fields of a place in their order."""
    for group in place.groups:
        yield from group.fields


def _is(card: TypedCard, by: By) -> bool:
    return card.measure is not None and card.measure.by == by.value


def _is_full(card: TypedCard) -> bool:
    return card.measure is not None and card.measure.marking == Marking.FULL.value


def _sides(card: TypedCard) -> tuple[Side, ...]:
    return tuple(side for side in Side if getattr(card, side) is not None)


def _words(kind: type[StrEnum]) -> tuple[tuple[str, str], ...]:
    return tuple((member.value, member.value) for member in kind)


def _choice(
    path: str, label: str, choices: tuple[tuple[str, str], ...], *, optional: bool = False, hint: str = ""
) -> Field:
    return Field(path, label, Kind.CHOICE, choices=choices, optional=optional, hint=hint)


def _engine() -> Place:
    basic = Group(
        "From the engine's data",
        (
            Field("engine.cylinders", "Cylinders"),
            Field("engine.firing_order", "Firing order", hint="such as 1-4-5-2-3-6"),
            _choice("engine.rotation", "Turns, seen from the rear", _words(Turn)),
            Field("engine.reference", "Timed on cylinder", optional=True, hint="the first of the firing order"),
        ),
    )
    more = Group(
        "Where it applies",
        (
            Field(
                "engine.propeller_turns_per_crank_turn",
                "Propeller turns a crank turn",
                optional=True,
                hint="1 when direct, or such as 77/120",
            ),
            _choice("engine.propeller_rotation", "Propeller turns, from the rear", _words(Turn), optional=True),
            Field("engine.stroke_mm", "Stroke", unit="mm", optional=True),
            Field("engine.rod_mm", "Rod length", unit="mm", optional=True),
        ),
    )
    return Place("engine", "Engine", "Copy the engine's data.", (basic, more))


def _limits(card: TypedCard) -> Place:
    nominal = tuple(
        Field(f"limits.{side}_btdc", f"{side.capitalize()} magneto fires at", unit="° BTDC") for side in _sides(card)
    )
    return Place(
        "limits",
        "Limits",
        "Copy the limits from the approved data.",
        (
            Group(
                "From the approved data",
                (
                    *nominal,
                    Field("limits.advanced_most", "Advanced at most", unit="°"),
                    Field("limits.retarded_most", "Retarded at most", unit="°"),
                    Field("limits.apart_most", "Magnetos apart at most", unit="°", optional=True),
                    _choice(
                        "limits.decision",
                        "Near a limit",
                        (
                            (Decision.SIMPLE.value, "as read"),
                            (Decision.GUARDED.value, "guarded: inside by the uncertainty"),
                        ),
                        optional=True,
                        hint="as read",
                    ),
                ),
            ),
        ),
    )


def _measure(card: TypedCard) -> Place:
    fields = [
        _choice(
            "measure.by",
            "Measured with",
            (
                (By.DISC.value, "timing disc"),
                (By.GAUGE.value, "angle gauge"),
                (By.MARKS.value, "the engine's own marks"),
            ),
        )
    ]
    if not _is(card, By.MARKS):
        fields.append(
            _choice(
                "measure.marking",
                "Marked",
                ((Marking.FULL.value, "0 to 360"), (Marking.SPLIT.value, "0 to 180 each way")),
            )
        )
        if _is_full(card):
            fields.append(
                _choice(
                    "measure.counts",
                    "With rotation the reading",
                    ((Counts.UP.value, "rises"), (Counts.DOWN.value, "falls")),
                )
            )
        fields.append(_choice("measure.on", "Fixed to the", _words(On)))
        fields.append(
            _choice("measure.zeroed", "Set to 0 at TDC", (("true", "yes"), ("false", "no, read as it stands")))
        )
    fields.append(Field("measure.read_to", "Read to", unit="°"))
    groups = [Group("Way of measuring", tuple(fields))]
    if not _is(card, By.MARKS):
        more = [
            Field(
                "measure.centre_by_feel", "Top by feel, disc reads", optional=True, hint="needed on a geared propeller"
            )
        ]
        if _is(card, By.DISC):
            more.append(Field("measure.radius_mm", "Disc radius", unit="mm", optional=True))
            more.append(Field("measure.centring_mm", "Centred within", unit="mm", optional=True))
        groups.append(Group("Where it applies", tuple(more)))
    return Place("measure", "Way of measuring", "Say how the crankshaft is measured.", tuple(groups))


def _magnetos(card: TypedCard) -> Iterator[Place]:
    for side in _sides(card):
        magneto: TypedMagneto = getattr(card, side)
        more = [
            Field(
                f"{side}.impulse_lag",
                "Impulse coupling, lag",
                unit="°",
                optional=True,
                hint="empty when none is fitted",
            ),
        ]
        if magneto.impulse_lag:
            more.append(
                _choice(
                    f"{side}.impulse_lag_in", "Lag is in degrees of the", _words(LagIn), optional=True, hint="magneto"
                )
            )
        more += [
            Field(f"{side}.back_off_least", "Back off at least", unit="°", optional=True),
            Field(f"{side}.back_off_most", "Back off at most", unit="°", optional=True),
            Field(f"{side}.drive_gear_teeth", "Teeth of the drive gear", optional=True),
            Field(f"{side}.slot_degrees", "Swing of the slots", unit="° of the magneto", optional=True),
            Field(f"{side}.slot_radius_mm", "Radius of the slots", unit="mm", optional=True),
            Field(f"{side}.e_gap", "E-gap", unit="° of the magneto", optional=True),
        ]
        yield Place(
            f"{side}-magneto",
            f"{side.capitalize()} magneto",
            f"Copy the {side} magneto's data plate and data.",
            (
                Group(
                    "From the data plate",
                    (
                        _choice(f"{side}.rotation", "Hand, seen from the drive end", _words(Hand)),
                        Field(f"{side}.poles", "Poles", hint="2, 4, 6 or 8"),
                        _choice(
                            f"{side}.seen_from",
                            "You face its",
                            ((SeenFrom.BACK, "back"), (SeenFrom.DRIVE, "drive end")),
                        ),
                    ),
                ),
                Group("Where it applies", tuple(more)),
            ),
            side,
        )


def _stops(card: TypedCard, *, closing: bool) -> Place:
    pairs = card.stop or ()
    zeroed = card.measure is not None and bool(card.measure.zeroed)
    mine = [
        place
        for place, pair in enumerate(pairs, 1)
        if _is_closing(pair.after_zeroing, place, len(pairs), zeroed) is closing
    ]
    groups = [_stop_group(place, number, closing=closing) for number, place in enumerate(mine, 1)]
    first = not mine and (bool(pairs) or not closing)
    another = closing is not zeroed and bool(mine)
    if first or another:
        new = _stop_group(len(pairs) + 1, len(mine) + 1, closing=closing)
        groups.append(replace(new, is_new=True))
    if closing:
        return Place("closing", "Closing pair", "Before the disc comes off: prove that it stood still.", tuple(groups))
    return Place("tdc", "TDC with the piston stop", "Turn gently to the stop, one way and the other.", tuple(groups))


def _is_closing(after_zeroing: bool | None, place: int, count: int, zeroed: bool) -> bool:  # noqa: FBT001 - typed values
    if zeroed:
        return bool(after_zeroing)
    return count > 1 and place == count


def _stop_group(place: int, number: int, *, closing: bool) -> Group:
    path = f"stop[{place}]"
    title = "Closing pair" if closing else f"Pair {number}"
    fields = [Field(f"{path}.with", "Touched with rotation"), Field(f"{path}.against", "Touched against rotation")]
    return Group(title, tuple(fields))


def _approaches(card: TypedCard, side: Side, *, found: bool) -> Place:
    magneto: TypedMagneto = getattr(card, side)
    taken = magneto.approach or ()
    mine = [place for place, one in enumerate(taken, 1) if (one.when == When.AS_FOUND.value) is found]
    groups = [_approach_group(magneto, side, place, taken[place - 1], found=found) for place in mine]
    new = _approach_group(magneto, side, len(taken) + 1, TypedApproach(), found=found)
    groups.append(replace(new, is_new=True))
    if found:
        return Place(
            f"{side}-found",
            f"{side.capitalize()}, as found",
            "Read the timing before anything is loosened.",
            tuple(groups),
            side,
        )
    return Place(
        f"{side}-left",
        f"{side.capitalize()}, set and as left",
        "Turn with rotation until the light shows the points opening.",
        tuple(groups),
        side,
    )


def _approach_group(magneto: TypedMagneto, side: Side, place: int, one: TypedApproach, *, found: bool) -> Group:
    path = f"{side}.approach[{place}]"
    choices = ((When.AS_LEFT.value, "as left"), (When.SETTING.value, "setting"))
    taken = _choice(f"{path}.when", "Taken", choices, optional=True, hint="as left")
    when = () if found else (taken,)
    coupling: tuple[Field, ...] = ()
    if magneto.impulse_lag:
        coupling = (
            Field(f"{path}.click_passed", "Snap passed first", Kind.TICK),
            Field(f"{path}.snapped", "Snap came with the light", Kind.TICK, optional=True),
        )
    word = one.when or (When.AS_FOUND if found else When.AS_LEFT)
    return Group(
        f"Approach {place}, {word}",
        (
            Field(f"{path}.from", "Began at", hint="a reading, or: compression"),
            Field(f"{path}.light", "Light came at"),
            Field(f"{path}.back", "Light went at, turned back", optional=one.when == When.SETTING.value),
            *coupling,
            *when,
        ),
    )


def _torque(card: TypedCard) -> Place:
    count = len(card.torque or ())
    groups = []
    for place in range(1, count + 2):
        path = f"torque[{place}]"
        groups.append(
            Group(
                f"Fastener {place}",
                (
                    Field(f"{path}.what", "What is tightened", optional=True),
                    Field(f"{path}.required", "Required torque", optional=True),
                    _choice(f"{path}.unit", "Unit", _words(Unit), optional=True),
                    Field(f"{path}.wrench", "Length of the wrench", optional=True),
                    Field(f"{path}.extension", "Length of the extension", optional=True),
                    Field(f"{path}.angle", "Extension bent by", unit="°", optional=True, hint="0 when straight"),
                ),
                is_new=place > count,
            )
        )
    return Place("torque", "Torque", "With an extension the wrench is set to another number.", tuple(groups))


def _run_up() -> Place:
    return Place(
        "run-up",
        "Run-up as left",
        "Read the tachometer with the switch at BOTH, L and R.",
        (
            Group(
                "Run-up",
                (
                    Field("run_up.both_rpm", "Switch at BOTH", unit="rpm", optional=True),
                    Field("run_up.left_rpm", "Switch at L", unit="rpm", optional=True),
                    Field("run_up.right_rpm", "Switch at R", unit="rpm", optional=True),
                    Field("run_up.drop_most", "Drop at most", unit="rpm", optional=True),
                    Field("run_up.apart_most", "Drops apart at most", unit="rpm", optional=True),
                ),
            ),
        ),
    )
