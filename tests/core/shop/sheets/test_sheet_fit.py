"""Data plates against the sheets, each misfit beside its near twin that fits; a card's data; leads; intervals."""

from dataclasses import fields, replace
from fractions import Fraction

import pytest

from desktop.core.shop.aircraft.due import Interval
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.sheets.sheet_fit import (
    Lead,
    MisfitKind,
    card_misfits,
    eligible_numbers,
    intervals_of,
    is_eligible,
    is_sheet_for,
    leads_by_firing_order,
    limits_into,
    plate_misfits,
)
from desktop.core.shop.sheets.sheets import (
    Eligible,
    EngineSheet,
    MagnetoSheet,
    SheetInterval,
    SheetRunUp,
    SheetTorque,
)
from desktop.core.timing.read_card import read_card
from desktop.core.timing.readings import Hand, Side
from desktop.core.timing.typed_card import TypedCard, TypedEngine, TypedMagneto, TypedRunUp, TypedTorque
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import empty_card, look_at
from tests.core.shop.sheets.sheet_cases import changed, engine, magneto
from tests.door import RULEBOOK

SIX, LEFT, RIGHT = engine(), magneto("ostrin-t2-l"), magneto("ostrin-t2")
PLATE = Plate(Side.LEFT, "T2-L", "7741", Hand.LEFT, "30")
OF_JOBS = {
    "sound": (SIX, LEFT, RIGHT),
    "against-rotation": (engine("marrow-four"), magneto("ostrin-f4"), magneto("ostrin-f4")),
    "disc-moved": (engine("bracken-seven"), magneto("ostrin-r7"), magneto("ostrin-r7")),
}


def in_crank_degrees(text: str) -> MagnetoSheet:
    sheet = changed(LEFT, ("magneto.impulse_lag", text), ("magneto.impulse_lag_in", "crankshaft"))
    assert isinstance(sheet, MagnetoSheet)
    return sheet


@pytest.mark.parametrize(
    "plate",
    [PLATE, replace(PLATE, part_number=" t2-l "), replace(PLATE, lag="30,0"), replace(PLATE, lag="30°"),
     replace(PLATE, serial="", since_overhaul="12")],
)  # fmt: skip
def test_that_a_plate_that_fits_has_no_misfit(plate: Plate) -> None:
    assert plate_misfits(plate, SIX, LEFT, 2) == plate_misfits(plate, SIX, LEFT) == ()
    assert plate_misfits(Plate(Side.RIGHT, "T2", "7796", Hand.LEFT), SIX, RIGHT) == ()


@pytest.mark.parametrize(
    ("plate", "poles", "where", "kind", "words"),
    [
        (replace(PLATE, part_number="T2-X"), 2, "left.part_number", MisfitKind.NOT_ELIGIBLE, "lists T2-L"),
        (replace(PLATE, part_number=" "), 2, "left.part_number", MisfitKind.MISSING, "not written"),
        (replace(PLATE, hand=Hand.RIGHT), 2, "left.hand", MisfitKind.HAND, "says right, the magneto's sheet left"),
        (replace(PLATE, hand=None), 2, "left.hand", MisfitKind.MISSING, "the sheets say left"),
        (replace(PLATE, lag="29"), 2, "left.lag", MisfitKind.LAG, "30 magneto degrees"),
        (replace(PLATE, lag="thirty"), 2, "left.lag", MisfitKind.LAG, "says thirty"),
        (replace(PLATE, lag=""), 2, "left.lag", MisfitKind.MISSING, "30 magneto degrees"),
        (PLATE, 4, "left.poles", MisfitKind.POLES, "says 4, the magneto's sheet 2"),
        (PLATE, "two", "left.poles", MisfitKind.POLES, "says two"),
    ],
)
def test_that_each_way_in_which_a_plate_does_not_fit_is_named_at_its_field(
    plate: Plate, poles: int | str, where: str, kind: MisfitKind, words: str
) -> None:
    found = [one for one in plate_misfits(plate, SIX, LEFT, poles) if one.kind is not MisfitKind.OTHER_SHEET]
    [misfit] = found
    assert (misfit.where, misfit.kind) == (where, kind)
    assert words in misfit.sentence


