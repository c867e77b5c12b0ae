"""What keeps a limits sheet from being used: each fault with its key's path, all of them at once.

Engine, limits and the magneto's data are read by the very pass that reads a card of readings, so that a sheet and a
card allow the same numbers in the same form.
"""

import re

from desktop.core.shop.sheets.sheet_choices import Against, Configuration, EligibleSide, PlugPlace, Resistance
from desktop.core.shop.sheets.sheet_fault_list import Ends, SheetFaultList, is_from
from desktop.core.shop.sheets.sheets import (
    Eligible,
    EngineSheet,
    MagnetoSheet,
    PlugRow,
    Sheet,
    SheetLimits,
    SheetMagneto,
    SheetRetard,
    SheetTurning,
)
from desktop.core.timing import typed_card as typed
from desktop.core.timing.faults import Fault, found
from desktop.core.timing.read_card import MOST_CYLINDERS, read_card
from desktop.core.timing.readings import Side

_ID = re.compile(r"(?=.{1,40}$)[a-z0-9]+(-[a-z0-9]+)*")
_LEFT = re.compile(r"^left\.")
_MARKS = typed.TypedMeasure("marks", read_to="1")
_SOUND_MAGNETO = typed.TypedMagneto("right", 2, "back")
_SOUND_ENGINE = typed.TypedEngine(4, (1, 3, 2, 4), rotation="clockwise")
_SOUND_LIMITS = typed.TypedLimits("20", "20", "1", "1")


def is_sheet_id(text: str) -> bool:
    """Tell whether a text can name a sheet: up to 40 small letters and digits with hyphens between."""
    return _ID.fullmatch(text) is not None


def sheet_faults(sheet: Sheet) -> tuple[Fault, ...]:
    """Return every fault of a sheet as it was typed. Nothing that was typed raises."""
    faults = SheetFaultList()
    if not is_sheet_id(sheet.id):
        faults.add("id", f"expected up to 40 small letters and digits with hyphens between, {found(sheet.id)}")
    faults.ignition(sheet.ignition)
    faults.document(sheet.document)
    if isinstance(sheet, EngineSheet):
        _engine_faults(sheet, faults)
    else:
        _magneto_faults(sheet, faults)
    faults.torques(sheet.torque)
    faults.intervals(sheet.interval)
    return tuple(faults.faults)


def sides_of(sheet: EngineSheet) -> tuple[Side, ...]:
    """Return the sides on which the engine carries a magneto, by its list of eligible ones; both while it has none."""
    named = {one.side for one in sheet.eligible or ()}
    if not named or not named <= {side.value for side in Side}:
        return tuple(Side)
    return tuple(side for side in Side if side.value in named)


def _engine_faults(sheet: EngineSheet, faults: SheetFaultList) -> None:
    faults.names(sheet.types, "types", "type designation")
    faults.choice(sheet.configuration, "configuration", Configuration)
    sides = sides_of(sheet)
    _copy(_engine_card(sheet, sides), faults)
    _turning(sheet.turning, faults)
    _eligible(sheet.eligible, faults)
    _plugs(sheet, sides, faults)
    faults.gap(sheet.plug_gap, "plug_gap")
    if sheet.run_up is not None:
        faults.optional_number(sheet.run_up.rpm, "run_up.rpm", above=0)
    faults.notes(sheet.tdc_accessory, "tdc_accessory")


def _engine_card(sheet: EngineSheet, sides: tuple[Side, ...]) -> typed.TypedCard:
    """Return a card of readings that holds the sheet's data and is sound everywhere else."""
    drops = sheet.run_up
    return typed.TypedCard(
        format=1,
        engine=sheet.engine,
        limits=typed_limits(sheet.limits) if sheet.limits else None,
        measure=_MARKS,
        left=_SOUND_MAGNETO if Side.LEFT in sides else None,
        right=_SOUND_MAGNETO if Side.RIGHT in sides else None,
        run_up=typed.TypedRunUp("1", "1", "1", drops.drop_most, drops.apart_most) if drops else None,
    )


def typed_limits(limits: SheetLimits) -> typed.TypedLimits:
    """Return a sheet's limits in the form that a card of readings has."""
    return typed.TypedLimits(
        limits.left_btdc, limits.right_btdc, limits.advanced_most, limits.retarded_most, limits.apart_most
    )


def _copy(card: typed.TypedCard, faults: SheetFaultList) -> None:
    """Copy what the reading of a card finds; the card's left magneto is the sheet's magneto."""
    for fault in read_card(card).faults:
        faults.add(_LEFT.sub("magneto.", fault.where), fault.expected)


def _turning(given: SheetTurning | None, faults: SheetFaultList) -> None:
    if given is None:
        faults.add("turning", "expected a table [turning], nothing found. It says whether to turn against rotation")
        return
    against = faults.choice(given.against, "turning.against", Against)
    if against is not Against.ALLOWED or given.reason is not None:
        faults.text(given.reason, "turning.reason", "the reason, such as starter drive or pump vanes")


