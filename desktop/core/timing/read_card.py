"""Typed readings become exact values here, in one pass that finds every structure fault."""

from dataclasses import dataclass
from fractions import Fraction

from desktop.core import typed_text
from desktop.core.timing import torque as torque_work
from desktop.core.timing import typed_card as typed
from desktop.core.timing.faults import Fault, FaultList
from desktop.core.timing.readings import (
    Approach,
    By,
    Card,
    Counts,
    Decision,
    Engine,
    Hand,
    LagIn,
    Limits,
    Magneto,
    Marking,
    Measure,
    On,
    RunUp,
    SeenFrom,
    Side,
    StopPair,
    Torque,
    Turn,
    Unit,
    When,
)

MOST_CYLINDERS = 28
MOST_TEETH = 999_999  # as many digits as any number on the card may have
POLES = (2, 4, 6, 8)


@dataclass(frozen=True, slots=True)
class ReadCard:
    """A card, or the faults that kept it from being read; never both."""

    card: Card | None
    faults: tuple[Fault, ...]


def read_card(given: typed.TypedCard) -> ReadCard:
    """Read a whole typed card. Nothing that was typed raises; every fault names its key."""
    faults = FaultList()
    if given.format is None:
        faults.add("format", "expected 1, nothing found")
    if given.left is None and given.right is None:
        faults.add("left", "expected a table [left] or [right], nothing found. A card needs at least one magneto")
    engine = _engine(given.engine, faults)
    measure = _measure(given.measure, faults)
    sheet = given.limits or typed.TypedLimits()
    card = Card(
        engine=engine,
        limits=_limits(given.limits, faults),
        measure=measure,
        stops=_stops(given.stop, measure, faults),
        one_housing=bool(given.magnetos and given.magnetos.one_housing),
        left=_magneto(given.left, Side.LEFT, sheet.left_btdc, measure, faults),
        right=_magneto(given.right, Side.RIGHT, sheet.right_btdc, measure, faults),
        run_up=_run_up(given.run_up, faults),
        torque=_torque(given.torque, faults),
    )
    return ReadCard(None, tuple(faults.faults)) if faults.faults else ReadCard(card, ())


def _engine(given: typed.TypedEngine | None, faults: FaultList) -> Engine:
    if given is None:
        faults.add("engine", "expected a table [engine], nothing found")
        return _engine(typed.TypedEngine(), FaultList())
    cylinders = faults.whole(
        given.cylinders,
        "engine.cylinders",
        f"a whole number from 1 to {MOST_CYLINDERS}",
        lambda value: 1 <= value <= MOST_CYLINDERS,
    )
    order = tuple(value for value in given.firing_order or () if isinstance(value, int))
    if sorted(order) != list(range(1, cylinders + 1)) or len(order) != len(given.firing_order or ()):
        faults.add("engine.firing_order", f"expected each cylinder from 1 to {cylinders} once, such as [1, 3, 2, 4]")
        order = (1,)
    reference = order[0]
    if given.reference is not None:
        reference = faults.whole(
            given.reference, "engine.reference", "one of the cylinders", lambda value: value in order
        )
    rotation = faults.choice(given.rotation, "engine.rotation", Turn)
    faults.together(given.stroke_mm, given.rod_mm, "engine.stroke_mm", "engine.rod_mm")
    turns = given.propeller_turns_per_crank_turn
    return Engine(
        cylinders=cylinders,
        firing_order=order,
        reference=reference,
        rotation=rotation,
        propeller_ratio=faults.number(
            "1" if turns is None else turns, "engine.propeller_turns_per_crank_turn", above=0, read=typed_text.ratio
        ),
        propeller_rotation=faults.choice(given.propeller_rotation, "engine.propeller_rotation", Turn, rotation),
        stroke_mm=faults.optional_number(given.stroke_mm, "engine.stroke_mm", above=0),
        rod_mm=faults.optional_number(given.rod_mm, "engine.rod_mm", above=0),
    )


