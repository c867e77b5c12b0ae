"""What limits sheets say about a job: whether a data plate fits, a card's data, limits of its steps, leads, intervals.

Only sheets without faults are asked; a number that cannot be read gives no limit.
"""

from dataclasses import dataclass, fields, replace
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from desktop.core import typed_text
from desktop.core.shop.aircraft.due import Interval
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.sheets.sheet_choices import EligibleSide
from desktop.core.shop.sheets.sheet_faults import typed_limits
from desktop.core.shop.sheets.sheets import EngineSheet, MagnetoSheet, Sheet
from desktop.core.timing.readings import LagIn, Side
from desktop.core.timing.typed_card import TypedCard, TypedMagneto, TypedRunUp, TypedTorque, Whole
from desktop.core.timing.typed_paths import with_magneto

Table = TypeVar("Table")
_PLATE_KEYS = ("rotation", "poles", "impulse_lag", "impulse_lag_in")


class MisfitKind(StrEnum):
    """In what a data plate does not fit."""

    MISSING = "missing"
    NOT_ELIGIBLE = "not eligible"
    OTHER_SHEET = "of another sheet"
    HAND = "hand of rotation"
    LAG = "impulse lag"
    POLES = "poles"


@dataclass(frozen=True, slots=True)
class Misfit:
    """Where a data plate does not fit, what stands on it, and what the sheets ask for."""

    where: str
    kind: MisfitKind
    found: str
    wanted: str

    @property
    def sentence(self) -> str:
        """Say it in a line without the path."""
        if self.kind is MisfitKind.MISSING:
            return f"the plate's value is not written; the sheets say {self.wanted}"
        if self.kind is MisfitKind.NOT_ELIGIBLE:
            return f"part number {self.found} is not eligible here; the engine's sheet lists {self.wanted}"
        if self.kind is MisfitKind.OTHER_SHEET:
            return f"part number {self.found} is not on the magneto's sheet, which is for {self.wanted}"
        return f"{self.kind}: the plate says {self.found}, the magneto's sheet {self.wanted}"


def plate_misfits(
    plate: Plate, engine: EngineSheet | None, magneto: MagnetoSheet | None, poles: Whole | None = None
) -> tuple[Misfit, ...]:
    """Return where a data plate does not fit the sheets; what is not written on it cannot be shown to fit.

    ``magneto`` is the sheet chosen for its side, ``poles`` the number counted on the magneto where somebody did.
    """
    return tuple(one for one in (*_part_number(plate, engine, magneto), *_data(plate, engine, magneto, poles)) if one)


def card_misfits(
    card: TypedCard, engine: EngineSheet | None, left: MagnetoSheet | None, right: MagnetoSheet | None
) -> tuple[Misfit, ...]:
    """Return where the plates as typed on a card (hand, poles, lag) do not fit; a field still empty is left out."""
    misfits: list[Misfit | None] = []
    for side, sheet in ((Side.LEFT, left), (Side.RIGHT, right)):
        typed = getattr(card, side)
        if typed is None or sheet is None or sheet.magneto is None:
            continue
        data = sheet.magneto
        misfits.append(_unlike(f"{side}.rotation", MisfitKind.HAND, typed.rotation, data.rotation))
        misfits.append(_unlike(f"{side}.poles", MisfitKind.POLES, _text(typed.poles), _text(data.poles)))
        if typed.impulse_lag is not None:
            lag = _in_magneto_degrees(typed.impulse_lag, typed.impulse_lag_in, engine, data.poles)
            misfits.append(_lag(f"{side}.impulse_lag", typed.impulse_lag, lag, sheet, engine))
    return tuple(one for one in misfits if one)


def is_eligible(part_number: str, side: Side, engine: EngineSheet) -> bool:
    """Tell whether the engine's data allow a magneto on a side. Part numbers are compared as printed, in any case."""
    return _same(part_number) in {_same(number) for number in eligible_numbers(side, engine)}


def eligible_numbers(side: Side, engine: EngineSheet) -> tuple[str, ...]:
    """Return the part numbers that the engine's data allow on a side, in the order of the sheet."""
    fits = (side.value, EligibleSide.EITHER.value)
    return tuple(one.part_number for one in engine.eligible or () if one.part_number and one.side in fits)


