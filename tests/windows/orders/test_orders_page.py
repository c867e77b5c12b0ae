"""The work orders in their window, by real keys: found, narrowed, chosen, opened, and kept up with the shop."""

from collections.abc import Iterator
from functools import partial

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QTableView, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.viewmodels.orders.listed import Listed
from desktop.windows.orders.order_table import OrderTable
from desktop.windows.orders.orders_page import NOT_FOUND, OrdersPage
from desktop.windows.pieces.look import DARK, LIGHT, Look
from tests.usecases.shop.shop_floor import SOUND, TIMING, Floor
from tests.viewmodels.shop_orders import desk_at, new_order, shop_with


class Clerk:
    """Sits at the page of a shop and presses keys, each of them counted."""

    def __init__(self, qtbot: QtBot, floor: Floor, person: str = "DESK") -> None:
        application()
        self.floor = floor
        self.desk = desk_at(floor, person)
        self.desk.choose(Listed.EVERY)
        self.page = OrdersPage(self.desk, Look())
        self.page.setStyleSheet(Look().sheet())
        self.page.resize(1280, 800)
        qtbot.addWidget(self.page)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        self.chosen: list[int] = []
        self.page.order_chosen.connect(self.chosen.append)
        self.keys = 0

    def type(self, text: str) -> None:
        QTest.keyClicks(self._focus(), text)
        self.keys += len(text)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(self._focus(), key, held)
        QApplication.processEvents()
        self.keys += 1

    def listed(self) -> list[int]:
        model = self.desk.orders
        return [model.line(row).number for row in range(model.rowCount())]

    def at(self) -> str:
        return self._focus().accessibleName()

    @staticmethod
    def _focus() -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard focus"
        return widget


@pytest.fixture
def clerk(qtbot: QtBot) -> Iterator[Clerk]:
    made = Clerk(qtbot, shop_with(120))
    yield made
    made.page.close()


def test_that_an_order_is_found_as_one_types_and_opened_with_enter(clerk: Clerk) -> None:
    assert clerk.at() == "Find"
    clerk.type("zzz")
    assert clerk.listed() == []
    clerk.press(Qt.Key.Key_Escape)
    assert clerk.listed() == list(range(120, 70, -1))
    clerk.type("x-a04")
    assert clerk.listed() == [49, 48, 47, 46, 45, 44, 43, 42, 41, 40]
    clerk.type("2")
    assert clerk.listed() == [42]
    clerk.press(Qt.Key.Key_Return)
    assert clerk.chosen == [42]
    assert clerk.keys == 11


def test_that_arrows_move_in_the_list_while_the_search_keeps_the_keyboard(clerk: Clerk) -> None:
    clerk.press(Qt.Key.Key_Down)
    clerk.press(Qt.Key.Key_Down)
    clerk.press(Qt.Key.Key_Up)
    assert clerk.at() == "Find"
    clerk.press(Qt.Key.Key_Return)
    assert clerk.chosen == [119]
    before = clerk.page.table.currentIndex().row()
    clerk.press(Qt.Key.Key_PageDown)
    assert clerk.page.table.currentIndex().row() > before + 5


