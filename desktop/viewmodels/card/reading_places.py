"""The places of a card that are filled with readings: stop contacts, approaches, torque, run-up."""

from dataclasses import replace

from desktop.core.timing.readings import Side, Unit, When
from desktop.core.timing.typed_card import TypedApproach, TypedCard, TypedMagneto
from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.fields import Field, Group, Kind, Place, Shows, choice, words_of

FOUND_SAYS: tuple[tuple[str, Value], ...] = (("when", When.AS_FOUND.value),)

BLADE = (
    "warning",
    (
        "BOTH makes the blade live. Clear the arc, call BOTH for the last approach only, and OFF after every reading. "
        "A blade that kicks can kill."
    ),
)
STOP = (
    "caution",
    (
        "A piston pushed hard against the stop cracks. Turn gently by hand, never with the starter. Take the stop out "
        "before compression is proved."
    ),
)
RUN = (
    "warning",
    "A running propeller is hard to see. Start only with the area clear, brakes set, wheels chocked. It can kill.",
)


def stops_place(card: TypedCard, *, closing: bool) -> Place:
    """Return the place for the stop contacts, or for the closing pair."""
    groups = stop_groups(card, closing=closing)
    if closing:
        task = "Before the disc comes off: prove that it stood still."
        return Place("closing", "Closing pair", task, groups, boxes=(STOP,), entry_says=closing_says(card))
    task = "Turn gently to the stop, one way and the other."
    return Place("tdc", "TDC with the piston stop", task, groups, boxes=(STOP,), shows=Shows.TDC)


def stop_groups(card: TypedCard, *, closing: bool) -> tuple[Group, ...]:
    """Return the pairs of a place, and the next one to take there."""
    pairs = card.stop or ()
    zeroed = _is_zeroed(card)
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
    return tuple(groups)


def closing_says(card: TypedCard) -> tuple[tuple[str, Value], ...]:
    """Return what a closing pair is by its place."""
    return (("after_zeroing", True),) if _is_zeroed(card) else ()


def _is_zeroed(card: TypedCard) -> bool:
    return card.measure is not None and bool(card.measure.zeroed)


def _is_closing(after_zeroing: bool | None, place: int, count: int, zeroed: bool) -> bool:  # noqa: FBT001 - typed values
    if zeroed:
        return bool(after_zeroing)
    return count > 1 and place == count


def _stop_group(place: int, number: int, *, closing: bool) -> Group:
    path = f"stop[{place}]"
    title = "Closing pair" if closing else f"Pair {number}"
    fields = [Field(f"{path}.with", "Touched with rotation"), Field(f"{path}.against", "Touched against rotation")]
    return Group(title, tuple(fields))


def approaches_place(card: TypedCard, side: Side, *, found: bool) -> Place:
    """Return the place for a magneto's approaches as found, or set and as left."""
    name = side.capitalize()
    if found:
        groups = approach_groups(card, side, (When.AS_FOUND,))
        task = "Read the timing before anything is loosened."
        return Place(f"{side}-found", f"{name}, as found", task, groups, side, (BLADE,), Shows.FOUND, FOUND_SAYS)
    groups = approach_groups(card, side, (When.SETTING, When.AS_LEFT))
    task = "Turn with rotation until the light shows the points opening."
    return Place(f"{side}-left", f"{name}, set and as left", task, groups, side, (BLADE,), Shows.LEFT)


def approach_groups(card: TypedCard, side: Side, whens: tuple[When, ...]) -> tuple[Group, ...]:
    """Return the approaches that were taken at one of these times, and the next one to take."""
    magneto: TypedMagneto = getattr(card, side)
    taken = magneto.approach or ()
    mine = [place for place, one in enumerate(taken, 1) if (one.when or When.AS_LEFT.value) in whens]
    free = len(whens) > 1
    groups = [_approach_group(magneto, side, place, taken[place - 1], whens[-1], free=free) for place in mine]
    later = whens == (When.AS_FOUND,) and mine and len(mine) < len(taken)
    if not later:
        new = _approach_group(magneto, side, len(taken) + 1, TypedApproach(), whens[-1], free=free)
        groups.append(replace(new, is_new=True))
    return tuple(groups)


def _approach_group(
    magneto: TypedMagneto, side: Side, place: int, one: TypedApproach, usual: When, *, free: bool
) -> Group:
    path = f"{side}.approach[{place}]"
    choices = ((When.AS_LEFT.value, "as left"), (When.SETTING.value, "setting"))
    taken = choice(f"{path}.when", "Taken", choices, optional=True, hint="as left")
    when = (taken,) if free else ()
    coupling: tuple[Field, ...] = ()
    if magneto.impulse_lag or one.click_passed or one.snapped:
        coupling = (
            Field(f"{path}.click_passed", "Snap passed first", Kind.TICK),
            Field(f"{path}.snapped", "Snap came with the light", Kind.TICK, optional=True),
        )
    word = one.when or usual
    setting = word == When.SETTING
    return Group(
        f"Approach {place}, {word}",
        (
            Field(f"{path}.from", "Began at", hint="a reading, or: compression"),
            Field(f"{path}.light", "Light came at"),
            Field(f"{path}.back", "Light went at, turned back", optional=setting),
            *coupling,
            *when,
        ),
    )


def torque_place(card: TypedCard) -> Place:
    """Return the place for fasteners that are tightened with an extension; one that was begun is needed whole."""
    count = len(card.torque or ())
    groups = []
    for place in range(1, count + 2):
        path, is_new = f"torque[{place}]", place > count
        groups.append(
            Group(
                f"Fastener {place}",
                (
                    Field(f"{path}.what", "What is tightened", optional=is_new),
                    Field(f"{path}.required", "Required torque", optional=is_new),
                    choice(f"{path}.unit", "Unit", words_of(Unit), optional=is_new),
                    Field(f"{path}.wrench", "Length of the wrench", optional=is_new),
                    Field(f"{path}.extension", "Length of the extension", optional=is_new),
                    Field(f"{path}.angle", "Extension bent by", unit="°", optional=True, hint="0 when straight"),
                ),
                is_new=is_new,
            )
        )
    return Place("torque", "Torque", "With an extension the wrench is set to another number.", tuple(groups))


def run_up_place(*, is_needed: bool = False) -> Place:
    """Return the place for the run-up; one that was begun, and one that a step asks for, is needed whole."""
    optional = not is_needed
    return Place(
        "run-up",
        "Run-up as left",
        "Read the tachometer with the switch at BOTH, L and R.",
        (
            Group(
                "Run-up",
                (
                    Field("run_up.both_rpm", "Switch at BOTH", unit="rpm", optional=optional),
                    Field("run_up.left_rpm", "Switch at L", unit="rpm", optional=optional),
                    Field("run_up.right_rpm", "Switch at R", unit="rpm", optional=optional),
                    Field("run_up.drop_most", "Drop at most", unit="rpm", optional=optional),
                    Field("run_up.apart_most", "Drops apart at most", unit="rpm", optional=optional),
                ),
            ),
        ),
        boxes=(RUN,),
    )
