"""Faults of limits sheets: each key's edge and the first step beyond, at its path, all at once."""

from dataclasses import fields, replace

import pytest

from desktop.core.shop.sheets.sheet_fault_list import MOST_ENTRIES, MOST_NOTE_SIGNS, MOST_SIGNS, is_day
from desktop.core.shop.sheets.sheet_faults import is_sheet_id, sheet_faults, sides_of
from desktop.core.shop.sheets.sheet_numbers import NUMBERS, tidied_sheet
from desktop.core.shop.sheets.sheet_paths import typed_rows
from desktop.core.shop.sheets.sheets import (
    Eligible,
    EngineSheet,
    MagnetoSheet,
    PlugRow,
    Sheet,
    SheetDocument,
    SheetInterval,
    SheetLeads,
    SheetTorque,
)
from desktop.core.timing.readings import Side
from tests.core.shop.sheets.sheet_cases import DEMO, FULL_ENGINE, FULL_MAGNETO, changed, engine, magneto, places

NOT_A_NUMBER = ["1e2", "+1", "nan", "1_0", "22 mm", "\uff11\uff12"]
ENGINE_VALUES: list[tuple[str, list[str | None], list[str | None]]] = [
    ("configuration", ["opposed", "radial", "in line", "other"], ["flat", "Radial", None]),
    ("ignition", [], ["electronic", "FADEC", "Magneto", None]),
    ("types[1]", ["Marrow Six H"], ["Marrow \u202eSix", "x" * 201, "Marrow FADEC"]),
    ("document.title", ["Handbook"], [None, "x" * 201, "Electronic ignition manual", "two\nlines"]),
    ("document.number", ["A"], [None, "x" * 201]),
    ("document.revision", ["-"], [None, "x" * 201]),
    ("document.date", ["2024-02-29"], ["2023-02-29", "2 Feb 2026", "2026-2-2", "20260202", None, "\uff12026-02-02"]),
    ("engine.cylinders", [], ["0", "29", "5", "six", None]),
    ("engine.firing_order", ["6-5-4-3-2-1"], ["1-2-3", "1-4-5-2-3-3", None]),
    ("engine.reference", ["4", None], ["7", "0"]),
    ("engine.rotation", ["counter-clockwise"], ["left", None]),
    ("engine.propeller_turns_per_crank_turn", ["77/120", "1", None], ["0", "-1", "1/0"]),
    ("engine.propeller_rotation", [None, "clockwise"], ["right"]),
    ("engine.stroke_mm", ["0.1"], ["0", *NOT_A_NUMBER, None]),
    ("engine.rod_mm", ["160"], ["-1"]),
    ("limits.left_btdc", ["0", "22.5"], ["-1", *NOT_A_NUMBER, None]),
    ("limits.right_btdc", ["22,5"], ["x", None]),
    ("limits.advanced_most", ["0"], ["-0.1", None]),
    ("limits.retarded_most", ["0"], ["-0.1", None]),
    ("limits.apart_most", ["0", None], ["-0.1"]),
    ("turning.against", ["no"], ["yes", None]),
    ("turning.reason", ["Pump vanes."], [None, "x" * 201]),
    ("eligible[1].part_number", ["T9"], [None, "CDI-3", "x" * 201]),
    ("eligible[1].side", ["left"], ["both", None]),
    ("plug[2].cylinder", [], ["1", "7", "0", "two", None]),
    ("plug[1].left", ["front", "rear", "inboard", "outboard"], ["top", None]),
    ("plug[1].right", ["front"], ["upper", None]),
    ("plug_gap.least", ["0"], ["-0.1", None]),
    ("plug_gap.most", ["0.016"], ["0.0159", None, "x"]),
    ("plug_gap.unit", ["mm"], ["cm", None]),
    ("run_up.rpm", ["0.1", None], ["0"]),
    ("run_up.drop_most", ["0"], ["-1", None]),
    ("run_up.apart_most", ["0"], ["-1", None]),
    ("torque[2].what", ["cover screw"], [None, "plug", "x" * 201]),
    ("torque[1].required", ["360", "420"], ["0", "-1", None]),
    ("torque[1].least", ["390"], ["390.1", "-1", None]),
    ("torque[1].most", ["390"], ["389.9", "x", None]),
    ("torque[1].unit", ["N·m", "ft-lb"], ["Nm", None]),
    ("interval[2].what", ["oil"], [None]),
    ("interval[1].hours", ["0.1", None], ["0", "x"]),
    ("interval[1].months", ["1", "1200", None], ["0", "1201", "a year"]),
    ("interval[2].hours", [], [None]),
    ("tdc_accessory[1]", ["x" * MOST_NOTE_SIGNS], ["x" * (MOST_NOTE_SIGNS + 1), "a\u0000b"]),
]
MAGNETO_VALUES: list[tuple[str, list[str | None], list[str | None]]] = [
    ("ignition", [], ["electronic ignition", None]),
    ("part_numbers[1]", ["T2-M"], ["x" * 201, "ECU 4"]),
    ("maker", ["Ostrin"], [None, "Solid-state Ostrin", "x" * 201]),
    ("magneto.rotation", ["right"], ["clockwise", None]),
    ("magneto.poles", ["4", "6", "8"], ["3", "0", None]),
    ("magneto.back_off_least", ["0", "60", None], ["-1"]),
    ("magneto.back_off_most", ["10", None], ["9.9", "-1"]),
    ("magneto.drive_gear_teeth", ["1", None], ["0", "many"]),
    ("magneto.slot_degrees", ["0", None], ["-1"]),
    ("magneto.slot_radius_mm", ["0.1", None], ["0"]),
    ("magneto.impulse_lag", ["28", "32"], ["-1", "x"]),
    ("magneto.impulse_lag_least", ["30"], ["30.1", None, "-1"]),
    ("magneto.impulse_lag_most", ["30"], ["29.9", None]),
    ("magneto.impulse_lag_in", ["crankshaft", None], ["degrees"]),
    ("magneto.e_gap", ["8", "12", None], ["-1"]),
    ("magneto.e_gap_least", ["10"], ["10.1", None]),
    ("magneto.e_gap_most", ["10"], ["9.9", None]),
    ("contact_gap.least", ["0"], ["-1", None]),
    ("contact_gap.most", ["0.35"], ["0.34", None]),
    ("contact_gap.unit", ["in"], ["thou", None]),
    ("retard.btdc", ["-7", "-3"], ["x", None]),
    ("retard.least", ["-5"], ["-4.9", None]),
    ("retard.most", ["-5"], ["-5.1", None]),
    ("leads.resistance_most", ["0.1"], ["0", None]),
    ("leads.unit", ["ohm"], ["Ω", None]),
    ("torque[1].required", ["160"], ["x", None]),
    ("interval[1].what", ["overhaul"], [None]),
]


