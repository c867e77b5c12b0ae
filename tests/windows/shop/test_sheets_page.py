"""Limits sheets in their window: entered, finished, compared by a second person, revised, in and out of files."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.app import application, bench_of
from desktop.core.shop.sheets.sheet_choices import SheetKind
from desktop.core.shop.sheets.sheet_life import SheetState
from desktop.core.shop.sheets.sheet_paths import typed_rows
from desktop.core.shop.sheets.sheets import MagnetoSheet
from desktop.files.sheets import demo_sheets, read_whole_sheet, write_sheet
from desktop.storage.shop_store import new_shop
from desktop.usecases.shop.lists.sheets import import_sheet, see_sheet
from desktop.usecases.shop.lists.sheets import write_sheet as write_draft
from desktop.viewmodels.shop.sheet_fields import columns_of, empty_sheet, label_of
from desktop.viewmodels.shop.sheets_desk import SheetsDesk
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.compare_page import ComparePage
from desktop.windows.shop.sheet_form_page import SheetFormPage
from desktop.windows.shop.sheets_page import SheetsPage
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.records.acting_floor import PHRASES, ActingFloor

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with its people."""
    place = tmp_path_factory.mktemp("sheets") / "trial.shop"
    with new_shop(place, "Trial Works", TEXT, QUIET) as file:
        ActingFloor(file, None).staffed()
    return place


@pytest.fixture
def floor(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ActingFloor]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with opened(Path(shutil.copy(made, tmp_path / "trial.shop"))) as file:
        yield ActingFloor(file, None)


class Keeper:
    """Somebody at the page of the sheets."""

    def __init__(self, qtbot: QtBot, floor: ActingFloor, person: str = "KEEP") -> None:
        application()
        self.floor = floor
        self.person = person
        ids = count()
        self.desk = SheetsDesk(floor.shop, bench_of(floor.shop), lambda: self.person, lambda: f"{id(self)}-{next(ids)}")
        self.page = SheetsPage(self.desk, Look())
        self.page.setStyleSheet(Look().sheet())
        self.page.resize(1280, 760)
        qtbot.addWidget(self.page)
        self.page.show()
        self.page.activateWindow()
        self.settle()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.page, key, held)
        self.settle()

    def fill(self, *texts: str) -> None:
        for text in texts:
            QTest.keyClicks(QApplication.focusWidget() or self.page, text)
            self.press(Qt.Key.Key_Return)

    def at(self) -> str:
        widget = QApplication.focusWidget()
        return widget.accessibleName() if widget else ""

    def form(self) -> SheetFormPage:
        assert isinstance(self.page.form_page, SheetFormPage)
        return self.page.form_page

    def message(self) -> str:
        return self.page.list_page.foot.message.text()

    def trouble(self) -> str:
        """Return what the dialog says; nothing when it is gone."""
        return self.page.dialog.said.text() if self.page.dialog is not None else ""

    def sign(self, secret: str = "") -> None:
        """Type the secret of the person into the dialog and sign."""
        dialog = self.page.dialog
        assert dialog is not None
        assert dialog.secret.hasFocus()
        dialog.secret.setText(secret or PHRASES[self.person])  # QTest types no letters beyond ASCII
        self.press(Qt.Key.Key_Return)
        if self.page.dialog is None:
            self.page.activateWindow()
            self.settle()

    @staticmethod
    def settle() -> None:
        for _ in range(6):
            QApplication.processEvents()


