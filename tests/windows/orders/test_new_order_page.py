"""A new work order in one form, by real keys, each of them counted."""

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.shop.aircraft.aircraft import EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.timing.readings import Hand, Side
from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.windows.orders.new_order_page import NewOrderPage
from desktop.windows.pieces.look import DARK, LIGHT, Look
from tests.usecases.shop.shop_floor import Floor
from tests.viewmodels.shop_orders import desk_at, shop_with

CTRL = Qt.KeyboardModifier.ControlModifier


class Clerk:
    """Fills in the form of a new order; looks only at what has the keyboard."""

    def __init__(self, qtbot: QtBot, floor: Floor, person: str = "DESK") -> None:
        application()
        self.floor = floor
        self.desk = desk_at(floor, person)
        self.form = NewOrderForm(self.desk.aircraft)
        self.window = QMainWindow()
        self.page = NewOrderPage(self.form, self.desk, Look())
        self.window.setCentralWidget(self.page)
        self.window.setStyleSheet(Look().sheet())
        self.window.resize(1280, 800)
        qtbot.addWidget(self.window)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        self.opened: list[int] = []
        self.desk.order_opened.connect(lambda answer: self.opened.append(answer.number))
        self.keys = 0

    def at(self) -> str:
        return self._focus().accessibleName()

    def type(self, text: str) -> None:
        QTest.keyClicks(self._focus(), text)
        self.keys += len(text)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(self._focus(), key, held)
        QApplication.processEvents()
        self.keys += 1

    def fill(self, *texts: str) -> None:
        """Type each text into the field that asks for it, and go on with Enter."""
        for text in texts:
            self.type(text)
            self.press(Qt.Key.Key_Return)

    def go_to(self, path: str) -> None:
        self.page.rows[path].editor.setFocus()

    @staticmethod
    def _focus() -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard focus"
        return widget


@pytest.fixture
def clerk(qtbot: QtBot) -> Iterator[Clerk]:
    made = Clerk(qtbot, shop_with(12))
    yield made
    made.window.close()


def test_that_a_whole_order_is_opened_in_one_form_by_keys_alone(clerk: Clerk) -> None:
    texts = (
        *("X-NEW", "Harrow 4", "H-9"),
        *("R. Vance", "555 0199", "r@vance.example"),
        *("Time both magnetos", "rough on left", "1.4.2031", "R. Vance, up to 4 hours"),
        *(" ", "1234.5", "1200", "s", "Fourbanger 360", "E-1"),
        *("M-20", "S-1", "l", "15", "480", "M-20", "S-2", "l", "", "480"),
    )
    clerk.fill(*texts)
    assert QApplication.focusWidget() is clerk.page.foot.act
    clerk.press(Qt.Key.Key_Return)
    assert clerk.opened == [13]
    assert clerk.keys == sum(len(text) for text in texts) + len(texts) + 1 == 189
    order = clerk.floor.order(13)
    assert order.customer == Customer("R. Vance", "", "555 0199", "r@vance.example")
    assert (order.position, order.promised) == (EnginePosition.SINGLE, date(2031, 4, 1))
    assert order.engine.magnetos == (MagnetoFitted(Side.LEFT, "M-20", "S-1"), MagnetoFitted(Side.RIGHT, "M-20", "S-2"))
    assert order.taken_in is not None
    assert order.taken_in.intake.logs_seen
    assert order.taken_in.intake.plates[0] == Plate(Side.LEFT, "M-20", "S-1", Hand.LEFT, "15", "480")


def test_that_an_aircraft_that_was_here_before_asks_for_few_keys(clerk: Clerk) -> None:
    clerk.fill("x-a012", "")
    assert clerk.at() == "The job: What is asked"
    clerk.type("Periodic check")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert clerk.opened == [13]
    assert clerk.keys == 6 + 1 + 1 + 14 + 1
    order, before = clerk.floor.order(13), clerk.floor.order(12)
    assert (order.aircraft, order.customer) == (before.aircraft, before.customer)
    assert order.asked == "Periodic check"