def test_that_a_part_number_is_of_the_side_and_of_the_sheet() -> None:
    wrong_side = replace(PLATE, side=Side.RIGHT)
    assert [(one.where, one.kind) for one in plate_misfits(wrong_side, SIX, LEFT)] == [
        ("right.part_number", MisfitKind.NOT_ELIGIBLE)
    ]
    geared = engine("marrow-six-g")
    assert plate_misfits(wrong_side, geared, LEFT) == ()
    [other] = plate_misfits(replace(PLATE, part_number="T2", side=Side.RIGHT), geared, LEFT)
    assert (other.kind, other.wanted) == (MisfitKind.OTHER_SHEET, "T2-L")
    assert "not on the magneto's sheet, which is for T2-L" in other.sentence
    assert is_sheet_for("f4-a", magneto("ostrin-f4"))
    assert not is_sheet_for("F4-B", magneto("ostrin-f4"))
    assert is_eligible("T2-L", Side.RIGHT, geared)
    assert eligible_numbers(Side.RIGHT, geared) == ("T2-L", "T2")
    assert eligible_numbers(Side.LEFT, geared) == ("T2-L",)


def test_that_an_engine_without_a_list_allows_nothing() -> None:
    empty = replace(SIX, eligible=None)
    [misfit] = plate_misfits(PLATE, empty, LEFT)
    assert (misfit.kind, misfit.wanted) == (MisfitKind.NOT_ELIGIBLE, "none")
    [missing] = plate_misfits(replace(PLATE, part_number=""), empty, None)
    assert missing.wanted == "none"


def test_that_a_coupling_where_the_sheet_has_none_does_not_fit() -> None:
    plate = Plate(Side.RIGHT, "T2", "", Hand.LEFT, "25")
    [misfit] = plate_misfits(plate, SIX, RIGHT)
    assert (misfit.where, misfit.kind, misfit.wanted) == ("right.lag", MisfitKind.LAG, "no impulse coupling")
    assert plate_misfits(replace(plate, lag=" "), SIX, RIGHT) == ()


def test_that_a_lag_in_crankshaft_degrees_is_compared_in_magneto_degrees() -> None:
    # Ratio of a six with two poles: 6 / (2 x 2) = 3/2; 20 degrees of the crankshaft are 30 of the magneto.
    assert plate_misfits(PLATE, SIX, in_crank_degrees("20")) == ()
    [misfit] = plate_misfits(PLATE, SIX, in_crank_degrees("30"))
    assert (misfit.kind, misfit.wanted) == (MisfitKind.LAG, "30 crankshaft degrees")


def test_that_a_lag_is_not_judged_where_the_cylinders_are_not_known() -> None:
    sheet = in_crank_degrees("20")
    for no_engine in (None, replace(SIX, engine=None), replace(SIX, engine=TypedEngine("six"))):
        assert not any(one.kind is MisfitKind.LAG for one in plate_misfits(PLATE, no_engine, sheet))
        [misfit] = [one for one in plate_misfits(replace(PLATE, lag="x"), no_engine, sheet) if one.where == "left.lag"]
        assert misfit.kind is MisfitKind.LAG


def test_that_without_sheets_nothing_is_asked_of_a_plate() -> None:
    assert plate_misfits(PLATE, None, None, 2) == plate_misfits(Plate(Side.LEFT), None, None) == ()
    assert plate_misfits(PLATE, None, MagnetoSheet("bare", part_numbers=("T2-L",))) == ()
    no_hand = changed(LEFT, ("magneto.rotation", None))
    assert isinstance(no_hand, MagnetoSheet)
    assert plate_misfits(replace(PLATE, hand=None), SIX, no_hand) == ()


def on_card(**values: object) -> TypedCard:
    data: dict[str, object] = {"rotation": "left", "poles": 2, "impulse_lag": "30", **values}
    return TypedCard(left=TypedMagneto(**data), right=TypedMagneto())  # type: ignore[arg-type]  # tried with anything


