"""The places of a shop's window beside its orders, by real keys, each of them counted."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAction, QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QMessageBox,
    QPushButton,
    QTableView,
    QWidget,
)
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.shop.people.people import Right
from desktop.core.shop.tools import Care, Lamp
from desktop.viewmodels.frame.shop_desk import ShopDesk
from desktop.windows.frame.real_keys import plain
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.lists.kept_list_page import KeptListPage
from desktop.windows.lists.list_table import ListTable
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.due_page import DuePage
from tests.usecases.shop.shop_floor import TIMING, Floor
from tests.usecases.shop.test_look_back import floor_of_visits
from tests.usecases.shop.visits_floor import DRIFTING, STEADY

CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier


class Keeper:
    """The records keeper at the window; looks only at what has the keyboard."""

    def __init__(self, qtbot: QtBot, floor: Floor, who: str = "KEEP") -> None:
        application()
        self.qtbot, self.floor = qtbot, floor
        numbers = count()
        desk = ShopDesk(floor.shop, TIMING, lambda: f"window-{next(numbers)}")
        desk.person_id = who
        self.window = ShopWindow(desk, "Quarry Lane")
        qtbot.addWidget(self.window)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        self.keys = 0

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, key, held)
        self.keys += 1
        self.settle()

    def type(self, text: str) -> None:
        QTest.keyClicks(QApplication.focusWidget() or self.window, text)
        self.keys += len(text)

    def fill(self, *texts: str) -> None:
        for text in texts:
            self.type(text)
            self.press(Qt.Key.Key_Return)

    def tick(self) -> None:
        self.press(Qt.Key.Key_Space)
        self.press(Qt.Key.Key_Return)

    def at(self) -> str:
        widget = QApplication.focusWidget()
        return _name(widget) if widget else ""

    def page(self, name: str) -> KeptListPage:
        page = self.window.pages[name]
        assert isinstance(page, KeptListPage)
        return page

    def due(self) -> DuePage:
        page = self.window.pages["Coming due"]
        assert isinstance(page, DuePage)
        return page

    def go(self, key: Qt.Key) -> None:
        self.press(key, CTRL)
        self.qtbot.waitUntil(lambda: not self.window.desk.due.is_busy)
        self.settle()

    def add(self) -> None:
        """Press the button at the bottom right by its letter; it goes down for a moment before it acts."""
        self.press(Qt.Key.Key_D, ALT)
        self.qtbot.waitUntil(lambda: any(page.entry.isVisible() for page in self._lists()))
        self.settle()

    def _lists(self) -> list[KeptListPage]:
        return [page for page in self.window.pages.values() if isinstance(page, KeptListPage)]

    @staticmethod
    def settle() -> None:
        for _ in range(5):
            QApplication.processEvents()


@pytest.fixture
def keeper(qtbot: QtBot) -> Iterator[Keeper]:
    made = Keeper(qtbot, floor_of_visits())
    yield made
    made.window._may_close = True  # noqa: SLF001 - the test is over, whatever was typed
    made.window.close()


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)


def test_that_a_person_is_added_by_keys_alone(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_3)
    assert keeper.at() == "People"
    before = keeper.keys
    keeper.add()
    assert keeper.at() == "Person: Name"
    keeper.fill("Tom Rill")
    assert keeper.at() == "Certificate: Number"
    keeper.fill("5550118", "mechanic", "airframe and powerplant", "")
    assert keeper.at() == "Rights: Mechanic"
    keeper.press(Qt.Key.Key_Space)
    keeper.press(Qt.Key.Key_Return, CTRL)
    assert keeper.keys - before == 1 + 9 + 8 + 9 + 24 + 1 + 2 == 54
    kept = keeper.floor.store.file.roster["TR"]
    assert (kept.name, kept.rights, kept.ratings) == ("Tom Rill", (Right.MECHANIC,), "airframe and powerplant")
    assert keeper.at() == "People"
    assert keeper.page("People").list_page.foot.message.text() == "Tom Rill (TR) is on the roster."
    assert "Tom Rill (TR)" in [plain(action.text()) for action in keeper.window.findChildren(QAction)]


def test_that_a_last_day_is_written_on_a_chosen_person(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_3)
    while keeper.page("People").list_page.table.chosen() != 5:
        keeper.press(Qt.Key.Key_Down)
    keeper.press(Qt.Key.Key_Return)
    assert keeper.at() == "Person: Name"
    keeper.page("People").entry.rows["until"].editor.setFocus()
    keeper.fill("3 Mar 2031")
    assert keeper.at() == "Keep on the roster"
    keeper.press(Qt.Key.Key_Return)
    assert keeper.floor.store.file.roster["MECH"].until is not None
    table = keeper.page("People").list_page.table
    assert table.chosen() is not None
    assert table.model().index(table.chosen() or 0, 0).data() == "MECH"


def test_that_a_tool_is_added_by_keys_alone(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_4)
    before = keeper.keys
    keeper.add()
    assert keeper.at() == "Tool: Number"
    keeper.fill("L-2", "Timing light", "8812", "ch", "of")
    assert keeper.at() == "Keep on the list"
    keeper.press(Qt.Key.Key_Return)
    assert keeper.keys - before == 1 + 4 + 13 + 5 + 3 + 3 + 1 == 30
    kept = keeper.floor.store.file.kit["L-2"]
    assert (kept.name, kept.care, kept.serial, kept.lamp) == ("Timing light", Care.CHECKED, "8812", Lamp.OFF)
    keeper.press(Qt.Key.Key_Return)
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.at() == "Tools"


def test_that_a_calibrated_tool_asks_for_its_day(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_4)
    keeper.add()
    keeper.fill("W-4", "Torque wrench", "", "ca")
    assert keeper.at() == "Fit for use: Calibrated until"
    keeper.press(Qt.Key.Key_Return, CTRL)
    assert keeper.at() == "Fit for use: Calibrated until"
    page = keeper.page("Tools")
    assert page.entry.foot.message.text().startswith("This is not kept yet.")
    keeper.fill("31.12.2031")
    keeper.press(Qt.Key.Key_Return, CTRL)
    assert "W-4" in keeper.floor.store.file.kit


def test_that_a_refusal_is_said_in_the_form_and_the_text_stays(qtbot: QtBot) -> None:
    keeper = Keeper(qtbot, floor_of_visits(), "MECH")
    keeper.go(Qt.Key.Key_4)
    keeper.add()
    keeper.fill("L-2", "Timing light", "", "ch")
    keeper.press(Qt.Key.Key_Return, CTRL)
    page = keeper.page("Tools")
    assert "may not do this: keep the list of tools" in page.entry.foot.message.text()
    assert page.is_begun
    assert "L-2" not in keeper.floor.store.file.kit
    keeper.window._may_close = True  # noqa: SLF001 - the test is over
    keeper.window.close()


def test_that_what_was_typed_and_not_kept_waits_in_its_form_and_closing_asks(keeper: Keeper, qtbot: QtBot) -> None:
    keeper.go(Qt.Key.Key_4)
    keeper.add()
    keeper.type("L-2")
    keeper.press(Qt.Key.Key_Escape)
    page = keeper.page("Tools")
    assert page.list_page.foot.message.text() == "Not kept yet: New tool. It waits in its form."
    keeper.press(Qt.Key.Key_Return)
    keeper.press(Qt.Key.Key_Escape)
    keeper.go(Qt.Key.Key_1)
    assert not keeper.window.close()
    qtbot.waitUntil(lambda: bool(keeper.window.findChildren(QMessageBox)))
    box = keeper.window.findChildren(QMessageBox)[0]
    assert box.text() == "Something that was typed here is not kept yet. Closed now, it is lost."
    stay = next(button for button in box.findChildren(QPushButton) if button.text() == "Stay here")
    QTest.mouseClick(stay, Qt.MouseButton.LeftButton)
    keeper.window.activateWindow()
    qtbot.waitUntil(keeper.window.isActiveWindow)
    assert keeper.at() == "Tools"
    keeper.add()
    assert page.entry.rows["id"].value() == "L-2"
    editor = page.entry.rows["id"].editor
    assert isinstance(editor, QLineEdit)
    editor.clear()
    assert not page.is_begun


def test_that_the_places_are_reached_by_keys_and_the_bar_and_leave_room_to_a_form(keeper: Keeper) -> None:
    for key, name in ((Qt.Key.Key_2, "Coming due"), (Qt.Key.Key_3, "People"), (Qt.Key.Key_4, "Tools")):
        keeper.go(key)
        assert [tab.accessibleName() for tab in keeper.window.bar.tabs if tab.isChecked()] == [name]
    QTest.mouseClick(keeper.window.bar.tabs[0], Qt.MouseButton.LeftButton)
    keeper.settle()
    assert keeper.at() == "Find"
    assert keeper.window.bar.isVisible()
    keeper.press(Qt.Key.Key_N, CTRL)
    assert not keeper.window.bar.isVisible()
    keeper.go(Qt.Key.Key_3)
    assert keeper.window.bar.isVisible()


def test_that_the_drift_of_a_magneto_is_seen_from_its_line_and_left_with_escape(keeper: Keeper, qtbot: QtBot) -> None:
    keeper.go(Qt.Key.Key_2)
    assert keeper.at() == "Coming due"
    keeper.press(Qt.Key.Key_Return)
    assert keeper.due().list_page.foot.message.text().startswith("This line is of an engine")
    keeper.press(Qt.Key.Key_Down)
    keeper.press(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not keeper.window.desk.drift.is_busy)
    panel = keeper.due().panel
    assert panel.isVisible()
    assert panel.picture.drawing is not None
    assert panel.picture.drawing.says.startswith(f"Drift of magneto {STEADY}.")
    keeper.settle()
    assert keeper.at() == "Visits"
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.at() == "Coming due"


def test_that_the_drift_of_any_magneto_is_seen_by_its_serial_number(keeper: Keeper, qtbot: QtBot) -> None:
    keeper.go(Qt.Key.Key_2)
    keeper.press(Qt.Key.Key_M, ALT)
    assert keeper.at() == "Magneto serial number"
    keeper.fill(DRIFTING)
    qtbot.waitUntil(lambda: not keeper.window.desk.drift.is_busy)
    assert keeper.window.desk.drift.model.rowCount() == 4
    keeper.due().show_list()
    keeper.due().serial.setText("M-0")
    keeper.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(keeper.due().panel.isVisible)
    qtbot.waitUntil(lambda: not keeper.window.desk.drift.is_busy)
    shown = [one.text() for one in keeper.due().panel.findChildren(QLabel) if one.isVisible()]
    assert "Two visits are needed" in shown
    keeper.press(Qt.Key.Key_B, ALT)
    qtbot.waitUntil(keeper.due().list_page.isVisible)


def test_that_an_empty_shop_says_what_comes_and_how_to_begin(qtbot: QtBot) -> None:
    floor = Floor()
    floor.store.file.kit.clear()
    keeper = Keeper(qtbot, floor)
    keeper.go(Qt.Key.Key_2)
    assert keeper.due().list_page.empty_words.isVisible()
    assert keeper.at() == "Show the drift"
    keeper.press(Qt.Key.Key_Return)
    assert keeper.due().list_page.foot.message.text().startswith("Write the serial number")
    assert keeper.at() == "Magneto serial number"
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.at() == "Show the drift"
    keeper.go(Qt.Key.Key_4)
    assert keeper.at() == "Add a tool"
    assert keeper.page("Tools").list_page.empty_title.text() == "No tool yet"
    keeper.window.close()


def test_that_a_double_click_opens_the_line_under_it(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_4)
    table = keeper.page("Tools").list_page.table
    place = table.visualRect(table.model().index(1, 1)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    keeper.settle()
    assert keeper.page("Tools").entry.isVisible()


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
@pytest.mark.parametrize("key", [Qt.Key.Key_2, Qt.Key.Key_3, Qt.Key.Key_4])
def test_that_every_control_has_a_name_of_its_own(keeper: Keeper, look: Look, key: Qt.Key) -> None:
    keeper.window.set_look(look)
    keeper.go(key)
    _assert_named(keeper.window)
    if key is not Qt.Key.Key_2:
        keeper.add()
        _assert_named(keeper.window)


def _assert_named(window: QWidget) -> None:
    names = [
        _name(control)
        for kind in (QLineEdit, QComboBox, QAbstractButton, QTableView)
        for control in window.findChildren(kind)
        if control.isVisible() and control.objectName() != "qt_toolbar_ext_button"
    ]
    named = [name for name in names if name]
    corners = len(names) - len(named)
    assert corners == 0, names
    assert len(set(named)) >= len(named) - 1  # the list and its tab have one name: the tab leads to it


@pytest.mark.parametrize(("width", "percent"), [(1280, 100), (1280, 125), (1280, 200), (900, 100)])
@pytest.mark.parametrize("key", [Qt.Key.Key_2, Qt.Key.Key_3, Qt.Key.Key_4])
def test_that_nothing_runs_out_of_the_window(keeper: Keeper, width: int, percent: int, key: Qt.Key) -> None:
    keeper.window.resize(width, 800)
    keeper.window.set_look(Look(LIGHT, percent))
    keeper.go(key)
    assert keeper.window.width() == width
    [table] = [one for one in keeper.window.findChildren(ListTable) if one.isVisible()]
    assert table.horizontalHeader().length() <= table.viewport().width()
    _assert_words_fit(table, percent)
    for tab in keeper.window.bar.tabs:
        assert tab.geometry().right() < width


def _assert_words_fit(table: ListTable, percent: int) -> None:
    """Each cell of the lines has room for its words."""
    metrics = QFontMetrics(Look(LIGHT, percent).font(11))
    for row in range(table.model().rowCount()):
        for column in range(table.model().columnCount()):
            index = table.model().index(row, column)
            if not table.isColumnHidden(column):
                room = table.columnWidth(column) - Look(LIGHT, percent).pixels(16)
                assert metrics.horizontalAdvance(str(index.data())) <= room, index.data()


@pytest.mark.parametrize("percent", [100, 200])
def test_that_no_field_of_a_form_is_cut_and_the_one_in_use_is_in_sight(keeper: Keeper, percent: int) -> None:
    keeper.window.set_look(Look(LIGHT, percent))
    keeper.go(Qt.Key.Key_3)
    keeper.add()
    page = keeper.page("People").entry
    page.keep()
    for path, row in page.rows.items():
        row.editor.setFocus()
        keeper.settle()
        assert row.editor.visibleRegion().boundingRect().size() == row.editor.size(), path


def test_that_a_drift_picture_larger_than_the_window_is_scrolled_by_keys(keeper: Keeper, qtbot: QtBot) -> None:
    keeper.window.set_look(Look(DARK, 200))
    keeper.go(Qt.Key.Key_2)
    keeper.due().show_drift(DRIFTING)
    qtbot.waitUntil(lambda: not keeper.window.desk.drift.is_busy)
    keeper.settle()
    assert keeper.at() == "Drift and visits"
    bar = keeper.due().panel.area.verticalScrollBar()
    assert bar.maximum() > 0
    keeper.press(Qt.Key.Key_PageDown)
    assert bar.value() > 0
    picture = keeper.due().panel.picture
    assert picture.geometry().right() < keeper.due().panel.area.viewport().width()


def test_that_a_refusal_of_the_desk_is_said_at_the_place_that_is_shown(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_3)
    keeper.window.desk.refused.emit("The shop file does not answer.")
    assert keeper.page("People").list_page.foot.message.text() == "The shop file does not answer."


def test_that_the_roster_is_read_again_each_time_it_is_shown(keeper: Keeper) -> None:
    keeper.go(Qt.Key.Key_3)
    file = keeper.floor.store.file
    file.put_person(replace(file.roster["MECH"], name="Mel Chan Ito"))
    keeper.go(Qt.Key.Key_1)
    keeper.go(Qt.Key.Key_3)
    model = keeper.page("People").desk.model
    assert "Mel Chan Ito" in [model.line(row).person.name for row in range(model.rowCount())]
