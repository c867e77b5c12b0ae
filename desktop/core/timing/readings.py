"""The readings of one card as exact values. A card in a wrong state cannot be built from typed text."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Turn(StrEnum):
    """A way to turn, as seen from the named end."""

    CLOCKWISE = "clockwise"
    COUNTER_CLOCKWISE = "counter-clockwise"

    def reversed(self) -> "Turn":
        """Return the other way."""
        return Turn.COUNTER_CLOCKWISE if self is Turn.CLOCKWISE else Turn.CLOCKWISE


class Hand(StrEnum):
    """A magneto's hand of rotation, seen from its drive end: right is clockwise."""

    RIGHT = "right"
    LEFT = "left"


class Side(StrEnum):
    """Which magneto, left or right as seen from the rear of the engine."""

    LEFT = "left"
    RIGHT = "right"


class SeenFrom(StrEnum):
    """The end of the magneto that the mechanic faces."""

    DRIVE = "drive"
    BACK = "back"


class By(StrEnum):
    """What the crankshaft is measured with."""

    DISC = "disc"
    GAUGE = "gauge"
    MARKS = "marks"


class Marking(StrEnum):
    """How a disc or gauge is marked: 0 to 360, or 0 to 180 each way."""

    FULL = "full"
    SPLIT = "split"


class Counts(StrEnum):
    """Whether a full disc's reading rises or falls as the crankshaft turns with rotation."""

    UP = "up"
    DOWN = "down"


class On(StrEnum):
    """What carries the disc."""

    PROPELLER = "propeller"
    CRANKSHAFT = "crankshaft"


class Decision(StrEnum):
    """How a reading near its limit is judged: as read, or by the margin of its uncertainty."""

    SIMPLE = "simple"
    GUARDED = "guarded"


class When(StrEnum):
    """When an approach was taken; as left is after final tightening."""

    AS_FOUND = "as found"
    SETTING = "setting"
    AS_LEFT = "as left"


class LagIn(StrEnum):
    """In which degrees the data state an impulse coupling's lag."""

    MAGNETO = "magneto"
    CRANKSHAFT = "crankshaft"


class Unit(StrEnum):
    """A unit of torque."""

    INCH_POUND = "in-lb"
    FOOT_POUND = "ft-lb"
    NEWTON_METRE = "N·m"


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading as typed, and its exact value in degrees as marked (split and marks: before is negative)."""

    typed: str
    value: Fraction


@dataclass(frozen=True, slots=True)
class Engine:
    """The engine; rotation is seen from the rear, lengths are in mm."""

    cylinders: int
    firing_order: tuple[int, ...]
    reference: int
    rotation: Turn
    propeller_ratio: Fraction
    propeller_rotation: Turn
    stroke_mm: Fraction | None
    rod_mm: Fraction | None


@dataclass(frozen=True, slots=True)
class Limits:
    """How far a timing may lie from nominal, in crankshaft degrees; each number is 0 or more."""

    advanced_most: Fraction
    retarded_most: Fraction
    apart_most: Fraction | None
    decision: Decision


@dataclass(frozen=True, slots=True)
class Measure:
    """The way of measuring; ``read_to``, its decimals as typed, and readings are in degrees as marked.

    For marks the marking is split and the marks count as zeroed on the crankshaft: they read BTDC themselves.
    """

    by: By
    marking: Marking
    counts: Counts
    read_to: Fraction
    read_to_decimals: int
    on: On
    zeroed: bool
    centre_by_feel: Reading | None
    radius_mm: Fraction | None
    centring_mm: Fraction | None


@dataclass(frozen=True, slots=True)
class StopPair:
    """Two contacts with the piston stop: touched with rotation, and against it."""

    with_rotation: Reading
    against_rotation: Reading
    after_zeroing: bool


@dataclass(frozen=True, slots=True)
class Approach:
    """One movement that ends where the light shows the points opening; ``began`` None: straight from compression."""

    when: When
    began: Reading | None
    light: Reading
    back: Reading | None
    click_passed: bool
    snapped: bool


@dataclass(frozen=True, slots=True)
class Magneto:
    """One magneto. Nominal and back-off in crankshaft degrees; slot and E-gap in magneto degrees; radius in mm."""

    side: Side
    nominal: Fraction
    rotation: Hand
    poles: int
    seen_from: SeenFrom
    back_off_least: Fraction | None
    back_off_most: Fraction | None
    drive_gear_teeth: int | None
    slot_degrees: Fraction | None
    slot_radius_mm: Fraction | None
    impulse_lag: Fraction | None
    impulse_lag_in: LagIn
    e_gap: Fraction | None
    approaches: tuple[Approach, ...]


@dataclass(frozen=True, slots=True)
class RunUp:
    """Engine speed on both magnetos and on each alone, and the limits of the drops; rpm."""

    both_rpm: Fraction
    left_rpm: Fraction
    right_rpm: Fraction
    drop_most: Fraction
    apart_most: Fraction


@dataclass(frozen=True, slots=True)
class Torque:
    """A required torque and the wrench it is set on; lengths in one unit, angle in degrees from straight."""

    what: str
    required: Fraction
    unit: Unit
    wrench: Fraction
    extension: Fraction
    angle: Fraction


@dataclass(frozen=True, slots=True)
class Card:
    """All readings of one card."""

    engine: Engine
    limits: Limits
    measure: Measure
    stops: tuple[StopPair, ...]
    one_housing: bool
    left: Magneto | None
    right: Magneto | None
    run_up: RunUp | None
    torque: tuple[Torque, ...]

    @property
    def magnetos(self) -> tuple[Magneto, ...]:
        """The magnetos that the card speaks of, left first."""
        return tuple(magneto for magneto in (self.left, self.right) if magneto)

    @property
    def carrier_ratio(self) -> Fraction:
        """Turns of whatever carries the disc per crankshaft turn (g)."""
        return self.engine.propeller_ratio if self.measure.on is On.PROPELLER else Fraction(1)
