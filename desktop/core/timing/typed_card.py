"""The readings of one card exactly as they were typed: text, nothing judged, nothing lost.

The field names are the keys of the readings file; where a key is a Python word, the metadata give it.
``None`` means that nothing stands there. A whole number that was typed as text stays text until it is read.
"""

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

Whole: TypeAlias = int | str


@dataclass(frozen=True, slots=True)
class TypedEngine:
    """What the engine's data say."""

    cylinders: Whole | None = None
    firing_order: tuple[Whole, ...] | None = None
    reference: Whole | None = None
    rotation: str | None = None
    propeller_turns_per_crank_turn: str | None = None
    propeller_rotation: str | None = None
    stroke_mm: str | None = None
    rod_mm: str | None = None


@dataclass(frozen=True, slots=True)
class TypedLimits:
    """The nominal firing positions and how far from them a timing may lie."""

    left_btdc: str | None = None
    right_btdc: str | None = None
    advanced_most: str | None = None
    retarded_most: str | None = None
    apart_most: str | None = None
    decision: str | None = None


@dataclass(frozen=True, slots=True)
class TypedMeasure:
    """How the crankshaft is measured."""

    by: str | None = None
    marking: str | None = None
    counts: str | None = None
    read_to: str | None = None
    on: str | None = None
    zeroed: bool | None = None
    centre_by_feel: str | None = None
    radius_mm: str | None = None
    centring_mm: str | None = None


@dataclass(frozen=True, slots=True)
class TypedStop:
    """One pair of stop contacts."""

    with_rotation: str | None = field(default=None, metadata={"key": "with"})
    against_rotation: str | None = field(default=None, metadata={"key": "against"})
    after_zeroing: bool | None = None


@dataclass(frozen=True, slots=True)
class TypedMagnetos:
    """What both magnetos share."""

    one_housing: bool | None = None


@dataclass(frozen=True, slots=True)
class TypedApproach:
    """One approach of one magneto."""

    when: str | None = None
    began: str | None = field(default=None, metadata={"key": "from"})
    light: str | None = None
    back: str | None = None
    click_passed: bool | None = None
    snapped: bool | None = None


@dataclass(frozen=True, slots=True)
class TypedMagneto:
    """One magneto and its approaches, in the order taken."""

    rotation: str | None = None
    poles: Whole | None = None
    seen_from: str | None = None
    back_off_least: str | None = None
    back_off_most: str | None = None
    drive_gear_teeth: Whole | None = None
    slot_degrees: str | None = None
    slot_radius_mm: str | None = None
    impulse_lag: str | None = None
    impulse_lag_in: str | None = None
    e_gap: str | None = None
    approach: tuple[TypedApproach, ...] | None = None


@dataclass(frozen=True, slots=True)
class TypedRunUp:
    """The run-up's tachometer readings and their limits."""

    both_rpm: str | None = None
    left_rpm: str | None = None
    right_rpm: str | None = None
    drop_most: str | None = None
    apart_most: str | None = None


@dataclass(frozen=True, slots=True)
class TypedTorque:
    """One fastener tightened with an extension on the torque wrench."""

    what: str | None = None
    required: str | None = None
    unit: str | None = None
    wrench: str | None = None
    extension: str | None = None
    angle: str | None = None


@dataclass(frozen=True, slots=True)
class TypedCard:
    """A whole readings file as typed."""

    format: Literal[1] | None = None
    engine: TypedEngine | None = None
    limits: TypedLimits | None = None
    measure: TypedMeasure | None = None
    stop: tuple[TypedStop, ...] | None = None
    magnetos: TypedMagnetos | None = None
    left: TypedMagneto | None = None
    right: TypedMagneto | None = None
    run_up: TypedRunUp | None = None
    torque: tuple[TypedTorque, ...] | None = None