@pytest.mark.parametrize("sheet", [*DEMO.values(), FULL_ENGINE, FULL_MAGNETO], ids=[*DEMO, "engine", "magneto"])
def test_that_the_sheets_behind_these_tests_have_no_fault(sheet: Sheet) -> None:
    assert sheet_faults(sheet) == ()
    assert tidied_sheet(sheet) == sheet


@pytest.mark.parametrize(
    ("sheet", "path", "allowed", "refused"),
    [(FULL_ENGINE, *row) for row in ENGINE_VALUES] + [(FULL_MAGNETO, *row) for row in MAGNETO_VALUES],
    ids=[f"engine {row[0]}" for row in ENGINE_VALUES] + [f"magneto {row[0]}" for row in MAGNETO_VALUES],
)
def test_that_a_value_outside_what_its_key_allows_is_a_fault_at_that_key(
    sheet: Sheet, path: str, allowed: list[str | None], refused: list[str | None]
) -> None:
    for value in allowed:
        assert sheet_faults(changed(sheet, (path, value))) == (), value
    for value in refused:
        found = sheet_faults(changed(sheet, (path, value)))
        # Cylinders that do not fit are a fault of the order and of the plugs; a missing end is asked for at its place.
        assert path in places(found) or (path == "engine.cylinders" and "engine.firing_order" in places(found)), value
        assert all(len(fault.sentence) < 400 for fault in found)
        assert all("expected" in fault.expected or "Leave this key out" in fault.expected for fault in found)


