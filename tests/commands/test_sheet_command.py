"""``sparkwright sheet``: lists, takes in and writes out the limits sheets of a shop."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from desktop import shop_assembly
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_life import SheetState
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.files.sheets import read_sheet
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet, see_sheet
from desktop.usecases.shop.ports import Request
from tests.commands.test_commands import Runner, run
from tests.core.shop.sheets.sheet_cases import DEMO

__all__ = ["run"]

SHEETS = Path(__file__).parents[2] / "resources" / "demo" / "sheets"
SIX = SHEETS / "marrow-six.toml"
TEXT = SIX.read_text("utf-8")


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    made = tmp_path / "quarry-lane.shop"
    shop_assembly.make_shop(made, "Quarry Lane Aero Works", "Lena Ode", "LO")
    return made


def add_person(place: Path, initials: str, right: Right) -> None:
    with shop_assembly.shop_at(place) as shop:
        person = Person(initials, f"Person {initials}", (right,), date(2020, 1, 1))
        keep_person(shop, Request(shop_assembly.new_id(), "LO"), person)


def test_that_a_sheet_is_taken_in_listed_and_written_out_with_the_same_values(run: Runner, place: Path) -> None:
    assert run("sheet", place, "list") == (0, "", "")
    taken = run("sheet", place, "import", SIX)
    assert (taken.status, taken.err) == (0, "")
    assert taken.out.startswith("Sheet marrow-six, revision 1, is in the shop as a draft.")
    assert "have a second person compare it" in taken.out
    assert run("sheet", place, "list").out == (
        "marrow-six  revision 1 draft  none is current  "
        "Marrow Six maintenance handbook MM-6, revision 9, 2026-02-02  INVENTED\n"
    )
    shown = run("sheet", place, "export", "marrow-six")
    assert shown.out.startswith("# Limits sheet, transcribed from: Marrow Six maintenance handbook")
    assert read_sheet(shown.out.encode("utf-8")) == DEMO["marrow-six"]
    assert run("sheet", place, "export", "marrow-six", "-o", "out.toml") == (0, "", "")
    assert (place.parent / "out.toml").read_text("utf-8") == shown.out


def test_that_a_compared_sheet_is_current_and_taking_it_in_again_is_its_next_revision(run: Runner, place: Path) -> None:
    run("sheet", place, "import", SIX)
    add_person(place, "MM", Right.MECHANIC)
    groups = tuple(name for name, _ in sheet_groups(DEMO["marrow-six"]))
    with shop_assembly.shop_at(place) as shop:
        finish_sheet(shop, Request("f", "LO", 1), "marrow-six")
        compare_sheet(shop, Request("c", "MM", 2), "marrow-six", groups)
    assert "revision 1 compared  revision 1 is current" in run("sheet", place, "list").out
    assert "revision 2, is in the shop as a draft" in run("sheet", place, "import", SIX).out
    assert "revision 2 draft  revision 1 is current" in run("sheet", place, "list").out
    with shop_assembly.shop_at(place) as shop:
        life = see_sheet(shop.store, "marrow-six")
    assert (life.state, life.sheet) == (SheetState.DRAFT, replace(DEMO["marrow-six"], revision=2))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (TEXT.replace('left_btdc = "23"', 'left_btdc = "23°"'), "sheet: limits.left_btdc: expected a number"),
        (TEXT.replace('left_btdc = "23"', "left_btdc = 23"), "sheet: limits.left_btdc: expected text"),
        (TEXT.replace('ignition = "magneto"', 'ignition = "electronic"'), "sheet: ignition: expected"),
        ("x = ", "sheet: the file is not valid TOML"),
        ("", "sheet: format: expected 1."),
    ],
)
def test_that_a_file_that_is_no_sound_sheet_is_refused_in_one_line(
    run: Runner, place: Path, text: str, said: str
) -> None:
    bad = place.parent / "bad.toml"
    bad.write_text(text, "utf-8")
    ran = run("sheet", place, "import", bad)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert run("sheet", place, "list").out == ""


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("export", "none"), 'There is no sheet "none" in this shop.'),
        (("import", "missing.toml"), "cannot be read"),
        (("import",), "Missing argument"),
        ((), "Missing command"),
        (("weigh",), "No such command"),
        (("import", SIX, "--by", "XX"), '"XX" is not on the roster'),
    ],
)
def test_that_what_cannot_be_done_is_said_in_one_line(
    run: Runner, place: Path, words: tuple[object, ...], said: str
) -> None:
    ran = run("sheet", place, *words)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1


def test_that_a_draft_is_not_written_over(run: Runner, place: Path) -> None:
    run("sheet", place, "import", SIX)
    ran = run("sheet", place, "import", SIX)
    assert ran.status == 2
    assert "Sheet marrow-six is a draft in this shop, and nothing is written over." in ran.err


def test_that_whoever_takes_a_sheet_in_is_named_where_several_may(run: Runner, place: Path) -> None:
    add_person(place, "RK", Right.RECORDS)
    ran = run("sheet", place, "import", SIX)
    assert ran.status == 2
    assert "2 people may write limits sheets. Name one who is a records keeper with --by INITIALS." in ran.err
    assert run("sheet", place, "import", SIX, "--by", "RK").status == 0
    with shop_assembly.shop_at(place) as shop:
        assert see_sheet(shop.store, "marrow-six").written_by == ("RK",)


def test_that_a_place_that_is_no_shop_is_refused(run: Runner, tmp_path: Path) -> None:
    ran = run("sheet", tmp_path / "none.shop", "list")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.count("\n") == 1