def is_sheet_for(part_number: str, magneto: MagnetoSheet) -> bool:
    """Tell whether a magneto's sheet speaks of a part number."""
    return _same(part_number) in {_same(number) for number in magneto.part_numbers or ()}


def limits_into(
    card: TypedCard,
    engine: EngineSheet | None,
    left: MagnetoSheet | None,
    right: MagnetoSheet | None,
    *,
    with_run_up: bool = False,
) -> TypedCard:
    """Return the card with its data from the sheets; every reading, the way of measuring and the rule stay.

    Engine, limits, back-off, gear, slot and E-gap are the sheets'. Hand, poles and lag stand on the data plate: they
    are filled in only where nothing was typed, so that a plate that differs still shows. A magneto that is not on the
    card stays off it. ``with_run_up`` puts the limits of the drops on a card that has no run-up yet.
    """
    if engine is not None:
        card = _engine_into(card, engine, with_run_up=with_run_up)
    for side, sheet in ((Side.LEFT, left), (Side.RIGHT, right)):
        typed = getattr(card, side)
        if typed is not None and sheet is not None and sheet.magneto is not None:
            card = with_magneto(card, side, _magneto_into(typed, sheet))
    return card


@dataclass(frozen=True, slots=True)
class Lead:
    """One ignition lead: its magneto, its electrode counted from 1, its cylinder, and which plug; "" where not said."""

    side: Side
    electrode: int
    cylinder: int
    plug: str


def leads_by_firing_order(engine: EngineSheet) -> tuple[Lead, ...]:
    """Return the leads of both magnetos, left first, in the order of the electrodes, which is the firing order.

    Source: electrode numbers are the sparking order, FAA-H-8083-32B p. 4-6.
    """
    order = [one for one in (engine.engine and engine.engine.firing_order) or () if isinstance(one, int)]
    rows = {row.cylinder: row for row in engine.plug or ()}
    return tuple(
        Lead(side, place, cylinder, (getattr(rows[cylinder], side) if cylinder in rows else None) or "")
        for side in Side
        for place, cylinder in enumerate(order, 1)
    )


def intervals_of(sheet: Sheet) -> tuple[tuple[str, Interval], ...]:
    """Return what the sheet asks for again and again, with how often."""
    found = []
    for one in sheet.interval or ():
        hours, months = _number(one.hours), one.months
        every = hours if hours is not None and hours > 0 else None
        count = months if isinstance(months, int) and months > 0 else None
        if one.what and (every or count):
            found.append((one.what, Interval(every, count)))
    return tuple(found)


def _part_number(
    plate: Plate, engine: EngineSheet | None, magneto: MagnetoSheet | None
) -> tuple[Misfit | None, Misfit | None]:
    where, number = f"{plate.side}.part_number", plate.part_number.strip()
    allowed = ", ".join(eligible_numbers(plate.side, engine)) or "none" if engine else ""
    named = ", ".join((magneto.part_numbers or ()) if magneto else ())
    if not number:
        return (Misfit(where, MisfitKind.MISSING, "", allowed or named) if allowed or named else None), None
    is_wrong = engine is not None and not is_eligible(number, plate.side, engine)
    is_other = magneto is not None and not is_sheet_for(number, magneto)
    return (
        Misfit(where, MisfitKind.NOT_ELIGIBLE, number, allowed) if is_wrong else None,
        Misfit(where, MisfitKind.OTHER_SHEET, number, named) if is_other else None,
    )


def _data(
    plate: Plate, engine: EngineSheet | None, magneto: MagnetoSheet | None, poles: Whole | None
) -> tuple[Misfit | None, ...]:
    if magneto is None or magneto.magneto is None:
        return ()
    data, side = magneto.magneto, plate.side
    is_hand_missing = plate.hand is None and data.rotation is not None
    lag = _number(typed_text.tidied(plate.lag))
    return (
        Misfit(f"{side}.hand", MisfitKind.MISSING, "", data.rotation or "") if is_hand_missing else None,
        _unlike(f"{side}.hand", MisfitKind.HAND, plate.hand, data.rotation),
        _lag(f"{side}.lag", plate.lag, lag, magneto, engine),
        _unlike(f"{side}.poles", MisfitKind.POLES, _text(poles), _text(data.poles)),
    )