def _eligible(given: tuple[Eligible, ...] | None, faults: SheetFaultList) -> None:
    if not given:
        faults.add("eligible", "expected at least one magneto that the data allow on this engine, nothing found")
    seen = faults.entries(given, "eligible")
    for place, one in enumerate(seen, 1):
        where = f"eligible[{place}]"
        faults.text(one.part_number, f"{where}.part_number", "a part number")
        faults.not_electronic(one.part_number, f"{where}.part_number")
        faults.choice(one.side, f"{where}.side", EligibleSide)
        if any(_is_twice(one, other) for other in seen[: place - 1]):
            faults.add(f"{where}.part_number", f"expected each part number once a side, {found(one.part_number)}")


def _is_twice(one: Eligible, other: Eligible) -> bool:
    sides = {one.side, other.side}
    return one.part_number == other.part_number and (len(sides) == 1 or EligibleSide.EITHER.value in sides)


def _plugs(sheet: EngineSheet, sides: tuple[Side, ...], faults: SheetFaultList) -> None:
    rows = sheet.plug
    if rows is None:
        return
    cylinders = sheet.engine.cylinders if sheet.engine else None
    is_read = isinstance(cylinders, int) and 1 <= cylinders <= MOST_CYLINDERS
    most = cylinders if isinstance(cylinders, int) and is_read else MOST_CYLINDERS
    seen: set[int] = set()
    for place, row in enumerate(faults.entries(rows, "plug"), 1):
        where = f"plug[{place}]"
        before = len(faults.faults)
        cylinder = faults.whole(row.cylinder, f"{where}.cylinder", f"a cylinder from 1 to {most}", is_from(1, most))
        if len(faults.faults) == before:
            if cylinder in seen:
                faults.add(f"{where}.cylinder", f"expected each cylinder once, {found(cylinder)}")
            seen.add(cylinder)
        _plug_places(row, where, sides, faults)
    if is_read and len(rows) != most:
        faults.add("plug", f"expected a row for each of the {most} cylinders, found {len(rows)}, or no list at all")


def _plug_places(row: PlugRow, where: str, sides: tuple[Side, ...], faults: SheetFaultList) -> None:
    for side in Side:
        text = getattr(row, side)
        if side in sides:
            faults.choice(text, f"{where}.{side}", PlugPlace)
        else:
            faults.refuse(text, f"{where}.{side}", f"no magneto is eligible on the {side}")
    if row.left is not None and row.left == row.right:
        faults.add(f"{where}.right", f"expected another plug than the left magneto's, {found(row.right)}")


def _magneto_faults(sheet: MagnetoSheet, faults: SheetFaultList) -> None:
    faults.names(sheet.part_numbers, "part_numbers", "part number")
    faults.text(sheet.maker, "maker", "the maker's name")
    faults.not_electronic(sheet.maker, "maker")
    if sheet.magneto is None:
        faults.add("magneto", "expected a table [magneto], nothing found")
    else:
        card = typed.TypedCard(1, _SOUND_ENGINE, _SOUND_LIMITS, _MARKS, left=typed_magneto(sheet.magneto))
        _copy(card, faults)
        _windows(sheet.magneto, faults)
    faults.gap(sheet.contact_gap, "contact_gap")
    if sheet.retard is not None:
        _retard(sheet.retard, faults)
    if sheet.leads is not None:
        faults.number(sheet.leads.resistance_most, "leads.resistance_most", above=0)
        faults.choice(sheet.leads.unit, "leads.unit", Resistance)


def typed_magneto(given: SheetMagneto) -> typed.TypedMagneto:
    """Return a sheet's magneto in the form that a card of readings has, seen from the back and not measured."""
    return typed.TypedMagneto(
        rotation=given.rotation,
        poles=given.poles,
        seen_from="back",
        back_off_least=given.back_off_least,
        back_off_most=given.back_off_most,
        drive_gear_teeth=given.drive_gear_teeth,
        slot_degrees=given.slot_degrees,
        slot_radius_mm=given.slot_radius_mm,
        impulse_lag=given.impulse_lag,
        impulse_lag_in=given.impulse_lag_in,
        e_gap=given.e_gap,
    )


def _windows(given: SheetMagneto, faults: SheetFaultList) -> None:
    quiet = SheetFaultList()  # a nominal's own faults were found with the card's
    for name in ("impulse_lag", "e_gap"):
        nominal, where = getattr(given, name), f"magneto.{name}"
        least, most = getattr(given, f"{name}_least"), getattr(given, f"{name}_most")
        faults.window(Ends(least, most, f"{where}_least", f"{where}_most"), quiet.sure(nominal, where, least=0))
    if given.impulse_lag is None:
        for name in ("impulse_lag_least", "impulse_lag_most", "impulse_lag_in"):
            faults.refuse(getattr(given, name), f"magneto.{name}", "no impulse coupling (magneto.impulse_lag)")
    low, high = (quiet.sure(getattr(given, f"back_off_{end}"), "", least=0) for end in ("least", "most"))
    if low is not None and high is not None and low > high:
        faults.add("magneto.back_off_most", f"expected the least or more, {found(given.back_off_most)}")


def _retard(given: SheetRetard, faults: SheetFaultList) -> None:
    before = len(faults.faults)
    nominal = faults.number(given.btdc, "retard.btdc")
    is_read = len(faults.faults) == before
    ends = Ends(given.least, given.most, "retard.least", "retard.most")
    faults.window(ends, nominal if is_read else None, least=None)