def test_that_wrong_text_stays_and_its_field_says_what_to_write(clerk: Clerk) -> None:
    clerk.go_to("total_time")
    clerk.fill("many")
    editor = clerk.page.rows["total_time"].editor
    assert isinstance(editor, QLineEdit)
    assert editor.text() == "many"
    assert editor.property("wrong") is True
    assert editor.accessibleDescription() == "Write a number such as 1234.5, 0 or more."
    assert clerk.at() == "Logs and hours: Tachometer h"


def test_that_opening_too_early_goes_to_the_first_field_that_is_missing(clerk: Clerk) -> None:
    clerk.go_to("asked")
    clerk.type("Time both")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert clerk.at() == "Aircraft: Registration"
    assert clerk.opened == []
    assert clerk.form.typed.value("asked") == "Time both"
    assert clerk.page.foot.message.text().startswith("The order is not open yet.")
    missing = [path for path, row in clerk.page.rows.items() if row.editor.property("wrong")]
    assert missing == ["aircraft.registration", "customer.name", "position"]
    clerk.fill("X-NEW", "", "", "R. Vance")
    clerk.go_to("position")
    clerk.type("s")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert clerk.opened == [13]


def test_that_the_form_is_empty_again_after_an_order_was_opened(clerk: Clerk) -> None:
    clerk.fill("X-NEW", "", "", "R. Vance")
    clerk.go_to("position")
    clerk.type("s")
    clerk.go_to("complaint")
    clerk.type("rough")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert clerk.opened == [13]
    clerk.press(Qt.Key.Key_Tab)
    assert clerk.form.typed.values == ()
    editors = [row.editor for row in clerk.page.rows.values()]
    assert not any(editor.text() for editor in editors if isinstance(editor, QLineEdit))


def test_that_a_refusal_is_said_and_what_was_typed_is_kept(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, shop_with(1), "INSP")
    clerk.fill("x-a001", "")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert clerk.page.foot.message.text() == (
        "Ines Spohr may not do this: open a work order. It takes the right of front desk."
    )
    assert clerk.form.typed.value("customer.name") == "Vance Aero Services"
    assert list(clerk.floor.store.file.orders) == [1]
    clerk.window.close()


def test_that_escape_leads_back_and_the_form_waits_as_it_was(clerk: Clerk, qtbot: QtBot) -> None:
    clerk.type("X-NE")
    with qtbot.waitSignal(clerk.page.back_asked):
        clerk.press(Qt.Key.Key_Escape)
    clerk.page.hide()
    clerk.page.show()
    assert clerk.form.typed.value("aircraft.registration") == "X-NE"
    assert clerk.at() == "Aircraft: Type"


def test_that_a_menu_with_the_same_keys_does_not_take_them(clerk: Clerk) -> None:
    action = QAction("Next open field", clerk.window)
    action.setShortcut(QKeySequence("Ctrl+Return"))
    taken: list[bool] = []
    action.triggered.connect(lambda: taken.append(True))
    clerk.window.menuBar().addAction(action)
    clerk.fill("x-a012")
    clerk.press(Qt.Key.Key_Return, CTRL)
    assert (taken, clerk.opened) == ([], [13])


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_every_control_has_a_name_of_its_own(clerk: Clerk, look: Look) -> None:
    clerk.window.setStyleSheet(look.sheet())
    clerk.page.set_look(look)
    names = []
    for kind in (QLineEdit, QComboBox, QAbstractButton):
        for control in clerk.page.findChildren(kind):
            if control.isVisible():
                names.append(_name(control))  # noqa: PERF401 - two loops in one line are not read
    assert all(names)
    assert len(set(names)) == len(names)


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)


@pytest.mark.parametrize(("width", "percent"), [(1280, 100), (1280, 125), (1280, 200), (900, 100)])
def test_that_no_field_is_cut_and_the_one_in_use_is_in_sight(clerk: Clerk, width: int, percent: int) -> None:
    clerk.window.resize(width, 800)
    look = Look(LIGHT, percent)
    clerk.window.setStyleSheet(look.sheet())
    clerk.page.set_look(look)
    clerk.page.open_order()
    for path, row in clerk.page.rows.items():
        row.editor.setFocus()
        for _ in range(3):
            QApplication.processEvents()
        right = row.editor.mapTo(clerk.window, row.editor.rect().topRight()).x()
        assert right < clerk.window.width(), path
        assert row.editor.visibleRegion().boundingRect().size() == row.editor.size(), path