def _lag(
    where: str, typed: str, lag: Fraction | None, magneto: MagnetoSheet, engine: EngineSheet | None
) -> Misfit | None:
    """Compare a lag in magneto degrees with the sheet's; crankshaft degrees only where the cylinders are known."""
    data = magneto.magneto
    assert data is not None  # noqa: S101 - whoever asks has looked
    typed = typed.strip()
    if data.impulse_lag is None:
        return Misfit(where, MisfitKind.LAG, typed, "no impulse coupling") if typed else None
    wanted = _in_magneto_degrees(data.impulse_lag, data.impulse_lag_in, engine, data.poles)
    words = f"{data.impulse_lag} {data.impulse_lag_in or LagIn.MAGNETO} degrees"
    if not typed:
        return Misfit(where, MisfitKind.MISSING, "", words)
    is_read = _number(typed_text.tidied(typed)) is not None
    is_unlike = lag is not None and wanted is not None and lag != wanted
    return Misfit(where, MisfitKind.LAG, typed, words) if is_unlike or not is_read else None


def _in_magneto_degrees(
    text: str | None, lag_in: str | None, engine: EngineSheet | None, poles: Whole | None
) -> Fraction | None:
    value = _number(None if text is None else typed_text.tidied(text))
    if value is None or lag_in != LagIn.CRANKSHAFT:
        return value
    cylinders = engine.engine.cylinders if engine and engine.engine else None
    if not isinstance(cylinders, int) or not isinstance(poles, int):
        return None
    return value * Fraction(cylinders, 2 * poles)


def _unlike(where: str, kind: MisfitKind, found: str | None, wanted: str | None) -> Misfit | None:
    is_unlike = found is not None and wanted is not None and found != wanted
    return Misfit(where, kind, str(found), str(wanted)) if is_unlike else None


def _engine_into(card: TypedCard, sheet: EngineSheet, *, with_run_up: bool) -> TypedCard:
    run_up = card.run_up or (TypedRunUp() if with_run_up and sheet.run_up else None)
    if run_up is not None and sheet.run_up is not None:
        run_up = replace(
            run_up,
            drop_most=sheet.run_up.drop_most or run_up.drop_most,
            apart_most=sheet.run_up.apart_most or run_up.apart_most,
        )
    return replace(
        card,
        engine=_over(card.engine, sheet.engine),
        limits=_over(card.limits, typed_limits(sheet.limits) if sheet.limits else None),
        magnetos=_over(card.magnetos, sheet.magnetos),
        run_up=run_up,
        torque=tuple(_torque_into(one, sheet) for one in card.torque) if card.torque else card.torque,
    )


def _torque_into(typed: TypedTorque, sheet: EngineSheet) -> TypedTorque:
    found = next((one for one in sheet.torque or () if one.what and _same(one.what) == _same(typed.what or "")), None)
    return replace(typed, required=found.required, unit=found.unit) if found else typed


def _magneto_into(typed: TypedMagneto, sheet: MagnetoSheet) -> TypedMagneto:
    data = sheet.magneto
    assert data is not None  # noqa: S101 - whoever asks has looked
    is_lag_typed = typed.impulse_lag is not None
    changes = {}
    for one in fields(typed):
        value = getattr(data, one.name, None)
        is_kept = one.name in _PLATE_KEYS and getattr(typed, one.name) is not None
        if value is not None and not is_kept and not (one.name == "impulse_lag_in" and is_lag_typed):
            changes[one.name] = value
    return replace(typed, **changes)


def _over(under: Table | None, over: Table | None) -> Table | None:
    """Lay one table over another: what the upper leaves out stays as it is in the lower."""
    if under is None or over is None:
        return under if over is None else over
    values = {one.name: getattr(over, one.name) for one in fields(over)}  # type: ignore[arg-type]  # a typed table
    changes = {name: value for name, value in values.items() if value is not None}
    return replace(under, **changes)  # type: ignore[type-var]  # the same


def _number(text: str | None) -> Fraction | None:
    return None if text is None else typed_text.number(text)


def _text(value: Whole | None) -> str | None:
    return None if value is None else str(value)


def _same(text: str) -> str:
    return " ".join(text.split()).casefold()