@pytest.mark.parametrize(
    ("values", "where"),
    [
        ({}, []),
        ({"rotation": "right"}, ["left.rotation"]),
        ({"poles": 4}, ["left.poles"]),
        ({"poles": "2"}, []),
        ({"impulse_lag": "29.9"}, ["left.impulse_lag"]),
        ({"impulse_lag": "20", "impulse_lag_in": "crankshaft"}, []),
        ({"impulse_lag": "30", "impulse_lag_in": "crankshaft"}, ["left.impulse_lag"]),
        ({"impulse_lag": None}, []),
        ({"rotation": "right", "poles": 6, "impulse_lag": "x"}, ["left.rotation", "left.poles", "left.impulse_lag"]),
    ],
)
def test_that_a_plate_typed_on_a_card_is_held_against_the_sheets(values: dict[str, object], where: list[str]) -> None:
    assert [one.where for one in card_misfits(on_card(**values), SIX, LEFT, RIGHT)] == where
    assert card_misfits(on_card(**values), SIX, None, MagnetoSheet("bare")) == ()
    assert card_misfits(TypedCard(), SIX, LEFT, RIGHT) == ()


@pytest.mark.parametrize("name", OF_JOBS)
def test_that_the_demo_readings_agree_with_the_demo_sheets(name: str) -> None:
    typed = {job.name: readings for job, readings in demo_jobs()}[name]
    sheets = OF_JOBS[name]
    assert card_misfits(typed, *sheets) == ()
    filled = limits_into(typed, *sheets)
    before, after = look_at(typed, RULEBOOK).checked, look_at(filled, RULEBOOK).checked
    assert before is not None
    assert after is not None
    assert {one.rule for one in before.findings} == {one.rule for one in after.findings}
    assert filled.limits == typed.limits
    for side in Side:
        old, new = getattr(typed, side), getattr(filled, side)
        held = [one.name for one in fields(old) if getattr(old, one.name) is not None]
        assert [getattr(new, key) for key in held] == [getattr(old, key) for key in held]
        assert (new.impulse_lag, new.seen_from) == (old.impulse_lag, old.seen_from)
    assert limits_into(filled, *sheets) == filled


def test_that_an_empty_card_is_filled_with_everything_that_the_sheets_have() -> None:
    filled = limits_into(empty_card(), SIX, LEFT, RIGHT, with_run_up=True)
    assert filled.engine == SIX.engine
    assert filled.limits is not None
    assert (filled.limits.left_btdc, filled.limits.apart_most, filled.limits.decision) == ("23", "1", None)
    assert filled.left is not None
    assert (filled.left.rotation, filled.left.poles, filled.left.impulse_lag, filled.left.e_gap) == (
        "left", 2, "30", "10",
    )  # fmt: skip
    assert filled.left.seen_from is None
    assert filled.right is not None
    assert (filled.right.impulse_lag, filled.right.impulse_lag_in) == (None, None)
    assert filled.run_up == TypedRunUp(drop_most="125", apart_most="50")
    assert filled.magnetos == SIX.magnetos
    left_out = {fault.where.partition("[")[0] for fault in read_card(filled).faults}
    assert left_out == {"measure.by", "measure.marking", "measure.on", "measure.zeroed", "measure.read_to",
                        "measure.counts", "left.seen_from", "right.seen_from", "run_up.both_rpm", "run_up.left_rpm",
                        "run_up.right_rpm"} - ({"measure.counts"} - left_out)  # fmt: skip


def test_that_what_was_read_and_what_no_sheet_has_stays() -> None:
    typed = demo_jobs()[0][1]
    assert typed.left is not None
    odd = replace(typed, left=replace(typed.left, rotation="right", poles=4, impulse_lag="20", slot_degrees="5"),
                  run_up=replace(typed.run_up or TypedRunUp(), drop_most="999"),
                  engine=TypedEngine(propeller_rotation="clockwise"))  # fmt: skip
    filled = limits_into(odd, SIX, LEFT, RIGHT)
    assert filled.left is not None
    assert (filled.left.rotation, filled.left.poles, filled.left.impulse_lag, filled.left.impulse_lag_in) == (
        "right", 4, "20", None,
    )  # fmt: skip
    assert (filled.left.slot_degrees, filled.left.approach) == ("20", typed.left.approach)
    assert filled.run_up == typed.run_up
    assert (filled.stop, filled.measure, filled.engine) == (typed.stop, typed.measure, SIX.engine)
    short = replace(SIX, run_up=SheetRunUp(), limits=None, engine=None, magnetos=None)
    assert limits_into(odd, short, None, MagnetoSheet("bare")) == odd


