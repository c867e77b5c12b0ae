"""Limits sheets as TOML: the values come back, every trouble has a path, and no file takes the machine down."""

import datetime as dt
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import replace
from typing import Any, get_type_hints

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_life import SheetLife, begun, compared, finished
from desktop.core.shop.sheets.sheets import SIGNED_FIELDS, EngineSheet, MagnetoSheet, Sheet, SheetDocument
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.typed_card import TypedEngine
from desktop.files.sheets import demo_sheets, read_sheet, read_whole_sheet, write_sheet
from desktop.files.shop_json import ShopJson
from tests.core.shop.sheets.sheet_cases import DEMO, FULL_ENGINE, FULL_MAGNETO
from tests.core.shop.some_orders import BY, LATER
from tests.files.shop_values import TEXTS, fields_of

FULL: dict[str, Sheet] = {"engine": FULL_ENGINE, "magneto": FULL_MAGNETO}
WHOLE = st.integers(-5, 999_999) | TEXTS


def engines() -> st.SearchStrategy[EngineSheet]:
    """Any engine sheet, with any typed text in it."""
    given_engine = fields_of(TypedEngine, cylinders=WHOLE, reference=WHOLE, firing_order=st.lists(WHOLE).map(tuple))
    return st.builds(EngineSheet, **_unsigned(EngineSheet, engine=st.none() | st.builds(TypedEngine, **given_engine)))


def magnetos() -> st.SearchStrategy[MagnetoSheet]:
    """Any magneto sheet, with any typed text in it."""
    return st.builds(MagnetoSheet, **_unsigned(MagnetoSheet))


def _unsigned(form: type, **instead: st.SearchStrategy[Any]) -> dict[str, st.SearchStrategy[Any]]:
    values = fields_of(form, revision=st.integers(1, 999_999), **instead)
    return {name: values[name] for name in get_type_hints(form) if name not in SIGNED_FIELDS}


def table_of(sheet: Sheet) -> dict[str, Any]:
    return tomllib.loads(write_sheet(sheet).decode("utf-8"))


def said_of(data: bytes | dict[str, Any]) -> str:
    """Return the one line with which a file is refused."""
    with pytest.raises(Refusal) as refused:
        read_whole_sheet(data if isinstance(data, bytes) else tomli_w.dumps(data).encode("utf-8"))
    said = refused.value.sentence
    assert said.startswith("sheet: ")
    assert said.isprintable()
    assert len(said) < 900
    return said.removeprefix("sheet: ")


@given(engines() | magnetos())
@settings(max_examples=80)
def test_that_a_sheet_comes_back_from_its_file_whatever_was_typed(sheet: Sheet) -> None:
    assert read_sheet(write_sheet(sheet)) == sheet
    assert write_sheet(read_sheet(write_sheet(sheet))) == write_sheet(sheet)


@given(engines() | magnetos())
@settings(max_examples=40)
def test_that_the_shop_files_text_gives_the_same_sheet_back(sheet: Sheet) -> None:
    text = ShopJson().write(sheet)
    assert ShopJson().read(text, type(sheet)) == sheet
    life = begun(sheet, BY)
    signed = compared(finished(life, BY), LATER, "")
    for one in (life, signed):
        assert ShopJson().read(ShopJson().write(one), SheetLife) == one


def test_that_a_damaged_sheet_in_the_shop_file_is_refused_by_name() -> None:
    with pytest.raises(Refusal, match="a damaged engine sheet: colour: this key is not known"):
        ShopJson().read('{"id":"x","colour":"red"}', EngineSheet)
    with pytest.raises(Refusal, match="a damaged sheet life"):
        ShopJson().read("[]", SheetLife)


def test_that_the_demo_has_sheets_for_its_engines_and_says_that_all_are_invented() -> None:
    sheets = demo_sheets()
    assert len(sheets) == 8
    assert all(sheet.invented and sheet.ignition == "magneto" for sheet in sheets)
    kinds = {sheet.configuration for sheet in sheets if isinstance(sheet, EngineSheet)}
    assert kinds == {"opposed", "radial"}
    geared = DEMO["marrow-six-g"]
    assert isinstance(geared, EngineSheet)
    assert geared.engine is not None
    assert geared.engine.propeller_turns_per_crank_turn == "2/3"
    listed = {row.part_number for one in sheets if isinstance(one, EngineSheet) for row in one.eligible or ()}
    held = {number for one in sheets if isinstance(one, MagnetoSheet) for number in one.part_numbers or ()}
    assert listed <= held


