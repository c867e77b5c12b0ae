"""Small manners: the copy on closing, the bug dialog, the right log, taking back what was typed, other units."""

import logging

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.core.left_off import LeftOff
from desktop.core.shop.settings import ShopSettings
from desktop.usecases.records.copies.backup import OnClosing
from desktop.viewmodels.frame.closing_copy import ClosingCopy
from desktop.viewmodels.paper.paper_needs import is_asked
from desktop.viewmodels.pieces.fields import Field
from desktop.windows.frame.application import show_bug
from desktop.windows.frame.bug_dialog import BugDialog
from desktop.windows.paper.which_log_dialog import WhichLogDialog
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look
from tests.usecases.shop.shop_floor import Floor
from tests.viewmodels.frame.test_bug_report import NAME, SECRET, TYPED, caught
from tests.windows.manners_floor import FAILED, Sitting

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def sitting(qtbot: QtBot) -> Sitting:
    return Sitting(qtbot, Floor().with_card(), folder="/copies")


def test_that_a_copy_is_made_on_closing_and_then_the_window_closes(sitting: Sitting, qtbot: QtBot) -> None:
    assert not sitting.window.close()
    qtbot.waitUntil(lambda: not sitting.window.isVisible())
    assert [str(one) for one in sitting.copied] == ["/copies"]
    assert len(sitting.kept) == 1


def test_that_without_a_folder_the_window_closes_at_once(sitting: Sitting) -> None:
    sitting.folder = ""
    assert sitting.window.close()
    assert sitting.copied == []


def test_that_a_copy_that_fails_says_why_and_one_can_close_without_it(sitting: Sitting, qtbot: QtBot) -> None:
    sitting.fails = True
    sitting.window.close()
    assert not sitting.window.close()
    dialog = sitting.manners.dialog
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.words.text() == FAILED)
    dialog.again.click()
    qtbot.waitUntil(lambda: len(sitting.copied) == 2)
    qtbot.waitUntil(lambda: dialog.words.text() == FAILED)
    dialog.without.click()
    assert not sitting.window.isVisible()


def test_that_one_can_stay_and_what_was_typed_is_asked_about_again(sitting: Sitting, qtbot: QtBot) -> None:
    sitting.fails = True
    sitting.window.close()
    dialog = sitting.manners.dialog
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.words.text() == FAILED)
    dialog.stay.click()
    assert sitting.window.isVisible()
    sitting.window.activateWindow()
    qtbot.waitUntil(sitting.window.isActiveWindow)
    sitting.press(Qt.Key.Key_N, CTRL)
    sitting.type("XQ-T")
    assert not sitting.window.close()
    assert sitting.manners.dialog is None


def test_that_settings_that_cannot_be_read_make_no_copy_and_say_so(qapp: QApplication) -> None:
    def refuse() -> str:
        raise Refusal("The shop file does not answer.")

    copy = ClosingCopy(refuse, lambda *_: OnClosing(None, ""))
    heard: list[tuple[bool, str]] = []
    copy.ended.connect(lambda made, words: heard.append((made, words)))
    assert not copy.is_wanted()
    copy.begin()
    assert heard == [(False, "No copy was made on closing. The shop file does not answer.")]
    assert not copy.is_busy


def test_that_a_bug_is_shown_with_a_report_to_copy_and_nothing_private(
    sitting: Sitting, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, "sparkwright"):
        show_bug(*caught())
        show_bug(*caught())
    [dialog] = [one for one in QApplication.topLevelWidgets() if isinstance(one, BugDialog) and one.isVisible()]
    assert dialog.more.text().startswith("It happened 2 times.")
    dialog.copy.click()
    copied = QGuiApplication.clipboard().text()
    assert "Strange" in copied
    for said in (copied, caplog.text, dialog.text.toPlainText()):
        assert not any(private in said for private in (NAME, SECRET, TYPED))
    dialog.act.click()
    assert sitting.window.isVisible()


def dialog_for(qtbot: QtBot, sitting: Sitting) -> tuple[WhichLogDialog, list[bool]]:
    dialog = WhichLogDialog("left", "E-77", Look(), sitting.window)
    heard: list[bool] = []
    dialog.confirmed.connect(lambda: heard.append(True))
    dialog.open()
    qtbot.waitUntil(dialog.isVisible)
    return dialog, heard


