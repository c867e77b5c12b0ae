"""The records by keyboard alone: found, opened, printed again, taken out, verified and stopped."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event
from threading import enumerate as running

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.errors import Refusal
from desktop.core.records.sealed.chain import Problem
from desktop.storage.shop_check import shop_to_check
from desktop.storage.shop_store import ShopFile
from desktop.usecases.records.checking.check_pace import verify_at_pace
from desktop.usecases.records.checking.verify import Verified
from desktop.viewmodels.pieces.errand import Pace
from desktop.viewmodels.records.records_model import ALL_SOUND, STOPPED, RecordSearchDesk
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from desktop.windows.records.records_page import RecordSearchPage
from tests.core.records.pens import RealVerifier
from tests.storage.file_floor import TEXT, opened
from tests.storage.signed_file import signed_file

ALT = Qt.KeyboardModifier.AltModifier
BAD = Verified("c0ffee", "Mill Shop", 14, "9a" * 32, (Problem(5, "Record 5 does not fit its record seal."),))


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("records") / "mill.shop"
    signed_file(made)
    return made


@pytest.fixture
def file(place: Path) -> Iterator[ShopFile]:
    with opened(place) as store:
        yield store


class Keeper:
    """The records keeper at the list; looks only at what has the keyboard, and counts keys."""

    def __init__(self, qtbot: QtBot, desk: RecordSearchDesk, look: Look | None = None) -> None:
        application()
        self.qtbot = qtbot
        self.page = RecordSearchPage(desk, look or Look())
        qtbot.addWidget(self.page, before_close_func=lambda _page: desk.end())
        (look or Look()).dress(self.page)
        self.page.resize(1280, 800)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is self.page.search_field)
        self.keys = 0

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.page, key, held)
        self.keys += 1
        for _ in range(4):
            QApplication.processEvents()

    def type(self, text: str) -> None:
        QTest.keyClicks(self.page.search_field, text)
        self.keys += len(text)


def _check(place: Path) -> object:
    def check(pace: Pace) -> Verified | None:
        with shop_to_check(place, TEXT) as own:
            return verify_at_pace(own, RealVerifier(), pace)

    return check


def test_that_a_record_is_found_and_opened_with_a_few_keys(qtbot: QtBot, file: ShopFile) -> None:
    keeper = Keeper(qtbot, RecordSearchDesk(file))
    keeper.type("accept")
    with qtbot.waitSignal(keeper.page.record_asked) as asked:
        keeper.press(Qt.Key.Key_Return)
    assert asked.args == [6]
    assert keeper.keys == 7
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.page.search_field.text() == ""
    keeper.press(Qt.Key.Key_Down)
    with qtbot.waitSignal(keeper.page.record_asked) as asked:
        keeper.press(Qt.Key.Key_Return)
    assert asked.args is not None


def test_that_a_record_is_printed_again_by_its_number(qtbot: QtBot, file: ShopFile) -> None:
    keeper = Keeper(qtbot, RecordSearchDesk(file, printer=lambda _number, _size: b"%PDF"))
    keeper.type("approved")
    with qtbot.waitSignal(keeper.page.print_asked) as asked:
        keeper.press(Qt.Key.Key_G, ALT)
    assert asked.args == [7]


def test_that_all_records_are_verified_and_the_result_is_said(qtbot: QtBot, file: ShopFile, place: Path) -> None:
    desk = RecordSearchDesk(file, _check(place))  # type: ignore[arg-type]
    keeper = Keeper(qtbot, desk)
    with qtbot.waitSignal(desk.checked):
        keeper.press(Qt.Key.Key_V, ALT)
    assert keeper.page.result.line.words.text().startswith("Sound: 14 records, record seal ")
    assert keeper.page.strip.isHidden()
    assert keeper.page.verify.isEnabled()
    assert keeper.page.result.text.toPlainText() == ALL_SOUND


def test_that_each_problem_is_said_in_its_sentence(qtbot: QtBot, file: ShopFile) -> None:
    desk = RecordSearchDesk(file, lambda _pace: BAD)
    keeper = Keeper(qtbot, desk)
    with qtbot.waitSignal(desk.checked):
        keeper.press(Qt.Key.Key_V, ALT)
    assert keeper.page.result.line.words.text().startswith("Not sound, 1 problem: 14 records")
    assert keeper.page.result.text.hasFocus()
    assert keeper.page.result.text.toPlainText() == "Record 5 does not fit its record seal."
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.page.search_field.hasFocus()
    assert keeper.page.verify.isVisible()


def test_that_the_check_is_stopped_by_the_key_that_has_the_focus(qtbot: QtBot, file: ShopFile) -> None:
    go_on = Event()

    def check(pace: Pace) -> Verified | None:
        while pace(3, 14):
            go_on.wait(10)
        return None

    desk = RecordSearchDesk(file, check)
    keeper = Keeper(qtbot, desk)
    keeper.page.verify.click()
    qtbot.waitUntil(lambda: keeper.page.strip.words.text() == "Verifying every record: 3 of 14")
    assert not keeper.page.verify.isVisible()
    assert keeper.page.strip.bar.maximum() == 14
    qtbot.waitUntil(keeper.page.strip.stop.hasFocus)
    with qtbot.waitSignal(desk.checked):
        keeper.press(Qt.Key.Key_Space)
        assert keeper.page.strip.words.text() == "Stopping…"
        go_on.set()
    assert keeper.page.result.line.words.text() == STOPPED
    assert keeper.page.result.text.hasFocus()
    assert [thread for thread in running() if thread.name == "errand"] == []


def test_that_a_check_that_cannot_be_made_is_refused_at_the_foot(qtbot: QtBot, file: ShopFile) -> None:
    def check(_pace: Pace) -> Verified | None:
        raise Refusal("The shop file cannot be read.")

    desk = RecordSearchDesk(file, check)
    keeper = Keeper(qtbot, desk)
    with qtbot.waitSignal(desk.refused):
        keeper.press(Qt.Key.Key_V, ALT)
    assert keeper.page.list_page.foot.message.text() == "The shop file cannot be read."
    assert keeper.page.strip.isHidden()


def test_that_records_are_taken_out_into_a_folder_that_is_named(qtbot: QtBot, file: ShopFile, tmp_path: Path) -> None:
    asked: list[Path] = []

    def export(folder: Path) -> object:
        asked.append(folder)
        return lambda _pace: f"{folder.name} holds 14 records."

    desk = RecordSearchDesk(file, export=export)  # type: ignore[arg-type]
    keeper = Keeper(qtbot, desk)
    keeper.press(Qt.Key.Key_X, ALT)
    qtbot.waitUntil(lambda: isinstance(QApplication.focusWidget(), QLineEdit) and _is_in_dialog(keeper.page))
    name = QApplication.focusWidget()
    assert isinstance(name, QLineEdit)
    name.selectAll()
    QTest.keyClicks(name, str(tmp_path / "out"))
    with qtbot.waitSignal(desk.exported):
        QTest.keyClick(name, Qt.Key.Key_Return)
    assert asked == [tmp_path / "out"]
    assert keeper.page.list_page.foot.message.text() == "out holds 14 records."


def test_that_leaving_ends_the_work(qtbot: QtBot, file: ShopFile) -> None:
    go_on = Event()

    def check(pace: Pace) -> Verified | None:
        while pace(0, 1):
            go_on.wait(10)
        return None

    keeper = Keeper(qtbot, RecordSearchDesk(file, check))
    keeper.page.verify.click()
    keeper.page.desk.stop()
    go_on.set()
    keeper.page.rest()
    assert keeper.page.strip.isHidden()
    assert not keeper.page.desk.is_busy


def test_that_what_is_not_found_is_said(qtbot: QtBot, file: ShopFile) -> None:
    keeper = Keeper(qtbot, RecordSearchDesk(file))
    keeper.type("nobody")
    assert keeper.page.list_page.empty_title.text() == "Nothing found"
    assert not keeper.page.list_page.foot.act.isEnabled()
    keeper.page.print_again.setEnabled(True)
    keeper.page.print_again.click()
    assert not keeper.page.is_begun


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(CONTRAST), Look(CONTRAST, 200)])
def test_that_every_control_has_a_name_and_no_button_is_cut(qtbot: QtBot, file: ShopFile, look: Look) -> None:
    desk = RecordSearchDesk(file, lambda _pace: BAD)
    keeper = Keeper(qtbot, desk, look)
    with qtbot.waitSignal(desk.checked):
        keeper.press(Qt.Key.Key_V, ALT)
    keeper.page.show_begun()
    for _ in range(4):
        QApplication.processEvents()
    for kind in (QLineEdit, QAbstractButton, QPlainTextEdit):
        for control in keeper.page.findChildren(kind):
            if control.isVisible():
                assert _name(control)
    for button in keeper.page.findChildren(QAbstractButton):
        if button.isVisible() and button.text():
            needed = QFontMetrics(button.font()).horizontalAdvance(button.text().replace("&", ""))
            assert button.width() >= needed, f"{button.text()} is cut"
    label = keeper.page.result.line.words
    assert label.height() >= label.heightForWidth(label.width())
    assert keeper.page.result.text.height() >= look.pixels(120)
    keeper.page.show_list()
    for _ in range(4):
        QApplication.processEvents()
    assert keeper.page.list_page.table.height() >= look.pixels(80)
    assert keeper.page.height() == 800


def _is_in_dialog(page: QWidget) -> bool:
    focused = QApplication.focusWidget()
    return any(focused is not None and dialog.isAncestorOf(focused) for dialog in page.findChildren(QFileDialog))


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)
