"""The places of a card that are copied from data: engine, limits, way of measuring, magnetos."""

from collections.abc import Iterator
from enum import StrEnum

from desktop.core.timing.readings import By, Counts, Decision, Hand, LagIn, Marking, On, SeenFrom, Turn
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, TypedMeasure
from desktop.viewmodels.pieces.fields import Field, Group, Place, choice, is_full, is_measured_by, sides_of, words_of


def engine_place() -> Place:
    """Return the place for the engine's data."""
    basic = Group(
        "From the engine's data",
        (
            Field("engine.cylinders", "Cylinders"),
            Field("engine.firing_order", "Firing order", hint="such as 1-4-5-2-3-6"),
            choice("engine.rotation", "Turns, seen from the rear", words_of(Turn)),
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
            choice("engine.propeller_rotation", "Propeller turns, from the rear", words_of(Turn), optional=True),
            Field("engine.stroke_mm", "Stroke", unit="mm", optional=True),
            Field("engine.rod_mm", "Rod length", unit="mm", optional=True),
        ),
    )
    return Place("engine", "Engine", "Copy the engine's data.", (basic, more))


def limits_place(card: TypedCard) -> Place:
    """Return the place for the limits."""
    nominal = tuple(
        Field(f"limits.{side}_btdc", f"{side.capitalize()} magneto fires at", unit="° BTDC") for side in sides_of(card)
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
                    choice(
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


def measure_place(card: TypedCard) -> Place:
    """Return the place for the way of measuring. A field that does not belong stays while something stands in it."""
    standing = card.measure or TypedMeasure()
    marks, full, disc = is_measured_by(card, By.MARKS), is_full(card), is_measured_by(card, By.DISC)
    basic = (
        (
            True,
            _choice_of(
                "by",
                "Measured with",
                ((By.DISC, "timing disc"), (By.GAUGE, "angle gauge"), (By.MARKS, "own marks of the engine")),
            ),
        ),
        (
            not marks or standing.marking,
            _choice_of("marking", "Marked", ((Marking.FULL, "0 to 360"), (Marking.SPLIT, "180 each way"))),
        ),
        (
            (full and not marks) or standing.counts,
            _choice_of("counts", "With rotation the reading", ((Counts.UP, "rises"), (Counts.DOWN, "falls"))),
        ),
        (not marks or standing.on, choice("measure.on", "Fixed to the", words_of(On))),
        (
            not marks or standing.zeroed is not None,
            choice("measure.zeroed", "Set to 0 at TDC", (("true", "yes"), ("false", "no, read as it stands"))),
        ),
        (True, Field("measure.read_to", "Read to", unit="°")),
    )
    hint = "needed on a geared propeller"
    more = (
        (
            not marks or standing.centre_by_feel,
            Field("measure.centre_by_feel", "Top by feel, disc reads", optional=True, hint=hint),
        ),
        (disc or standing.radius_mm, Field("measure.radius_mm", "Disc radius", unit="mm", optional=True)),
        (disc or standing.centring_mm, Field("measure.centring_mm", "Centred within", unit="mm", optional=True)),
    )
    groups = [Group("Way of measuring", tuple(field for shown, field in basic if shown))]
    applies = tuple(field for shown, field in more if shown)
    if applies:
        groups.append(Group("Where it applies", applies))
    return Place("measure", "Way of measuring", "Say how the crankshaft is measured.", tuple(groups))


def _choice_of(key: str, label: str, words: tuple[tuple[StrEnum, str], ...]) -> Field:
    return choice(f"measure.{key}", label, tuple((member.value, said) for member, said in words))


def magneto_places(card: TypedCard) -> Iterator[Place]:
    """Yield the places for the magnetos' data."""
    for side in sides_of(card):
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
                choice(
                    f"{side}.impulse_lag_in", "Lag is in degrees of the", words_of(LagIn), optional=True, hint="magneto"
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
                        choice(f"{side}.rotation", "Hand, seen from the drive end", words_of(Hand)),
                        Field(f"{side}.poles", "Poles", hint="2, 4, 6 or 8"),
                        choice(
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