def _limits(given: typed.TypedLimits | None, faults: FaultList) -> Limits:
    if given is None:
        faults.add("limits", "expected a table [limits], nothing found")
        return Limits(Fraction(0), Fraction(0), None, Decision.SIMPLE)
    for side in Side:
        faults.optional_number(getattr(given, f"{side}_btdc"), f"limits.{side}_btdc", least=0)
    return Limits(
        advanced_most=faults.number(given.advanced_most, "limits.advanced_most", least=0),
        retarded_most=faults.number(given.retarded_most, "limits.retarded_most", least=0),
        apart_most=faults.optional_number(given.apart_most, "limits.apart_most", least=0),
        decision=faults.choice(given.decision, "limits.decision", Decision, Decision.SIMPLE),
    )


def _measure(given: typed.TypedMeasure | None, faults: FaultList) -> Measure:
    if given is None:
        faults.add("measure", "expected a table [measure], nothing found")
        return _measure(typed.TypedMeasure("marks", read_to="1"), FaultList())
    by = faults.choice(given.by, "measure.by", By)
    marking, counts, on = Marking.SPLIT, Counts.UP, On.CRANKSHAFT
    if by is By.MARKS:
        why = "marks read degrees before TDC themselves"
        for key in ("marking", "on", "zeroed"):
            faults.refuse(getattr(given, key), f"measure.{key}", why)
    else:
        marking = faults.choice(given.marking, "measure.marking", Marking)
        on = faults.choice(given.on, "measure.on", On)
        faults.flag(given.zeroed, "measure.zeroed")
    if marking is Marking.FULL:
        counts = faults.choice(given.counts, "measure.counts", Counts)
    else:
        faults.refuse(given.counts, "measure.counts", "only a full disc counts up or down")
    if by is not By.DISC:
        for key in ("radius_mm", "centring_mm"):
            faults.refuse(getattr(given, key), f"measure.{key}", "only a disc has a centring error")
    faults.together(given.radius_mm, given.centring_mm, "measure.radius_mm", "measure.centring_mm")
    centre = given.centre_by_feel
    return Measure(
        by=by,
        marking=marking,
        counts=counts,
        read_to=faults.number(given.read_to, "measure.read_to", above=0),
        read_to_decimals=typed_text.decimals(given.read_to or ""),
        on=on,
        zeroed=by is By.MARKS or bool(given.zeroed),
        centre_by_feel=None
        if centre is None
        else faults.reading(centre, "measure.centre_by_feel", full=marking is Marking.FULL),
        radius_mm=faults.optional_number(given.radius_mm, "measure.radius_mm", above=0),
        centring_mm=faults.optional_number(given.centring_mm, "measure.centring_mm", above=0),
    )


def _stops(given: tuple[typed.TypedStop, ...] | None, measure: Measure, faults: FaultList) -> tuple[StopPair, ...]:
    if given is None:
        return ()
    if measure.by is By.MARKS:
        faults.refuse(given, "stop", "marks need no stop contacts")
        return ()
    if not given:
        faults.add("stop", "expected at least one pair of contacts. Leave the key out while none was taken")
    pairs = []
    full = measure.marking is Marking.FULL
    for place, pair in enumerate(given, 1):
        where = f"stop[{place}]"
        if pair.after_zeroing and not measure.zeroed:
            faults.refuse(pair.after_zeroing, f"{where}.after_zeroing", "the disc was not zeroed")
        pairs.append(
            StopPair(
                faults.reading(pair.with_rotation, f"{where}.with", full=full),
                faults.reading(pair.against_rotation, f"{where}.against", full=full),
                bool(pair.after_zeroing),
            )
        )
    return tuple(pairs)


