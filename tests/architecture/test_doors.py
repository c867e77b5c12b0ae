"""The law of doors, over the syntax trees: what no import contract can say."""

import ast

import pytest

from tests.architecture.sources import HOUSE, PACKAGES, comes_from, imports_of, name_of, source_files, tree_of

# Values, numbers and text: nothing that reads a file, a clock, chance or the outside.
CORE_MAY = {
    "bisect",
    "calendar",
    "collections",
    "dataclasses",
    "datetime",
    "decimal",
    "enum",
    "fractions",
    "functools",
    "hashlib",
    "itertools",
    "json",
    "math",
    "operator",
    "re",
    "string",
    "textwrap",
    "typing",
    "unicodedata",
}
CORE_CALLS_NOT = {"open", "print", "input", "eval", "exec", "compile", "__import__", "breakpoint", "globals"}
CORE_ASKS_NOT = {"now", "utcnow", "today", "fromtimestamp", "read_text", "write_text", "read_bytes", "write_bytes"}
# Each outside library has one room.
ROOMS = {
    "click": ("desktop/commands/", "desktop/__main__.py"),
    "cryptography": ("desktop/signing",),
    "msgspec": ("desktop/files/",),
    "platformdirs": ("desktop/files/", "desktop/assembly.py", "desktop/shop_assembly.py"),
    "pypdfium2": ("reports/",),
    "PySide6": ("desktop/windows/", "desktop/viewmodels/"),
    "reportlab": ("reports/",),
    "sqlite3": ("desktop/storage/",),
    "sqlite_utils": ("desktop/storage/",),
    "tomli_w": ("desktop/files/",),
    "tomllib": ("desktop/files/",),
}
MOST_LINES = 500


@pytest.mark.parametrize("place", source_files("desktop/core"), ids=name_of)
def test_that_the_core_imports_values_and_numbers_and_nothing_else(place: object) -> None:
    from pathlib import Path  # noqa: PLC0415 - only for the check of the type

    assert isinstance(place, Path)
    strangers = {
        imported
        for imported in imports_of(place)
        if not comes_from(imported, "desktop.core") and imported.split(".")[0] not in CORE_MAY
    }
    assert strangers == set()


def test_that_the_core_reads_no_file_clock_or_person() -> None:
    asked = []
    for place in source_files("desktop/core"):
        for node in ast.walk(tree_of(place)):
            if isinstance(node, ast.Call):
                called = node.func
                if isinstance(called, ast.Name) and called.id in CORE_CALLS_NOT:
                    asked.append(f"{name_of(place)}:{node.lineno} {called.id}")
                if isinstance(called, ast.Attribute) and called.attr in CORE_ASKS_NOT:
                    asked.append(f"{name_of(place)}:{node.lineno} {called.attr}")
    assert asked == []


@pytest.mark.parametrize("library", ROOMS)
def test_that_an_outside_library_stays_in_its_room(library: str) -> None:
    users = {
        name_of(place)
        for place in source_files(*PACKAGES)
        if any(comes_from(imported, library) for imported in imports_of(place))
    }
    assert {user for user in users if not user.startswith(ROOMS[library])} == set()


def test_that_widgets_live_in_windows_only() -> None:
    for place in source_files(*PACKAGES):
        taken = {imported for imported in imports_of(place) if comes_from(imported, "PySide6.QtWidgets")}
        assert not taken or name_of(place).startswith("desktop/windows/"), name_of(place)


def test_that_view_models_use_the_core_of_qt_only() -> None:
    for place in source_files("desktop/viewmodels"):
        qt = {imported for imported in imports_of(place) if comes_from(imported, "PySide6") and imported != "PySide6"}
        assert all(comes_from(imported, "PySide6.QtCore") for imported in qt), name_of(place)


def test_that_the_vocabularies_of_paper_and_drawing_are_plain() -> None:
    for name in ("document", "drawing"):
        strangers = {
            imported
            for imported in imports_of(HOUSE / "reports" / f"{name}.py")
            if imported.split(".")[0] in {*ROOMS, "desktop", "resources"}
        }
        assert strangers == set()
    assert (HOUSE / "reports" / "__init__.py").read_text("utf-8").count("import") == 0


@pytest.mark.parametrize("folder", [*PACKAGES, "tests"])
def test_that_no_file_is_longer_than_five_hundred_lines(folder: str) -> None:
    long = {
        name_of(place): lines
        for place in source_files(folder)
        if (lines := place.read_text("utf-8").count("\n")) > MOST_LINES
    }
    assert long == {}


def test_that_every_test_is_named_by_a_sentence_without_empty_words() -> None:
    empty = ("works", "correctly", "as_expected", "handled", "handles")
    for place in source_files("tests"):
        for node in ast.walk(tree_of(place)):
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
                words = node.name.split("_")
                assert len(words) > 3, f"{name_of(place)}: {node.name}"
                assert not any(f"_{word}" in f"_{node.name}_" and word in node.name for word in empty), node.name