def test_that_a_written_sheet_says_its_source_and_that_it_is_not_the_data() -> None:
    text = write_sheet(FULL_MAGNETO).decode("utf-8")
    assert text.startswith(
        "# Limits sheet, transcribed from: Ostrin T2 service data OS-T2, revision 7, 2025-11-03.\n"
        "# The document governs; this sheet is not approved data.\n"
        "# Invented data: nothing here is data for a real engine or magneto.\n"
    )
    plain = write_sheet(replace(FULL_MAGNETO, invented=False, document=SheetDocument("a\nb = 1\r\u2028c")))
    assert b"Invented" not in plain
    assert plain.startswith(b"# Limits sheet, transcribed from: a b = 1  c.\n")
    assert b"no document named yet" in write_sheet(EngineSheet("new"))


def test_that_signatures_stay_in_the_shop_and_are_refused_in_a_file() -> None:
    signed = replace(FULL_MAGNETO, transcribed_by=Stamp("AB", BY.at), compared_by=LATER)
    assert read_sheet(write_sheet(signed)) == FULL_MAGNETO
    for name in SIGNED_FIELDS:
        assert said_of({**table_of(FULL_MAGNETO), name: "AB"}).startswith(f"{name}: this key is not known here")


def keys_of(value: object, path: str = "") -> Iterator[tuple[str, object]]:
    if path:
        yield path, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from keys_of(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for place, inner in enumerate(value, 1):
            yield from keys_of(inner, f"{path}[{place}]")


A_DAY = dt.date(2026, 1, 2)
WRONG_FOR: dict[type, list[Any]] = {
    str: [22, 22.5, True, ["22"], {"a": 1}, A_DAY, dt.time(1, 2)],
    int: [22.5, True, [2], {"a": 1}, A_DAY, 6.0, 10**18, -1],
    bool: [1, 0.5, "true", [True], {"a": True}, A_DAY],
    list: [1, "1", True, {"a": 1}, A_DAY],
    dict: [1, "1", True, [1], A_DAY],
}
KEYS = [(kind, path, type(value)) for kind, sheet in FULL.items() for path, value in keys_of(table_of(sheet))]


@pytest.mark.parametrize(("kind", "path", "type_"), KEYS, ids=[f"{kind} {path}" for kind, path, _ in KEYS])
def test_that_a_wrong_type_is_refused_at_its_key(kind: str, path: str, type_: type) -> None:
    for wrong in WRONG_FOR[type_]:
        table = deepcopy(table_of(FULL[kind]))
        here: Any = table
        steps = path.replace("]", "").replace("[", ".").split(".")
        for step in steps[:-1]:
            here = here[int(step) - 1] if step.isdigit() else here[step]
        last = steps[-1]
        here[int(last) - 1 if last.isdigit() else last] = wrong
        if isinstance(wrong, int) and wrong == 10**18 and path.endswith("revision"):
            continue  # tried below
        said = said_of(table)
        assert said.startswith((f"{path}:", f"{path}.a:", f"{path}[1]:", "engine.firing_order:")), (wrong, said)


def test_that_an_unknown_key_is_refused_in_every_table_by_its_path() -> None:
    for kind, sheet in FULL.items():
        places = [path for path, value in keys_of(table_of(sheet)) if isinstance(value, dict)]
        for place in ["", *places]:
            for key, shown in (
                ("cilinders", "cilinders"),
                ("a\nb", "a\\nb"),
                ("\u202e", "\\u202e"),
                ("k" * 300, "kkk"),
            ):
                table = deepcopy(table_of(sheet))
                here: Any = table
                for step in place.replace("]", "").replace("[", ".").split(".") if place else []:
                    here = here[int(step) - 1] if step.isdigit() else here[step]
                here[key] = "1"
                said = said_of(table)
                assert said.startswith(f"{place}.{shown}" if place else shown), (kind, said)
                assert "this key is not known here. Expected one of: " in said


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"format": 2}, "format: expected 1. This program reads limits sheets of format 1."),
        ({"format": True}, "format: expected 1."),
        ({"format": 1.0}, "format: expected 1."),
        ({"format": None}, "format: expected 1."),
        ({"kind": None}, 'kind: expected "engine" or "magneto".'),
        ({"kind": "electronic"}, 'kind: expected "engine" or "magneto". Electronic ignition is out of scope here.'),
        ({"kind": ["engine"]}, 'kind: expected "engine" or "magneto".'),
        (
            {"ignition": "electronic"},
            "ignition: expected \"magneto\", found 'electronic'. Electronic ignition is out of",
        ),
        ({"id": None}, "id: expected the name that the shop has for this sheet, nothing found."),
        ({"id": "Marrow Six"}, "id: expected up to 40 small letters"),
        ({"revision": 0}, "revision: expected a whole number from 1 to 999999."),
        ({"revision": 10**18}, "revision: expected a whole number from 1 to 999999."),
        ({"limits": {"left_btdc": "22°"}}, "limits.left_btdc: expected a number such as 22 or 0.5, 0 or more, found"),
        ({"limits": {"left_btdc": 22}}, "limits.left_btdc: expected text in quotes, found a whole number."),
        ({"limits": [1]}, "limits: expected a table, found a list."),
        ({"plug": [{"cylinder": 1.5}]}, "plug[1].cylinder: expected a whole number, found a number without quotes."),
        ({"plug": [{"cylinder": 10**25}]}, "plug[1].cylinder: expected a cylinder from 1 to 6, found a number that is"),
        (
            {"engine": {**table_of(FULL_ENGINE)["engine"], "firing_order": [1, "4"]}},
            "engine.firing_order: expected each",
        ),
    ],
)
def test_that_each_trouble_of_a_file_is_said_in_a_line_with_its_path(change: dict[str, Any], said: str) -> None:
    table = {key: value for key, value in {**table_of(FULL_ENGINE), **change}.items() if value is not None}
    assert said_of(table).startswith(said)


