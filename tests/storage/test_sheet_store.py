"""Limits sheets in the shop file: drafts change by versions, compared revisions stay as they were."""

import ast
import gzip
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.shop.sheets.sheet_life import SheetLife, begun, compared, finished, revised, written
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.core.shop.sheets.sheets import EngineSheet, Sheet
from desktop.files.shop_json import ShopJson, digest_of
from desktop.storage.shop_store import ShopFile
from desktop.storage.steps import sheet_tables
from desktop.usecases.shop.lists.sheets import import_sheet, list_sheets, see_sheet, write_sheet
from desktop.usecases.shop.ports import Request
from tests.core.shop.sheets.sheet_cases import DEMO, FULL_ENGINE, FULL_MAGNETO, changed
from tests.core.shop.some_orders import BY, LATER
from tests.storage.file_floor import FileFloor, made, opened, sql

ID = FULL_ENGINE.id
BOTH: tuple[Sheet, ...] = (FULL_ENGINE, FULL_MAGNETO)


def versions(sheet: Sheet) -> tuple[SheetLife, SheetLife, SheetLife]:
    """Return a sheet as a draft, finished and compared, a version each."""
    draft = begun(sheet, BY)
    done = replace(finished(draft, BY), version=2)
    return draft, done, replace(compared(done, LATER, ""), version=3)


def put(store: ShopFile, sheet: Sheet) -> SheetPin:
    """Keep a sheet from its draft to its comparison."""
    with store.changing() as work:
        for life in versions(sheet):
            work.put_sheet_life(life)
        return work.put_compared_sheet(life.sheet)


def put_half(store: ShopFile) -> None:
    """Keep a draft, and go wrong in the same transaction."""
    with store.changing() as work:
        work.put_sheet_life(versions(FULL_ENGINE)[0])
        work.put_compared_sheet(FULL_ENGINE)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    place = tmp_path / "sheets.shop"
    made(place).close()
    return place


def test_that_sheets_come_back_after_the_file_was_closed(file: Path) -> None:
    with opened(file) as store:
        pins = [put(store, sheet) for sheet in BOTH]
    with opened(file) as store:
        assert store.sheet_lives() == tuple(versions(sheet)[2] for sheet in BOTH)
        assert store.sheet_life(ID) == versions(FULL_ENGINE)[2]
        assert store.sheet_life("none") is None
        for pin, sheet in zip(pins, BOTH, strict=True):
            kept = versions(sheet)[2].sheet
            assert store.pinned_sheet(pin) == store.newest_sheet(pin.sheet) == kept
            assert store.sheet_pins(pin.sheet) == (pin,)
            assert pin.digest == digest_of(ShopJson().write(kept))
        assert store.newest_sheet("none") is None
        assert store.faults() == ()


def test_that_a_transaction_sees_and_keeps_sheets(file: Path) -> None:
    with opened(file) as store:
        pin = put(store, FULL_ENGINE)
        third = versions(FULL_ENGINE)[2]
        with store.changing() as work:
            assert (work.sheet_life(ID), work.sheet_lives()) == (third, (third,))
            assert (work.sheet_pins(ID), work.newest_sheet(ID)) == ((pin,), third.sheet)
            assert work.pinned_sheet(pin) == third.sheet
            work.put_sheet_life(replace(revised(third, BY), version=4))
            assert work.proof is not None
        assert store.sheet_pins(ID) == (pin,)
        life = store.sheet_life(ID)
        assert life is not None
        assert (life.sheet.revision, life.version) == (2, 4)
    with pytest.raises(ValueError, match="this transaction is over"):
        work.sheet_life(ID)


def test_that_what_an_exception_leaves_is_thrown_away(file: Path) -> None:
    with opened(file) as store:
        with pytest.raises(ValueError, match="only a compared"):
            put_half(store)
        assert store.sheet_lives() == ()


def test_that_a_version_or_a_signature_that_is_left_out_is_an_error_of_the_program(file: Path) -> None:
    draft, done, third = versions(FULL_ENGINE)
    with opened(file) as store:
        for life in (done, third):
            with pytest.raises(ValueError, match="a version is left out"), store.changing() as work:
                work.put_sheet_life(life)
        with store.changing() as work:
            work.put_sheet_life(draft)
        with pytest.raises(ValueError, match="a version is left out"), store.changing() as work:
            work.put_sheet_life(written(draft, FULL_ENGINE, BY))
        for life in (draft, done):
            with pytest.raises(ValueError, match="only a compared revision"), store.changing() as work:
                work.put_compared_sheet(life.sheet)


BREAKS = {
    "a revision changed": "UPDATE sheet_revision SET text = '{}'",
    "a revision erased": "DELETE FROM sheet_revision",
    "a revision twice": "INSERT OR REPLACE INTO sheet_revision SELECT * FROM sheet_revision",
    "a revision left out": (
        "INSERT INTO sheet_revision (id, revision, digest, kind, text) "
        "SELECT id, revision + 2, digest, kind, text FROM sheet_revision"
    ),
    "a revision of no sheet": (
        "INSERT INTO sheet_revision (id, revision, digest, kind, text) VALUES ('none', 1, '', 'engine', '')"
    ),
    "a sheet erased": "DELETE FROM sheet",
    "a version left out": "UPDATE sheet SET version = version + 2",
    "another id": "UPDATE sheet SET id = 'other', version = version + 1",
    "a sheet replaced": "INSERT OR REPLACE INTO sheet SELECT * FROM sheet",
    "a sheet that begins late": "INSERT INTO sheet (id, version, text) VALUES ('late', 2, '')",
}