def test_that_a_magneto_or_run_up_that_is_not_on_the_card_stays_off_it() -> None:
    alone = TypedCard(format=1, left=TypedMagneto())
    filled = limits_into(alone, SIX, LEFT, RIGHT)
    assert (filled.right, filled.run_up, filled.torque) == (None, None, None)
    assert limits_into(alone, replace(SIX, run_up=None), None, None, with_run_up=True).run_up is None
    assert limits_into(alone, None, None, None) == alone


def test_that_a_required_torque_comes_from_the_sheet_by_its_name() -> None:
    clamp = TypedTorque("Clamp", "1", "ft-lb", "8", "2")
    typed = TypedCard(torque=(clamp, TypedTorque("other", "5", "N·m"), TypedTorque()))
    filled = limits_into(typed, SIX, None, None)
    assert filled.torque == (TypedTorque("Clamp", "95", "in-lb", "8", "2"), *(typed.torque or ())[1:])
    assert limits_into(typed, replace(SIX, torque=(SheetTorque(),)), None, None).torque == typed.torque


def test_that_leads_stand_in_the_order_of_the_electrodes_with_their_plugs() -> None:
    leads = leads_by_firing_order(SIX)
    assert leads[:3] == (
        Lead(Side.LEFT, 1, 1, "upper"), Lead(Side.LEFT, 2, 4, "lower"), Lead(Side.LEFT, 3, 5, "upper"),
    )  # fmt: skip
    assert [(one.electrode, one.cylinder) for one in leads if one.side is Side.RIGHT] == list(
        enumerate((1, 4, 5, 2, 3, 6), 1)
    )
    assert [one.plug for one in leads if one.side is Side.RIGHT] == ["lower", "upper"] * 3
    assert {(one.cylinder, one.plug) for one in leads} == {
        (cylinder, place) for cylinder in range(1, 7) for place in ("upper", "lower")
    }


def test_that_leads_without_plug_positions_say_none_and_without_an_order_there_are_none() -> None:
    assert {one.plug for one in leads_by_firing_order(replace(SIX, plug=None))} == {""}
    assert leads_by_firing_order(EngineSheet("new")) == ()
    assert leads_by_firing_order(EngineSheet("new", engine=TypedEngine())) == ()


def test_that_intervals_are_those_that_can_be_read() -> None:
    assert intervals_of(SIX) == (
        ("magneto timing to the engine", Interval(Fraction(100), 12)),
        ("plugs: clean, gap, test", Interval(Fraction(100))),
    )
    odd = (
        SheetInterval("a", "x"),
        SheetInterval(None, "5"),
        SheetInterval("b", None, "one"),
        SheetInterval("d", "-1", 0),
    )
    rows = (*odd, SheetInterval("c", "0", 6))
    assert intervals_of(replace(LEFT, interval=rows)) == (("c", Interval(None, 6)),)
    assert intervals_of(replace(LEFT, interval=None)) == ()


def test_that_an_entry_of_the_list_without_a_part_number_allows_nothing() -> None:
    assert eligible_numbers(Side.LEFT, replace(SIX, eligible=(Eligible(None, "either"), Eligible("T2", None)))) == ()


def test_that_lags_in_crankshaft_degrees_are_not_compared_without_the_cylinders() -> None:
    card = on_card(impulse_lag="25", impulse_lag_in="crankshaft")
    assert card_misfits(card, None, in_crank_degrees("20"), None) == ()
    [misfit] = card_misfits(on_card(impulse_lag="x", impulse_lag_in="crankshaft"), None, in_crank_degrees("20"), None)
    assert (misfit.where, misfit.kind) == ("left.impulse_lag", MisfitKind.LAG)