def _magneto(
    given: typed.TypedMagneto | None, side: Side, nominal: str | None, measure: Measure, faults: FaultList
) -> Magneto | None:
    if given is None:
        return None
    where = side.value
    teeth = given.drive_gear_teeth
    if nominal is None:
        faults.add(f"limits.{side}_btdc", f"expected the firing position of the {side} magneto, nothing found")
    return Magneto(
        side=side,
        nominal=FaultList().number(nominal, ""),  # its faults were found with the limits
        rotation=faults.choice(given.rotation, f"{where}.rotation", Hand),
        poles=faults.whole(given.poles, f"{where}.poles", "2, 4, 6 or 8", lambda value: value in POLES),
        seen_from=faults.choice(given.seen_from, f"{where}.seen_from", SeenFrom),
        back_off_least=faults.optional_number(given.back_off_least, f"{where}.back_off_least", least=0),
        back_off_most=faults.optional_number(given.back_off_most, f"{where}.back_off_most", least=0),
        drive_gear_teeth=None
        if teeth is None
        else faults.whole(
            teeth,
            f"{where}.drive_gear_teeth",
            f"a whole number from 1 to {MOST_TEETH}",
            lambda value: 1 <= value <= MOST_TEETH,
        ),
        slot_degrees=faults.optional_number(given.slot_degrees, f"{where}.slot_degrees", least=0),
        slot_radius_mm=faults.optional_number(given.slot_radius_mm, f"{where}.slot_radius_mm", above=0),
        impulse_lag=faults.optional_number(given.impulse_lag, f"{where}.impulse_lag", least=0),
        impulse_lag_in=faults.choice(given.impulse_lag_in, f"{where}.impulse_lag_in", LagIn, LagIn.MAGNETO),
        e_gap=faults.optional_number(given.e_gap, f"{where}.e_gap", least=0),
        approaches=_approaches(given, where, measure, faults),
    )


def _approaches(given: typed.TypedMagneto, where: str, measure: Measure, faults: FaultList) -> tuple[Approach, ...]:
    if given.approach is None:
        return ()
    if not given.approach:
        faults.add(f"{where}.approach", "expected at least one approach. Leave the key out while none was taken")
    full = measure.marking is Marking.FULL
    approaches = []
    for place, one in enumerate(given.approach, 1):
        at = f"{where}.approach[{place}]"
        if given.impulse_lag is None:
            why = f"this magneto has no impulse coupling ({where}.impulse_lag)"
            faults.refuse(one.click_passed or None, f"{at}.click_passed", why)
            faults.refuse(one.snapped or None, f"{at}.snapped", why)
        approaches.append(
            Approach(
                when=faults.choice(one.when, f"{at}.when", When, When.AS_LEFT),
                began=None if one.began == "compression" else faults.reading(one.began, f"{at}.from", full=full),
                light=faults.reading(one.light, f"{at}.light", full=full),
                back=None if one.back is None else faults.reading(one.back, f"{at}.back", full=full),
                click_passed=bool(one.click_passed),
                snapped=bool(one.snapped),
            )
        )
    return tuple(approaches)


def _run_up(given: typed.TypedRunUp | None, faults: FaultList) -> RunUp | None:
    if given is None:
        return None
    return RunUp(
        both_rpm=faults.number(given.both_rpm, "run_up.both_rpm", above=0),
        left_rpm=faults.number(given.left_rpm, "run_up.left_rpm", above=0),
        right_rpm=faults.number(given.right_rpm, "run_up.right_rpm", above=0),
        drop_most=faults.number(given.drop_most, "run_up.drop_most", least=0),
        apart_most=faults.number(given.apart_most, "run_up.apart_most", least=0),
    )


def _torque(given: tuple[typed.TypedTorque, ...] | None, faults: FaultList) -> tuple[Torque, ...]:
    if given is None:
        return ()
    if not given:
        faults.add("torque", "expected at least one fastener. Leave the key out while there is none")
    fasteners = []
    for place, one in enumerate(given, 1):
        where = f"torque[{place}]"
        if one.what is None:
            faults.add(f"{where}.what", "expected what is tightened, nothing found")
        before = len(faults.faults)
        fastener = Torque(
            what=one.what or "",
            required=faults.number(one.required, f"{where}.required", least=0),
            unit=faults.choice(one.unit, f"{where}.unit", Unit),
            wrench=faults.number(one.wrench, f"{where}.wrench", above=0),
            extension=faults.number(one.extension, f"{where}.extension", above=0),
            angle=faults.number("0" if one.angle is None else one.angle, f"{where}.angle"),
        )
        if len(faults.faults) == before and torque_work.effective_length(fastener) <= 0:
            faults.add(f"{where}.angle", "the extension turns the wrench's pull to nothing. Check lengths and angle")
        fasteners.append(fastener)
    return tuple(fasteners)
