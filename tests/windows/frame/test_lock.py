"""The locked window shows nothing of the shop, and gives everything back."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.viewmodels.pieces.bench import Signing
from desktop.windows.frame.real_keys import plain
from desktop.windows.pieces.look import DARK, LIGHT, Look
from tests.usecases.records.signing_floor import PHRASES, made_floor
from tests.usecases.shop.shop_floor import Floor
from tests.windows.manners_floor import Sitting

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def sitting(qtbot: QtBot) -> Sitting:
    return Sitting(qtbot, Floor().with_card())


def shown_words(sitting: Sitting) -> str:
    labels = [one.text() for one in sitting.window.findChildren(QLabel) if one.isVisible()]
    return "\n".join((*labels, *(one.text() for one in sitting.window.findChildren(QLineEdit) if one.isVisible())))


def test_that_after_the_minutes_only_who_was_here_is_seen(sitting: Sitting) -> None:
    sitting.window.show_order(1)
    sitting.settle()
    assert "X-ABCD" in shown_words(sitting)
    sitting.wait(5)
    said = shown_words(sitting)
    assert "X-ABCD" not in said
    assert "Locked" in said
    assert "Mel Chan (MECH) was here until 09:00. What was typed is still there." in said
    assert sitting.window.present_place() == "Order"
    assert sitting.manners.place() == "Locked"


def test_that_no_key_leads_past_the_lock_but_closing(sitting: Sitting) -> None:
    sitting.wait(5)
    for key in (Qt.Key.Key_1, Qt.Key.Key_2, Qt.Key.Key_N, Qt.Key.Key_P):
        sitting.press(key, CTRL)
    assert sitting.manners.watch.page.isVisible()
    assert sitting.window.present_place() == "Work orders"
    usable = [one.text() for one in sitting.window.menuBar().actions() for one in _inside(one) if one.isEnabled()]
    assert usable == ["&Close", "&Guide to this place"]
    sitting.press(Qt.Key.Key_Q, CTRL)
    assert not sitting.window.isVisible()
    assert sitting.kept[-1].is_locked


def _inside(action: object) -> list:  # type: ignore[type-arg]  # actions of a menu
    menu = action.menu()  # type: ignore[attr-defined]  # a menu's action has one
    return [one for one in menu.actions() if not one.isSeparator()] if menu else []


def test_that_going_on_gives_back_what_was_typed_and_the_keyboard(sitting: Sitting) -> None:
    sitting.press(Qt.Key.Key_N, CTRL)
    sitting.type("XQ-T")
    sitting.wait(5)
    assert sitting.at() == ""  # the button to go on, which its words name
    sitting.press(Qt.Key.Key_Return)
    assert not sitting.manners.lock.is_locked
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    assert editor.accessibleName() == "Aircraft: Registration"
    assert editor.text() == "XQ-T"
    sitting.press(Qt.Key.Key_1, CTRL)
    assert sitting.window.present_place() == "Work orders"


def test_that_another_person_can_go_on_and_then_sits_here(sitting: Sitting) -> None:
    sitting.wait(5)
    who = sitting.manners.watch.page.who
    who.setFocus()
    QTest.keyClicks(who, "Dora")
    sitting.press(Qt.Key.Key_Return)
    assert sitting.window.desk.person_id == "DESK"
    checked = [one.text() for one in sitting.window.findChildren(QAction) if one.isChecked()]
    assert [plain(one) for one in checked] == ["Dora Esk (DESK)"]
    assert sitting.window.who.text() == "At work: Dora Esk (DESK)"


def test_that_the_secret_is_asked_for_where_people_have_one(qtbot: QtBot, tmp_path: Path) -> None:
    signed = made_floor(tmp_path / "mill.shop", None).enrol("KEEP", "MECH")
    sitting = Sitting(qtbot, Floor(), "KEEP", signing=Signing(signed.desk, signed.file))
    sitting.press(Qt.Key.Key_L, CTRL | SHIFT)
    page = sitting.manners.watch.page
    assert sitting.at() == "Your secret"
    sitting.press(Qt.Key.Key_Return)
    assert page.said.text() == "Type your secret, then go on."
    sitting.type("not the secret at all")
    sitting.press(Qt.Key.Key_Return)
    assert page.said.text().startswith("This is not the secret of Kit Eeper.")
    assert page.secret.text() == ""
    signed.clock.move(5)
    sitting.type(PHRASES["KEEP"])
    sitting.press(Qt.Key.Key_Return)
    assert not sitting.manners.lock.is_locked
    sitting.window.close()
    signed.file.close()


def test_that_what_stands_over_the_window_goes_and_comes_back(sitting: Sitting) -> None:
    sitting.press(Qt.Key.Key_N, CTRL)
    sitting.type("XQ")
    assert not sitting.window.close()
    [box] = [one for one in sitting.window.findChildren(QWidget) if one.isWindow() and one.isVisible()]
    sitting.wait(5)
    assert not box.isVisible()
    assert sitting.manners.lock.open("MECH", "")
    sitting.settle()
    assert box.isVisible()
    box.close()


def test_that_keys_and_clicks_keep_it_open(sitting: Sitting) -> None:
    sitting.time = sitting.time.replace(minute=4)
    sitting.press(Qt.Key.Key_Down)
    sitting.wait(4)
    assert not sitting.manners.lock.is_locked
    QTest.mouseClick(sitting.window.orders.foot, Qt.MouseButton.LeftButton)
    sitting.wait(4)
    assert not sitting.manners.lock.is_locked
    sitting.wait(1)
    assert sitting.manners.lock.is_locked


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_every_part_of_the_locked_page_is_named_and_in_sight(sitting: Sitting, look: Look) -> None:
    sitting.window.set_look(look)
    sitting.wait(5)
    page = sitting.manners.watch.page
    for widget in (page.who, page.act):
        assert widget.visibleRegion().boundingRect().size() == widget.size()
    assert page.who.accessibleName() == "Who goes on"
    assert page.secret.accessibleName() == "Your secret"
