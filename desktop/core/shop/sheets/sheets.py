"""Limits sheets: what a shop transcribed from a document about an engine or a magneto, as it was typed.

A sheet is never approved data: its document is. The keys are those of the readings file wherever it has them; text
stays as typed, and ``sheet_faults`` says what cannot be read. A sheet in these forms may hold faults while it is typed.
"""

from dataclasses import dataclass
from typing import TypeAlias

from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.typed_card import TypedEngine, TypedMagnetos, Whole


@dataclass(frozen=True, slots=True)
class SheetDocument:
    """The document that a sheet was transcribed from; the date as year-month-day."""

    title: str | None = None
    number: str | None = None
    revision: str | None = None
    date: str | None = None


@dataclass(frozen=True, slots=True)
class SheetLimits:
    """Nominal firing positions and how far from them a timing may lie, in crankshaft degrees."""

    left_btdc: str | None = None
    right_btdc: str | None = None
    advanced_most: str | None = None
    retarded_most: str | None = None
    apart_most: str | None = None


@dataclass(frozen=True, slots=True)
class SheetRunUp:
    """The engine speed at which the drops are taken, and their limits; rpm."""

    rpm: str | None = None
    drop_most: str | None = None
    apart_most: str | None = None


@dataclass(frozen=True, slots=True)
class SheetTurning:
    """Whether the engine may be turned against rotation; ``reason`` names what would suffer, such as pump vanes."""

    against: str | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Eligible:
    """A magneto that the data allow on the engine: its part number, and the side."""

    part_number: str | None = None
    side: str | None = None


@dataclass(frozen=True, slots=True)
class PlugRow:
    """Which plug of a cylinder each magneto fires."""

    cylinder: Whole | None = None
    left: str | None = None
    right: str | None = None


@dataclass(frozen=True, slots=True)
class SheetGap:
    """A gap with its limits and their unit."""

    least: str | None = None
    most: str | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class SheetTorque:
    """A fastener and its required torque; ``least`` and ``most`` where the document gives a window.

    ``what`` is "plug", "clamp" or "nut" for those that the task cards ask for, else the document's own word.
    """

    what: str | None = None
    required: str | None = None
    least: str | None = None
    most: str | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class SheetInterval:
    """Something done every so many hours, months, or both, whichever comes first."""

    what: str | None = None
    hours: str | None = None
    months: Whole | None = None


@dataclass(frozen=True, slots=True)
class SheetMagneto:
    """What a magneto's data say: back-off in crankshaft degrees, slot and E-gap in magneto degrees, radius in mm.

    The impulse coupling's lag is in the degrees that ``impulse_lag_in`` names; none is fitted where it is left out.
    """

    rotation: str | None = None
    poles: Whole | None = None
    back_off_least: str | None = None
    back_off_most: str | None = None
    drive_gear_teeth: Whole | None = None
    slot_degrees: str | None = None
    slot_radius_mm: str | None = None
    impulse_lag: str | None = None
    impulse_lag_least: str | None = None
    impulse_lag_most: str | None = None
    impulse_lag_in: str | None = None
    e_gap: str | None = None
    e_gap_least: str | None = None
    e_gap_most: str | None = None


@dataclass(frozen=True, slots=True)
class SheetRetard:
    """The retard breaker's own nominal and window, in crankshaft degrees before TDC; after TDC is negative."""

    btdc: str | None = None
    least: str | None = None
    most: str | None = None


@dataclass(frozen=True, slots=True)
class SheetLeads:
    """The most that an ignition lead's resistance may be."""

    resistance_most: str | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class EngineSheet:
    """A limits sheet of an engine. ``revision`` is the shop's own, from 1. ValueError when its stamps contradict.

    ``tdc_accessory`` says where the data show TDC and the timing marks. ``recheck_reason`` stands where the same
    person transcribed and compared, in a shop that has nobody else.
    """

    id: str
    revision: int = 1
    types: tuple[str, ...] | None = None
    configuration: str | None = None
    ignition: str | None = None
    invented: bool = False
    document: SheetDocument | None = None
    engine: TypedEngine | None = None
    limits: SheetLimits | None = None
    magnetos: TypedMagnetos | None = None
    turning: SheetTurning | None = None
    eligible: tuple[Eligible, ...] | None = None
    plug: tuple[PlugRow, ...] | None = None
    plug_gap: SheetGap | None = None
    run_up: SheetRunUp | None = None
    torque: tuple[SheetTorque, ...] | None = None
    interval: tuple[SheetInterval, ...] | None = None
    tdc_accessory: tuple[str, ...] | None = None
    transcribed_by: Stamp | None = None
    compared_by: Stamp | None = None
    recheck_reason: str = ""

    def __post_init__(self) -> None:
        _refuse_contradiction(self)

    @property
    def kind(self) -> SheetKind:
        """What the sheet is about."""
        return SheetKind.ENGINE


@dataclass(frozen=True, slots=True)
class MagnetoSheet:
    """A limits sheet of a magneto. ``revision`` is the shop's own, from 1. ValueError when its stamps contradict."""

    id: str
    revision: int = 1
    part_numbers: tuple[str, ...] | None = None
    maker: str | None = None
    ignition: str | None = None
    invented: bool = False
    document: SheetDocument | None = None
    magneto: SheetMagneto | None = None
    contact_gap: SheetGap | None = None
    retard: SheetRetard | None = None
    leads: SheetLeads | None = None
    torque: tuple[SheetTorque, ...] | None = None
    interval: tuple[SheetInterval, ...] | None = None
    transcribed_by: Stamp | None = None
    compared_by: Stamp | None = None
    recheck_reason: str = ""

    def __post_init__(self) -> None:
        _refuse_contradiction(self)

    @property
    def kind(self) -> SheetKind:
        """What the sheet is about."""
        return SheetKind.MAGNETO


Sheet: TypeAlias = EngineSheet | MagnetoSheet
SIGNED_FIELDS = ("transcribed_by", "compared_by", "recheck_reason")
"""What people put their names to; the rest of a sheet is transcribed."""


def document_words(sheet: Sheet) -> str:
    """Name a sheet's document in a line: title, number, revision and date as typed."""
    document = sheet.document or SheetDocument()
    name = " ".join(part for part in (document.title, document.number) if part)
    revision = f"revision {document.revision}" if document.revision else ""
    return ", ".join(part for part in (name, revision, document.date) if part)


def sheet_words(sheet: Sheet) -> str:
    """Say in a line what a sheet is and where it came from; never that it is approved data."""
    names = sheet.types if isinstance(sheet, EngineSheet) else sheet.part_numbers
    about = ", ".join(names or ()) or sheet.id
    source = document_words(sheet) or "no document named yet"
    invented = ". Invented data" if sheet.invented else ""
    return f"{about}: sheet {sheet.id}, revision {sheet.revision}, transcribed from {source}{invented}"


def _refuse_contradiction(sheet: Sheet) -> None:
    first, second = sheet.transcribed_by, sheet.compared_by
    wrong = (
        (sheet.revision < 1, "a sheet's revisions count from 1"),
        (first is None and second is not None, "a sheet is transcribed before it is compared"),
        (second is None and bool(sheet.recheck_reason), "a reason without a recheck"),
        (
            first is not None and second is not None and first.person == second.person and not sheet.recheck_reason,
            "whoever did both gives a reason",
        ),
    )
    for is_so, words in wrong:
        if is_so:
            raise ValueError(words)