def test_that_a_decision_of_the_shop_is_no_part_of_a_sheet() -> None:
    table = table_of(FULL_ENGINE)
    table["limits"]["decision"] = "guarded"
    assert said_of(table).startswith("limits.decision: this key is not known here")


SOUND = write_sheet(FULL_ENGINE).decode("utf-8")
HOSTILE = {
    "too large": ("#" * (256 * 1024 + 1), "the file is larger than 256 KiB"),
    "a deep key": (SOUND + "\n" + ".".join("abcdefghi") + " = 1\n", "keys or brackets stand more than 8 deep"),
    "deep brackets": (SOUND + "\nx = " + "[" * 100_000, "keys or brackets stand more than 8 deep"),
    "deep tables": (SOUND + "\nx = " + "{a = " * 40_000, "keys or brackets stand more than 8 deep"),
    "a long number": (SOUND + "\nx = " + "9" * 5000, "the file is not valid TOML"),
    "a table twice": (SOUND + "\n[engine]\n", "the file is not valid TOML"),
    "words": ("about twenty-two", "the file is not valid TOML"),
    "nothing": ("", "format: expected 1."),
    "a readings file": ("format = 1\n[engine]\ncylinders = 4\n", "kind: expected"),
}


@pytest.mark.parametrize(("text", "said"), HOSTILE.values(), ids=HOSTILE)
def test_that_a_hostile_file_is_refused_in_one_line(text: str, said: str) -> None:
    assert said_of(text.encode("utf-8")).startswith(said)


def test_that_what_is_not_utf_8_is_refused_and_a_mark_of_byte_order_is_not() -> None:
    assert said_of(b"\xff\xfe").startswith("the file is not UTF-8 text")
    assert read_sheet(b"\xef\xbb\xbf" + write_sheet(FULL_ENGINE)) == FULL_ENGINE


def test_that_a_list_longer_than_any_sheet_needs_is_refused_before_it_is_looked_through() -> None:
    for key, entry in (
        *((key, "{}") for key in ("eligible", "plug", "torque", "interval")),
        *((key, '"a"') for key in ("types", "tdc_accessory")),
    ):
        rows = f"{key} = [" + f"{entry}," * 10_000 + "]\n"
        table = {name: value for name, value in table_of(FULL_ENGINE).items() if name != key}
        said = said_of((rows + tomli_w.dumps(table)).encode("utf-8"))
        assert said.startswith(f"{key}: expected at most 100 entries, found 10000.")


@given(st.binary(max_size=200))
def test_that_no_bytes_do_anything_but_be_refused(data: bytes) -> None:
    with pytest.raises(Refusal, match="sheet: "):
        read_whole_sheet(data)
