"""Reaching and changing one typed value of a sheet; the old sheet stays as it was."""

from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desktop.core.shop.sheets.sheet_paths import sheet_groups, sheet_value, typed_rows, with_sheet_value
from desktop.core.shop.sheets.sheets import SIGNED_FIELDS, EngineSheet, MagnetoSheet, Sheet, document_words, sheet_words
from tests.core.shop.sheets.sheet_cases import DEMO, FULL_ENGINE, FULL_MAGNETO
from tests.core.shop.some_orders import BY

ODD = ["", ".", "limits.", "nothing", "limits.nothing", "limits", "limits[1].left_btdc", "eligible.side", "types[1].x",
       "eligible[1]", "eligible[0].side", "eligible[100].side", "engine.firing_order[1]", "ignition.x",
       "Limits.left_btdc", "limits.left_btdc.x", "__class__"]  # fmt: skip


@pytest.mark.parametrize("sheet", DEMO.values(), ids=DEMO)
def test_that_a_sheet_is_made_again_from_its_paths_and_values(sheet: Sheet) -> None:
    made: Sheet = type(sheet)(sheet.id)
    for path, text in typed_rows(sheet):
        made = with_sheet_value(made, path, text)
    assert made == sheet
    assert dict(typed_rows(made)) == dict(typed_rows(sheet))


@pytest.mark.parametrize("path", ODD)
def test_that_a_path_that_no_sheet_has_is_refused(path: str) -> None:
    with pytest.raises(KeyError):
        with_sheet_value(FULL_ENGINE, path, "1")
    if path not in ("eligible.side", "types"):
        with pytest.raises(KeyError):
            sheet_value(FULL_ENGINE, path)


def test_that_lists_without_a_place_are_counted_and_not_written() -> None:
    assert sheet_value(FULL_ENGINE, "eligible") == "2 entries"
    assert sheet_value(EngineSheet("new"), "eligible") is None
    for path in ("eligible", "types", "tdc_accessory"):
        with pytest.raises(KeyError):
            with_sheet_value(FULL_ENGINE, path, "1")


@pytest.mark.parametrize("name", ["id", "revision", *SIGNED_FIELDS])
def test_that_id_revision_and_signatures_are_typed_by_nobody(name: str) -> None:
    for path in (name, f"{name}.person"):
        with pytest.raises(KeyError):
            with_sheet_value(FULL_MAGNETO, path, "1")


def test_that_values_are_found_where_they_stand() -> None:
    assert sheet_value(FULL_ENGINE, "limits.left_btdc") == "20"
    assert sheet_value(FULL_ENGINE, "engine.firing_order") == "1-4-5-2-3-6"
    assert sheet_value(FULL_ENGINE, "invented") is True
    assert sheet_value(FULL_ENGINE, "plug[6].cylinder") == "6"
    assert sheet_value(FULL_ENGINE, "plug[7].cylinder") is None
    assert sheet_value(FULL_ENGINE, "types[1]") == "Marrow Six G"
    assert sheet_value(MagnetoSheet("new"), "magneto.e_gap") is None


def test_that_values_take_the_form_of_their_field() -> None:
    sheet = with_sheet_value(EngineSheet("new"), "engine.firing_order", "1, 3 2-x")
    assert sheet.engine is not None
    assert sheet.engine.firing_order == (1, 3, 2, "x")
    sheet = with_sheet_value(sheet, "engine.cylinders", " 4 ")
    sheet = with_sheet_value(sheet, "engine.reference", "one")
    sheet = with_sheet_value(sheet, "magnetos.one_housing", "true")
    sheet = with_sheet_value(sheet, "invented", value=True)
    sheet = with_sheet_value(sheet, "eligible[1].side", "left")
    assert sheet.engine is not None
    assert (sheet.engine.cylinders, sheet.engine.reference) == (4, "one")
    assert sheet.magnetos is not None
    assert (sheet.magnetos.one_housing, sheet.invented) == (True, True)
    again = with_sheet_value(sheet, "eligible[1].side", "  ")
    assert again.eligible is None
    assert with_sheet_value(again, "types[3]", "A").types == ("A",)
    assert with_sheet_value(replace(again, types=("A", "B")), "types[1]", None).types == ("B",)
    assert with_sheet_value(again, "engine.cylinders", None) == replace(
        again, engine=again.engine and replace(again.engine, cylinders=None)
    )


def test_that_everything_typed_stands_in_one_group_and_no_signature_in_any() -> None:
    signed = replace(FULL_MAGNETO, transcribed_by=BY)
    groups = sheet_groups(signed)
    rows = [row for _, group in groups for row in group]
    assert sorted(rows) == sorted(typed_rows(signed))
    assert [name for name, _ in groups] == [
        "part_numbers", "sheet", "document", "magneto", "contact_gap", "retard", "leads", "torque", "interval",
    ]  # fmt: skip
    assert not any(path.startswith(name) for path, _ in rows for name in ("id", "revision", *SIGNED_FIELDS))
    assert ("invented", "yes") in dict(groups)["sheet"]


TEXTS = st.text(st.characters(codec="utf-8"), max_size=6)
PATHS = [path for sheet in (FULL_ENGINE, FULL_MAGNETO) for path, _ in typed_rows(sheet)]


@given(st.sampled_from(PATHS), TEXTS | st.booleans() | st.none())
def test_that_only_the_value_at_the_path_changes(path: str, value: str | bool | None) -> None:
    sheet: Sheet = FULL_ENGINE if path in dict(typed_rows(FULL_ENGINE)) else FULL_MAGNETO
    new = with_sheet_value(sheet, path, value)
    table = path.replace("[", ".").split(".")[0]
    others = [one.name for one in fields(sheet) if one.name != table]
    assert [getattr(new, name) for name in others] == [getattr(sheet, name) for name in others]


@given(st.sampled_from(["limits.left_btdc", "document.title", "turning.reason", "ignition", "engine.stroke_mm"]), TEXTS)
def test_that_text_comes_back_as_it_was_typed_and_blanks_are_nothing(path: str, text: str) -> None:
    for sheet in (FULL_ENGINE, EngineSheet("new")):
        assert sheet_value(with_sheet_value(sheet, path, text), path) == (text if text.strip() else None)


def test_that_a_sheet_says_its_source_and_never_that_it_is_approved() -> None:
    assert document_words(FULL_MAGNETO) == "Ostrin T2 service data OS-T2, revision 7, 2025-11-03"
    assert sheet_words(FULL_MAGNETO) == (
        "T2-L: sheet ostrin-t2-l, revision 1, transcribed from Ostrin T2 service data OS-T2, revision 7, 2025-11-03. "
        "Invented data"
    )
    assert sheet_words(EngineSheet("new")) == "new: sheet new, revision 1, transcribed from no document named yet"
    assert all("approved" not in sheet_words(sheet) for sheet in DEMO.values())
