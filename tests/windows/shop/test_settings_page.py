"""The shop's settings by the keyboard of the records keeper."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from desktop.core.shop.settings import ShopSettings
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.settings_page import WAITS, SettingsPage
from tests.usecases.shop.shop_floor import Floor
from tests.windows.manners_floor import Sitting

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def sitting(qtbot: QtBot) -> Sitting:
    made = Sitting(qtbot, Floor(), "KEEP")
    made.press(Qt.Key.Key_7, CTRL)
    return made


def page_of(sitting: Sitting) -> SettingsPage:
    page = sitting.window.pages["Settings"]
    assert isinstance(page, SettingsPage)
    return page


def write(sitting: Sitting, path: str, text: str) -> None:
    editor = page_of(sitting).entry.rows[path].editor
    editor.setFocus()
    if isinstance(editor, QLineEdit):
        editor.selectAll()
    sitting.type(text)


def test_that_everything_is_kept_with_one_key(sitting: Sitting, tmp_path: Path) -> None:
    page = page_of(sitting)
    assert sitting.at().endswith(": Name")
    write(sitting, "name", "Mill Shop")
    write(sitting, "airworthy", "I certify that it was inspected and found airworthy.")
    write(sitting, "decision", "gu")
    page.entry.rows["second_person"].editor.setFocus()
    sitting.press(Qt.Key.Key_Space)
    write(sitting, "paper", "a")
    write(sitting, "units", "si")
    write(sitting, "backup_place", str(tmp_path))
    write(sitting, "idle_lock", "12")
    sitting.press(Qt.Key.Key_Return, CTRL)
    store = sitting.floor.store
    assert page.entry.foot.message.text() == "The settings are kept."
    assert store.settings() == ShopSettings("guarded", False, "a4", "SI", str(tmp_path), 12, 1)
    assert store.shop_details().name == "Mill Shop"
    assert store.shop_details().airworthy.startswith("I certify")
    assert not page.is_begun


@pytest.mark.parametrize(
    ("path", "text", "said"),
    [
        ("idle_lock", "0", "Write the minutes after which the window locks, 1 to 120."),
        ("idle_lock", "five", "Write the minutes after which the window locks, 1 to 120."),
        ("idle_lock", "9999", "Write the minutes after which the window locks, 1 to 120."),
        ("backup_place", "copies", "There is no such folder. Write its whole place, from the top folder on."),
        ("backup_place", "/nowhere/at/all", "There is no such folder. Write its whole place, from the top folder on."),
        ("station_certificate", "QLZR", "Only a repair station has such a number."),
        ("name", " ", "The shop has no name."),
    ],
)
def test_that_what_is_wrong_is_said_at_its_field_and_nothing_is_kept(
    sitting: Sitting, path: str, text: str, said: str
) -> None:
    page = page_of(sitting)
    write(sitting, path, text)
    sitting.press(Qt.Key.Key_Return, CTRL)
    field = page.entry.rows[path].field
    assert page.form.fault_at(field).startswith(said)
    assert page.entry.rows[path].editor.hasFocus()
    assert sitting.floor.store.settings().version == 0


def test_that_whoever_keeps_no_records_is_refused_and_the_text_stays(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor(), "MECH")
    sitting.press(Qt.Key.Key_7, CTRL)
    write(sitting, "idle_lock", "9")
    sitting.press(Qt.Key.Key_Return, CTRL)
    page = page_of(sitting)
    assert "may not do this: keep the shop's details and settings" in page.entry.foot.message.text()
    assert page.is_begun
    sitting.window._may_close = True  # noqa: SLF001 - the test is over
    sitting.window.close()


def test_that_what_was_typed_waits_while_another_place_is_shown(sitting: Sitting) -> None:
    write(sitting, "idle_lock", "9")
    sitting.press(Qt.Key.Key_1, CTRL)
    page = page_of(sitting)
    assert page.is_begun
    assert not sitting.window.close()
    assert page.entry.foot.message.text() == WAITS
    sitting.press(Qt.Key.Key_7, CTRL)
    assert page.entry.rows["idle_lock"].value() == "9"
    page.show_kept()
    assert page.entry.rows["idle_lock"].value() == "5"
    assert not page.is_begun


def test_that_settings_changed_elsewhere_are_not_written_over(sitting: Sitting) -> None:
    write(sitting, "idle_lock", "9")
    sitting.floor.store.file.decided = ShopSettings(idle_lock=7, version=1)
    sitting.press(Qt.Key.Key_Return, CTRL)
    assert "not as you saw them" in page_of(sitting).entry.foot.message.text()
    assert sitting.floor.store.settings().idle_lock == 7


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 125), Look(LIGHT, 200)])
def test_that_no_field_is_cut_and_each_has_a_name_of_its_own(sitting: Sitting, look: Look) -> None:
    sitting.window.set_look(look)
    page = page_of(sitting)
    names = [row.editor.accessibleName() for row in page.entry.rows.values()]
    assert all(names)
    assert len(set(names)) == len(names)
    for path, row in page.entry.rows.items():
        row.editor.setFocus()
        sitting.settle()
        assert row.editor.visibleRegion().boundingRect().size() == row.editor.size(), path
    for tab in sitting.window.bar.tabs:
        assert tab.geometry().right() < sitting.window.width()