def test_that_going_down_reads_older_orders_to_the_end(clerk: Clerk, qtbot: QtBot) -> None:
    for _ in range(3):
        clerk.press(Qt.Key.Key_Tab)
    assert clerk.at() == "Work orders"
    for rows in (100, 120):
        clerk.press(Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
        qtbot.waitUntil(partial(_has_rows, clerk, rows))
    clerk.press(Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    clerk.press(Qt.Key.Key_Return)
    assert clerk.listed() == list(range(120, 0, -1))
    assert clerk.chosen == [1]


def _has_rows(clerk: Clerk, rows: int) -> bool:
    return clerk.desk.orders.rowCount() == rows


def test_that_a_letter_typed_in_the_list_goes_on_in_the_search(clerk: Clerk) -> None:
    clerk.type("x-a0")
    for _ in range(3):
        clerk.press(Qt.Key.Key_Tab)
    clerk.type("7")
    assert clerk.at() == "Find"
    assert clerk.page.search_field.text() == "x-a07"
    assert clerk.listed() == list(range(79, 69, -1))


def test_that_a_state_is_chosen_by_keys_and_every_order_brings_all_back(clerk: Clerk) -> None:
    clerk.press(Qt.Key.Key_S, Qt.KeyboardModifier.AltModifier)
    assert clerk.at() == "Show"
    clerk.type("f")
    assert clerk.page.state_box.currentText() == "for inspection"
    assert {clerk.desk.orders.line(row).state for row in range(clerk.desk.orders.rowCount())} == {
        OrderState.FOR_INSPECTION
    }
    clerk.press(Qt.Key.Key_End)
    assert clerk.page.state_box.currentText() == "every order"
    assert len(clerk.listed()) == 50


def test_that_nothing_found_says_what_to_do_and_enter_opens_nothing(clerk: Clerk) -> None:
    clerk.type("zeppelin")
    assert not clerk.page.table.isVisible()
    assert (clerk.page.empty_title.text(), clerk.page.empty_words.text()) == NOT_FOUND
    clerk.press(Qt.Key.Key_Return)
    assert clerk.chosen == []


def test_that_an_empty_shop_says_what_comes_here_and_enter_begins(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, shop_with(0))
    assert clerk.page.empty_title.text() == "No work order yet"
    assert "Begin with the button" in clerk.page.empty_words.text()
    with qtbot.waitSignal(clerk.page.new_asked):
        clerk.press(Qt.Key.Key_Return)
    clerk.page.close()


def test_that_a_new_order_is_asked_for_from_anywhere_with_one_key(clerk: Clerk, qtbot: QtBot) -> None:
    with qtbot.waitSignal(clerk.page.new_asked):
        clerk.press(Qt.Key.Key_O, Qt.KeyboardModifier.AltModifier)


def test_that_an_order_of_a_second_desk_is_seen_and_the_chosen_one_stays_chosen(clerk: Clerk) -> None:
    clerk.press(Qt.Key.Key_Down)
    assert clerk.page.table.chosen_order() == 119
    desk_at(clerk.floor).open_order(new_order(121))
    clerk.desk.look_for_changes()
    assert clerk.listed()[:2] == [121, 120]
    assert clerk.page.table.chosen_order() == 119
    clerk.press(Qt.Key.Key_Return)
    assert clerk.chosen == [119]


def test_that_the_line_in_its_place_is_chosen_when_an_order_leaves_the_list(clerk: Clerk) -> None:
    clerk.press(Qt.Key.Key_S, Qt.KeyboardModifier.AltModifier)
    clerk.type("open")
    listed = clerk.listed()
    clerk.page.table.setCurrentIndex(clerk.desk.orders.index(1, 0))
    floor, gone = clerk.floor, listed[1]
    issue_card(floor.shop, floor.by("DESK", gone), gone, NewCard(TIMING, SOUND))
    clerk.desk.look_for_changes()
    assert gone not in clerk.listed()
    assert clerk.page.table.chosen_order() == listed[2]


def test_that_the_shop_is_looked_at_only_while_the_page_is_seen(clerk: Clerk) -> None:
    watched = [clerk.desk.is_watching]
    clerk.page.hide()
    watched.append(clerk.desk.is_watching)
    assert watched == [True, False]
    desk_at(clerk.floor).open_order(new_order(121))
    clerk.page.show()
    assert clerk.listed()[0] == 121


def test_that_a_refusal_is_said_at_the_foot(clerk: Clerk) -> None:
    clerk.desk.refused.emit("The shop file does not answer.")
    assert clerk.page.foot.message.text() == "The shop file does not answer."
    assert clerk.page.foot.message.objectName() == "refusal"


def test_that_a_double_click_opens_the_order_under_it(clerk: Clerk) -> None:
    table = clerk.page.table
    place = table.visualRect(clerk.desk.orders.index(3, 4)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert clerk.chosen == [117]


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_every_control_is_named_and_the_lines_are_painted(clerk: Clerk, look: Look) -> None:
    page = clerk.page
    page.setStyleSheet(look.sheet())
    page.set_look(look)
    QApplication.processEvents()
    for kind in (QLineEdit, QComboBox, QAbstractButton, QTableView):
        for control in page.findChildren(kind):
            if control.isVisible():
                assert _name(control), control
    picture = page.table.viewport().grab().toImage()
    colours = {picture.pixelColor(x, y).name() for x in range(200) for y in range(120)}
    assert {QColor(look.colours.ground).name(), QColor(look.colours.act).name()} <= colours


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)


@pytest.mark.parametrize(("width", "percent"), [(1280, 100), (1280, 125), (1280, 200), (900, 100)])
def test_that_no_column_runs_out_of_the_window_and_nothing_is_left_out(clerk: Clerk, width: int, percent: int) -> None:
    clerk.page.resize(width, 800)
    clerk.page.set_look(Look(LIGHT, percent))
    for _ in range(3):
        QApplication.processEvents()
    table: OrderTable = clerk.page.table
    header = table.horizontalHeader()
    assert header.length() <= table.viewport().width()
    headings = [column.heading for column in clerk.desk.orders.columns]
    hidden = [place for place in range(len(headings)) if table.isColumnHidden(place)]
    assert [headings[place] for place in hidden] in ([], ["Type", "Asked", "Promised"])
    for column in range(len(headings)):
        assert column in hidden or table.columnWidth(column) >= Look(LIGHT, percent).pixels(90)
    lines = 2 if hidden else 1
    assert table.rowHeight(0) >= lines * table.fontMetrics().height()