def test_that_a_label_of_a_twin_prints_only_when_the_right_log_is_named(qtbot: QtBot, sitting: Sitting) -> None:
    dialog, heard = dialog_for(qtbot, sitting)
    assert dialog.words.text() == "This label goes into the log of the LEFT engine, serial E-77."
    QTest.keyClick(dialog.field, Qt.Key.Key_Return)
    assert dialog.said.text() == "Type left, if that is the log in your hand."
    QTest.keyClicks(dialog.field, "right")
    QTest.keyClick(dialog.field, Qt.Key.Key_Return)
    assert "Take the log of the left engine" in dialog.said.text()
    assert heard == []
    QTest.keyClicks(dialog.field, "Left ")
    QTest.keyClick(dialog.field, Qt.Key.Key_Return)
    assert heard == [True]


def test_that_not_printing_confirms_nothing(qtbot: QtBot, sitting: Sitting) -> None:
    dialog, heard = dialog_for(qtbot, sitting)
    dialog.cancel.click()
    assert heard == []


@pytest.mark.parametrize(
    ("position", "engines", "asks"), [("single", 1, False), ("left", 1, True), ("single", 2, True)]
)
def test_that_only_an_aircraft_with_more_engines_is_asked_about(position: str, engines: int, asks: bool) -> None:
    assert is_asked(position, engines) is asks


def test_that_typing_is_taken_back_with_ctrl_z_also_after_it_was_kept(qtbot: QtBot) -> None:
    row = FieldRow(Field("x", "Length", unit="mm"), Look())
    qtbot.addWidget(row)
    kept: list[object] = []
    row.committed.connect(lambda _field, value: kept.append(value))
    row.show()
    row.activateWindow()
    editor = row.editor
    assert isinstance(editor, QLineEdit)
    editor.setFocus()
    qtbot.waitUntil(editor.hasFocus)
    QTest.keyClicks(editor, "12")
    editor.selectAll()
    QTest.keyClicks(editor, "7")
    QTest.keyClick(editor, Qt.Key.Key_Z, CTRL)
    assert editor.text() == "12"
    QTest.keyClick(editor, Qt.Key.Key_Return)
    row.show_state("12", "", "", "")
    editor.selectAll()
    QTest.keyClicks(editor, "9")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    row.show_state("9", "", "", "")
    QTest.keyClick(editor, Qt.Key.Key_Z, CTRL)
    assert editor.text() == "12"
    QTest.keyClick(editor, Qt.Key.Key_Return)
    assert kept == ["12", "9", "12"]


def test_that_a_length_shows_the_shops_units_in_quiet_text_and_stays_as_typed(sitting: Sitting) -> None:
    sitting.floor.store.file.decided = ShopSettings(units="inch-pound")
    sitting.window.show_card(1, 1)
    sitting.settle()
    page = sitting.window.order_page
    assert page is not None
    places = [place.id for place in page.session.places]
    page.page.show_place(places.index("measure"))
    row = next(one for one in page.page.rows() if one.field.path == "measure.radius_mm")
    page.session.commit(row.field, "75")
    assert row._unit.text() == "mm   about 2.95 in"  # noqa: SLF001 - the quiet text has no other way
    assert row.value() == page.session.value(row.field) == "75"


def test_that_every_button_of_the_dialogs_says_what_it_does(qtbot: QtBot, sitting: Sitting) -> None:
    dialog, _ = dialog_for(qtbot, sitting)
    assert [one.text() for one in dialog.findChildren(QPushButton)] == ["Do not print", "Print the label"]
    dialog.reject()


@pytest.mark.parametrize(
    ("left_off", "place"),
    [
        (LeftOff(order=1), "Order"),
        (LeftOff(order=1, card=1), "Card"),
        (LeftOff(order=99, card=1), "Work orders"),
        (LeftOff(place="Coming due"), "Coming due"),
        (LeftOff(place="The attic"), "Work orders"),
        (LeftOff(), "Work orders"),
    ],
)
def test_that_a_window_goes_back_to_where_it_was_left(sitting: Sitting, left_off: LeftOff, place: str) -> None:
    window = sitting.window
    window.restore(left_off)
    assert window.present_place() == place
    is_there = place != "Work orders"
    assert window.left_off() == (left_off if is_there else LeftOff())


def test_that_a_window_that_was_closed_locked_opens_locked(sitting: Sitting) -> None:
    sitting.window.restore(LeftOff(order=1, is_locked=True))
    assert sitting.manners.lock.is_locked