def test_that_every_path_of_the_full_sheets_is_tried() -> None:
    tried = {path for path, _, _ in ENGINE_VALUES}
    for path, _ in typed_rows(FULL_ENGINE):
        table = path.partition("[")[0]
        key = path.rpartition(".")[2]
        known = path in tried or any(one.startswith(table) and one.rpartition(".")[2] == key for one in tried)
        assert known or path in ("invented", "magnetos.one_housing") or table == "tdc_accessory", path
    for path, _ in typed_rows(FULL_MAGNETO):
        known = any(path == one or one.endswith(path.rpartition(".")[2]) for one, _, _ in MAGNETO_VALUES)
        assert known or path == "invented" or path.startswith(("document.", "torque[1]", "interval[1]")), path


@pytest.mark.parametrize(
    ("kind", "where"),
    [
        (
            EngineSheet("new"),
            ["ignition", "document", "types", "configuration", "engine", "limits", "limits.left_btdc",
             "limits.right_btdc", "turning", "eligible"],
        ),
        (MagnetoSheet("new"), ["ignition", "document", "part_numbers", "maker", "magneto"]),
    ],
)  # fmt: skip
def test_that_an_empty_sheet_says_everything_that_is_missing_at_once(kind: Sheet, where: list[str]) -> None:
    assert places(sheet_faults(kind)) == where


def test_that_electronic_ignition_is_refused_by_name_with_the_reason() -> None:
    for sheet in (FULL_ENGINE, FULL_MAGNETO):
        [fault] = sheet_faults(replace(sheet, ignition="electronic"))
        assert fault.where == "ignition"
        assert "found 'electronic'" in fault.expected
        assert "Electronic ignition is out of scope here: it has no breaker points to time" in fault.expected
    [missing] = sheet_faults(replace(FULL_ENGINE, ignition=None))
    assert missing.expected == 'expected "magneto", nothing found'
    [named] = sheet_faults(replace(FULL_MAGNETO, part_numbers=("CDI-4",)))
    assert (named.where, "'CDI'" in named.expected) == ("part_numbers[1]", True)


@pytest.mark.parametrize(
    ("sheet", "where"),
    [
        (replace(FULL_ENGINE, torque=()), ["torque"]),
        (replace(FULL_ENGINE, interval=()), ["interval"]),
        (replace(FULL_ENGINE, tdc_accessory=()), ["tdc_accessory"]),
        (replace(FULL_ENGINE, plug=()), ["plug"]),
        (replace(FULL_ENGINE, eligible=()), ["eligible"]),
        (replace(FULL_ENGINE, types=()), ["types"]),
        (replace(FULL_ENGINE, plug=FULL_ENGINE.plug and FULL_ENGINE.plug[:5]), ["plug"]),
        (replace(FULL_ENGINE, types=("A", "B", "A")), ["types[3]"]),
        (replace(FULL_ENGINE, types=("A", " ")), ["types[2]"]),
        (replace(FULL_ENGINE, types=tuple(map(str, range(MOST_ENTRIES + 1)))), ["types"]),
        (replace(FULL_ENGINE, tdc_accessory=("same",) * (MOST_ENTRIES + 1)), ["tdc_accessory"]),
        (replace(FULL_ENGINE, torque=(SheetTorque("a", "1", unit="in-lb"), SheetTorque())), ["torque[2].what",
         "torque[2].required", "torque[2].unit"]),
        (replace(FULL_ENGINE, interval=(SheetInterval(),)), ["interval[1].what", "interval[1].hours"]),
        (replace(FULL_ENGINE, engine=None), ["engine"]),
        (replace(FULL_MAGNETO, leads=SheetLeads()), ["leads.resistance_most", "leads.unit"]),
        (replace(FULL_MAGNETO, document=SheetDocument()), ["document.title", "document.number", "document.revision",
         "document.date"]),
        (replace(FULL_ENGINE, id="Marrow 6"), ["id"]),
    ],
)  # fmt: skip
def test_that_lists_and_tables_without_content_are_named(sheet: Sheet, where: list[str]) -> None:
    assert places(sheet_faults(sheet)) == where