def test_that_a_sheet_is_begun_by_keys_and_each_field_is_kept_at_once(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.page.list_page.foot.act.click()
    keeper.settle()
    assert keeper.at() == "New sheet: It is about"
    keeper.fill("m", "trial-two")
    keeper.press(Qt.Key.Key_Return)
    assert keeper.at() == "Sheet: Part number"
    keeper.fill("TT-2")
    assert see_sheet(floor.file, "trial-two").sheet.part_numbers == ("TT-2",)  # type: ignore[union-attr]
    assert keeper.at() == "Sheet: Part number"
    keeper.fill("TT-2A")
    sheet = see_sheet(floor.file, "trial-two").sheet
    assert isinstance(sheet, MagnetoSheet)
    assert sheet.part_numbers == ("TT-2", "TT-2A")
    assert "part_numbers[3]" in keeper.form().rows


def test_that_a_draft_with_faults_is_kept_and_not_finished(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.desk.begin("trial-two", SheetKind.MAGNETO)
    keeper.page.open_sheet("trial-two")
    keeper.settle()
    row = keeper.form().rows["magneto.e_gap"]
    row.editor.setFocus()
    keeper.fill("about ten")
    assert row.editor.property("wrong") is True
    assert "a number" in row.editor.accessibleDescription()
    keeper.press(Qt.Key.Key_Return, CTRL)
    assert see_sheet(floor.file, "trial-two").state is SheetState.DRAFT
    assert keeper.form().foot.message.text().startswith("This is not kept yet")
    assert keeper.form().rows["document.title"].editor.property("wrong") is True
    assert keeper.at() == "Sheet: Part number"


def taken_in(floor: ActingFloor, place: int = 0) -> str:
    sheet = demo_sheets()[place]
    import_sheet(floor.shop, floor.by("KEEP"), sheet)
    return sheet.id


def test_that_a_sheet_is_finished_compared_group_by_group_and_revised(qtbot: QtBot, floor: ActingFloor) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    keeper.press(Qt.Key.Key_Return)
    keeper.press(Qt.Key.Key_Return, CTRL)
    keeper.sign("not the secret at all")
    assert "secret" in keeper.trouble()
    floor.clock.move(60)
    keeper.sign()
    assert keeper.trouble() == ""
    assert keeper.message() == f"Sheet {name} is signed."
    keeper.person = "MECH"
    keeper.press(Qt.Key.Key_Return)
    assert not keeper.form().rows["document.title"].editor.isEnabled()
    keeper.form().foot.act.click()
    keeper.settle()
    page = keeper.page.form_page
    assert isinstance(page, ComparePage)
    page.foot.act.click()
    keeper.settle()
    assert page.foot.message.text().startswith("This is not kept yet")
    groups = [row for path, row in page.rows.items() if path.startswith("ok.")]
    groups[0].editor.setFocus()
    for row in groups:
        assert row.editor.hasFocus(), (row.field.path, keeper.at())
        keeper.press(Qt.Key.Key_Space)
        keeper.press(Qt.Key.Key_Return)
    assert page.foot.act.hasFocus()
    keeper.press(Qt.Key.Key_Return)
    keeper.sign()
    assert keeper.message() == f"Sheet {name} is signed."
    kinds = [envelope.kind for envelope in floor.file.envelopes()]
    assert kinds[-2:] == ["limits sheet", "limits sheet"]
    life = see_sheet(floor.file, name)
    assert life.sheet.compared_by is not None
    assert life.sheet.compared_by.person == "MECH"
    keeper.person = "KEEP"
    keeper.press(Qt.Key.Key_Return)
    keeper.form().foot.act.click()
    keeper.settle()
    assert see_sheet(floor.file, name).sheet.revision == 2
    assert keeper.form().foot.act.text() == "Finish the transcription"


def test_that_a_sheet_that_differs_goes_back_and_says_what_the_document_says(qtbot: QtBot, floor: ActingFloor) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    assert keeper.desk.finish(see_sheet(floor.file, name))
    keeper.person = "MECH"
    keeper.page.open_comparison(see_sheet(floor.file, name))
    keeper.settle()
    page = keeper.page.form_page
    assert isinstance(page, ComparePage)
    page.rows["differs.limits.left_btdc"].editor.setFocus()
    keeper.fill("24")
    keeper.press(Qt.Key.Key_Return, CTRL)
    assert keeper.message() == f"Sheet {name} goes back to a draft."
    keeper.page.open_sheet(name)
    keeper.settle()
    assert keeper.form().returned.text() == "It was sent back: limits.left_btdc: the document says 24"


def test_that_whoever_typed_a_sheet_does_not_compare_it(qtbot: QtBot, floor: ActingFloor) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    assert keeper.desk.finish(see_sheet(floor.file, name))
    form = keeper.desk.compare_form(see_sheet(floor.file, name))
    assert any(field.path == "reason" for field in form.fields())
    said: list[str] = []
    keeper.desk.refused.connect(said.append)
    life = see_sheet(floor.file, name)
    groups = [field.path.removeprefix("ok.") for field in form.fields() if field.path.startswith("ok.")]
    assert not keeper.desk.compare(life, groups, (), "")
    assert "does not compare it" in said[-1]


def test_that_what_another_window_typed_is_not_written_over(qtbot: QtBot, floor: ActingFloor) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    keeper.page.open_sheet(name)
    keeper.settle()
    life = see_sheet(floor.file, name)
    write_draft(floor.shop, floor.by("KEEP", life.version), replace(life.sheet, ignition="spark"))
    row = keeper.form().rows["document.number"]
    row.editor.setFocus()
    row.editor.selectAll()  # type: ignore[union-attr]
    keeper.fill("NEW-7")
    assert "not as you saw it" in keeper.form().foot.message.text()
    assert row.value() == "NEW-7"
    assert keeper.page.is_begun
    document = see_sheet(floor.file, name).sheet.document
    assert document is not None
    assert document.number == life.sheet.document.number  # type: ignore[union-attr]


def test_that_sheets_go_out_to_a_file_and_come_in_from_one(qtbot: QtBot, floor: ActingFloor, tmp_path: Path) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    out = tmp_path / "out.toml"
    assert keeper.desk.write_out(name, out)
    assert read_whole_sheet(out.read_bytes()) == replace(demo_sheets()[0], revision=1)
    assert keeper.message() == f"Sheet {name} is in out.toml."
    other = tmp_path / "in.toml"
    other.write_bytes(write_sheet(replace(demo_sheets()[1], id="from-a-file")))
    assert keeper.desk.take_in(other)
    assert see_sheet(floor.file, "from-a-file").state is SheetState.DRAFT
    other.write_bytes(b"no sheet")
    assert not keeper.desk.take_in(other)
    assert keeper.message().startswith("in.toml: ")
    keeper.page.take_in.click()
    keeper.settle()
    dialog = keeper.page.findChild(QFileDialog)
    assert dialog is not None
    assert dialog.isVisible()
    dialog.reject()
    keeper.page.write_out.click()
    keeper.settle()
    for one in keeper.page.findChildren(QFileDialog):
        one.reject()


@pytest.mark.parametrize("kind", SheetKind)
def test_that_every_key_of_a_sheet_has_its_field_and_a_name_of_its_own(kind: SheetKind) -> None:
    columns = columns_of(empty_sheet("trial", kind))
    fields = [field for column in columns for group in column for field in group.fields]
    names = [label_of(field.path) for field in fields]
    assert len(set(names)) == len(names)
    for sheet in demo_sheets():
        if sheet.kind is kind:
            there = {field.path for column in columns_of(sheet) for group in column for field in group.fields}
            assert {path for path, _ in typed_rows(sheet)} <= there


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_every_field_of_a_sheet_is_named_in_any_look(qtbot: QtBot, floor: ActingFloor, look: Look) -> None:
    name = taken_in(floor)
    keeper = Keeper(qtbot, floor)
    keeper.page.setStyleSheet(look.sheet())
    keeper.page.set_look(look)
    keeper.page.open_sheet(name)
    keeper.settle()
    names = [row.editor.accessibleName() for row in keeper.form().rows.values()]
    assert all(names)
    assert keeper.page.width() == 1280


def test_that_the_list_keeps_the_rules_of_item_models(
    qtbot: QtBot, floor: ActingFloor, qtmodeltester: ModelTester
) -> None:
    taken_in(floor)
    keeper = Keeper(qtbot, floor)
    qtmodeltester.check(keeper.desk.model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays
    taken_in(floor, 1)
    keeper.desk.look()
    assert keeper.desk.model.rowCount() == 2