@pytest.mark.parametrize("statement", BREAKS.values(), ids=BREAKS)
def test_that_the_file_itself_stops_accidents(file: Path, statement: str) -> None:
    with opened(file) as store:
        put(store, FULL_ENGINE)
    before = sql(file, "SELECT * FROM sheet"), sql(file, "SELECT * FROM sheet_revision")
    with pytest.raises(sqlite3.IntegrityError):
        sql(file, "PRAGMA foreign_keys = ON", statement)
    assert (sql(file, "SELECT * FROM sheet"), sql(file, "SELECT * FROM sheet_revision")) == before


def without_guards(file: Path, statement: str) -> None:
    """Change a revision as somebody with a database tool would, and put the triggers back."""
    guards = sql(file, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'sheet_revision'")
    drops = [f"DROP TRIGGER {name}" for name, _ in guards]
    sql(file, *drops, statement, *(text for _, text in guards))


OTHER_TEXT = ShopJson().write(versions(FULL_MAGNETO)[2].sheet)
OTHER_SHEET = f"UPDATE sheet_revision SET kind = 'magneto', text = '{OTHER_TEXT}', digest = '{digest_of(OTHER_TEXT)}'"  # noqa: S608 - a test's own
DAMAGES: dict[str, tuple[str, str]] = {
    "another limit": ("UPDATE sheet_revision SET text = replace(text, '20', '25')", "is not as it was compared"),
    "text and digest of another": (
        OTHER_SHEET,
        "is not as it was compared",
    ),
    "another digest": ("UPDATE sheet_revision SET digest = upper(digest)", "is not as it was compared"),
    "another kind": ("UPDATE sheet_revision SET kind = 'electronic'", "is not as it was compared"),
    "gone": ("DELETE FROM sheet_revision", "is missing"),
}


@pytest.mark.parametrize(("statement", "words"), DAMAGES.values(), ids=DAMAGES)
def test_that_a_revision_that_is_not_as_it_was_pinned_is_refused(file: Path, statement: str, words: str) -> None:
    with opened(file) as store:
        pin = put(store, FULL_ENGINE)
    without_guards(file, statement)
    with opened(file) as store, pytest.raises(Refusal, match=f"damaged limits sheet: {ID}, revision 1, {words}"):
        store.pinned_sheet(pin)


def test_that_a_text_under_the_name_of_another_sheet_is_refused(file: Path) -> None:
    with opened(file) as store:
        put(store, FULL_ENGINE)
    without_guards(file, OTHER_SHEET)
    with opened(file) as store, pytest.raises(Refusal, match="is another sheet's"):
        store.pinned_sheet(SheetPin(ID, 1, digest_of(OTHER_TEXT)))


@pytest.mark.parametrize("revision", [0, -1, 2, 2**70])
def test_that_a_revision_that_never_was_is_missing(file: Path, revision: int) -> None:
    with opened(file) as store:
        pin = put(store, FULL_ENGINE)
        with pytest.raises(Refusal, match="is missing"):
            store.pinned_sheet(replace(pin, revision=revision))


def test_that_two_windows_on_one_file_lose_nothing(file: Path) -> None:
    with opened(file) as one, opened(file) as other:
        left, right = FileFloor(one), FileFloor(other)
        write_sheet(left.shop, left.new("KEEP"), FULL_ENGINE)
        seen = see_sheet(other, ID).version
        write_sheet(left.shop, Request("left", "KEEP", seen), changed(FULL_ENGINE, ("limits.left_btdc", "21")))
        with pytest.raises(Refusal, match="is not as you saw it"):
            write_sheet(right.shop, Request("right", "KEEP", seen), FULL_ENGINE)
        life = see_sheet(other, ID)
        assert isinstance(life.sheet, EngineSheet)
        assert life.sheet == changed(FULL_ENGINE, ("limits.left_btdc", "21"))


def test_that_the_demos_sheets_all_find_their_place(file: Path) -> None:
    with opened(file) as store:
        floor = FileFloor(store)
        for sheet in DEMO.values():
            import_sheet(floor.shop, floor.new("KEEP"), sheet)
        assert [line.id for line in list_sheets(store)] == sorted(DEMO)
        assert {life.sheet.id: life.sheet for life in store.sheet_lives()} == DEMO


ASKS: dict[str, Callable[[ShopFile], object]] = {
    "life": lambda store: store.sheet_life(ID),
    "lives": lambda store: store.sheet_lives(),
}


@pytest.mark.parametrize("ask", ASKS.values(), ids=ASKS)
def test_that_a_damaged_draft_is_refused_in_plain_words(file: Path, ask: Callable[[ShopFile], object]) -> None:
    with opened(file) as store:
        put(store, FULL_ENGINE)
    sql(file, "UPDATE sheet SET text = '{}', version = version + 1")
    with opened(file) as store, pytest.raises(Refusal, match="The shop file holds a damaged sheet life"):
        ask(store)


def test_that_a_file_from_before_there_were_sheets_takes_them(tmp_path: Path) -> None:
    place = tmp_path / "old.shop"
    place.write_bytes(gzip.decompress((Path(__file__).parent / "old_files" / "version_1.shop.gz").read_bytes()))
    with opened(place) as store:
        assert store.sheet_lives() == ()
        pin = put(store, FULL_ENGINE)
        assert store.sheet_pins(ID) == (pin,)
        assert store.faults() == ()


def test_that_the_step_imports_nothing_of_ours() -> None:
    tree = ast.parse(Path(sheet_tables.__file__).read_text("utf-8"))
    taken = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    taken |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert taken == {"sqlite_utils"}