@pytest.mark.parametrize(
    ("one", "other", "is_twice"),
    [
        (("T2", "left"), ("T2", "left"), True),
        (("T2", "left"), ("T2", "either"), True),
        (("T2", "either"), ("T2", "right"), True),
        (("T2", "left"), ("T2", "right"), False),
        (("T2", "left"), ("T3", "left"), False),
    ],
)
def test_that_a_part_number_is_eligible_once_a_side(
    one: tuple[str, str], other: tuple[str, str], is_twice: bool
) -> None:
    sheet = replace(FULL_ENGINE, plug=None, eligible=(Eligible(*one), Eligible(*other), Eligible("T4", "either")))
    assert places(sheet_faults(sheet)) == (["eligible[2].part_number"] if is_twice else [])


def test_that_an_engine_with_one_magneto_needs_one_firing_position_and_one_plug_a_cylinder() -> None:
    alone = replace(engine(), eligible=(Eligible("T2", "right"),), plug=None)
    assert sides_of(alone) == (Side.RIGHT,)
    assert sides_of(engine()) == sides_of(replace(alone, eligible=(Eligible("T2", "up"),))) == tuple(Side)
    assert sheet_faults(changed(alone, ("limits.left_btdc", None))) == ()
    assert places(sheet_faults(changed(alone, ("limits.right_btdc", None)))) == ["limits.right_btdc"]
    rows = tuple(PlugRow(number, None, "upper") for number in range(1, 7))
    assert sheet_faults(replace(alone, plug=rows)) == ()
    both = (PlugRow(1, "lower", "upper"), *rows[1:])
    assert places(sheet_faults(replace(alone, plug=both))) == ["plug[1].left"]


def test_that_turning_that_is_allowed_needs_no_reason_and_a_window_may_be_left_out() -> None:
    free = changed(FULL_ENGINE, ("turning.against", "allowed"))
    assert sheet_faults(free) == sheet_faults(changed(free, ("turning.reason", None))) == ()
    plain = changed(FULL_MAGNETO, ("magneto.e_gap_least", None), ("magneto.e_gap_most", None))
    assert sheet_faults(plain) == ()
    small = replace(FULL_MAGNETO, contact_gap=None, retard=None, leads=None, torque=None, interval=None)
    assert sheet_faults(small) == ()
    bare = replace(FULL_ENGINE, plug=None, plug_gap=None, run_up=None, torque=None, interval=None, tdc_accessory=None,
                   magnetos=None)  # fmt: skip
    assert sheet_faults(bare) == ()


def test_that_a_lag_window_without_a_lag_is_refused() -> None:
    sheet = changed(FULL_MAGNETO, ("magneto.impulse_lag", None))
    assert places(sheet_faults(sheet)) == [f"magneto.impulse_lag_{end}" for end in ("least", "most", "in")]


def test_that_numbers_are_tidied_and_part_numbers_never() -> None:
    typed = changed(FULL_ENGINE, ("limits.left_btdc", "22 1/2°"), ("eligible[1].part_number", "1/2"),
                    ("torque[1].required", "390,0"), ("turning.reason", "½"))  # fmt: skip
    assert places(sheet_faults(typed)) == ["limits.left_btdc"]
    tidy = tidied_sheet(typed)
    assert sheet_faults(tidy) == ()
    assert tidy == changed(typed, ("limits.left_btdc", "22.5"), ("torque[1].required", "390.0"))


def test_that_every_name_of_a_number_is_a_field_of_some_sheet() -> None:
    names = {path.rpartition(".")[2] for sheet in (FULL_ENGINE, FULL_MAGNETO) for path, _ in typed_rows(sheet)}
    assert names >= NUMBERS
    assert {one.name for one in fields(FULL_ENGINE)} & NUMBERS == set()


@pytest.mark.parametrize(
    ("text", "fits"),
    [("marrow-six", True), ("a", True), ("6", True), ("a" * 40, True), ("a" * 41, False), ("", False), ("-a", False),
     ("a--b", False), ("A", False), ("é", False), ("a\n", False)],
)  # fmt: skip
def test_that_an_id_has_small_letters_digits_and_hyphens(text: str, fits: bool) -> None:
    assert is_sheet_id(text) is fits


def test_that_the_longest_text_is_taken() -> None:
    assert sheet_faults(replace(magneto(), maker="x" * MOST_SIGNS)) == ()


def test_that_a_day_is_a_day_of_the_calendar() -> None:
    assert is_day("2026-12-31")
    assert not any(map(is_day, [None, "", "2026-13-01", "2026-12-32", "2026-1-1", "x"]))
