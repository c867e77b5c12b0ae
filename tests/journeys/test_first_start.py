"""The first start by the keyboard: three questions, the demo, and back to where one was."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from desktop import shop_assembly
from desktop.app import application
from desktop.core.errors import Refusal
from desktop.core.left_off import DARK, LeftOff
from desktop.core.left_off import LIGHT as LIGHT_THEME
from desktop.core.shop.settings import ShopSettings
from desktop.files.window_memory import WindowMemory
from desktop.shop_windows import ShopWindows
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.shop.lists.keep_settings import keep_settings
from desktop.usecases.shop.ports import Request
from desktop.viewmodels.pieces.errand import Pace
from desktop.windows.frame.first_start_page import FirstStartWindow
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.pieces.look import DARK as DARK_COLOURS
from desktop.windows.pieces.look import LIGHT, Look

PHRASE = "seven herons over slate"
CTRL = Qt.KeyboardModifier.ControlModifier


class Start:
    """Somebody at the first start; looks only at what has the keyboard."""

    def __init__(self, qtbot: QtBot, windows: ShopWindows) -> None:
        self.qtbot, self.windows = qtbot, windows
        self.keys = 0

    @property
    def first(self) -> FirstStartWindow:
        assert self.windows.first is not None
        return self.windows.first

    @property
    def shop(self) -> ShopWindow:
        return self.windows.shops[-1]

    def begin(self) -> None:
        self.windows.begin()
        window = self.windows.shops[-1] if self.windows.shops else self.first
        window.activateWindow()
        self.qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(self.focus(), key, held)
        self.keys += 1
        for _ in range(3):
            QApplication.processEvents()

    def fill(self, *texts: str) -> None:
        for text in texts:
            QTest.keyClicks(self.focus(), text)
            self.keys += len(text)
            self.press(Qt.Key.Key_Return)

    def focus(self) -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None
        return widget

    def at(self) -> str:
        return self.focus().accessibleName()

    def opened(self) -> ShopWindow:
        self.qtbot.waitUntil(lambda: bool(self.windows.shops), timeout=20000)
        self.shop.activateWindow()
        self.qtbot.waitUntil(self.shop.isActiveWindow)
        return self.shop


@pytest.fixture
def memory(tmp_path: Path) -> WindowMemory:
    return WindowMemory(tmp_path / "state" / "window.toml")


@pytest.fixture
def start(qtbot: QtBot, tmp_path: Path, memory: WindowMemory, monkeypatch: pytest.MonkeyPatch) -> Iterator[Start]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    application()
    with ShopWindows(memory, make_small_demo, FOR_DEMO, tmp_path) as windows:
        yield Start(qtbot, windows)
        for window in windows.shops:
            window.close()
        if windows.first is not None:
            windows.first.close()


def make_small_demo(place: Path, pace: Pace) -> None:
    for done in range(3):
        if not pace(done, 3):
            raise Refusal("The demo was stopped.")
    shop_assembly.make_shop(place, "Quarry Lane Aero Works (invented)", "Lena Ode", "LO")


def answer(start: Start) -> None:
    assert start.at() == "Name of the shop"
    start.fill("Quarry Lane Aero Works", "QLZR000D", "")
    assert start.at() == "Your name"
    start.fill("Lena Ode", "", "0000118", "mechanic")
    assert start.at() == "Your secret"
    start.fill(PHRASE, PHRASE)
    start.press(Qt.Key.Key_Return)


def test_that_three_questions_by_keys_make_a_shop_with_the_work_orders_open(start: Start, tmp_path: Path) -> None:
    start.begin()
    answer(start)
    window = start.opened()
    place = tmp_path / "quarry-lane-aero-works.shop"
    assert place.is_file()
    assert not start.first.isVisible()
    assert start.at() == "Find"
    assert "Next: the others at People" in window.orders.foot.message.text()
    store = window.desk.shop.store
    [person] = store.people()
    assert (person.id, person.name, person.certificate_number) == ("LO", "Lena Ode", "0000118")
    details = store.shop_details()
    assert (details.name, details.station_certificate) == ("Quarry Lane Aero Works", "QLZR000D")
    signs = window.desk.bench.signs
    assert signs is not None
    assert start.keys <= 22 + 8 + 8 + 7 + 8 + 2 * 23 + 10
    assert PHRASE.encode() not in place.read_bytes()


def test_that_what_is_missing_is_said_at_its_field_and_nothing_is_made(start: Start, tmp_path: Path) -> None:
    start.begin()
    start.press(Qt.Key.Key_Return, CTRL)
    assert start.at() == "Name of the shop"
    page = start.first.page
    shown = [one.text() for one in page.findChildren(QLabel) if one.objectName() == "fault" and one.text()]
    assert "The shop has no name. Write it as it stands on the certificate." in shown
    assert page.foot.message.text().startswith("The shop file is not made yet.")
    assert not list(tmp_path.glob("*.shop"))


@pytest.mark.parametrize(
    ("secret", "again", "said"),
    [
        ("short", "short", "The secret has 5 characters."),
        ("lena ode", "lena ode", "The secret is a name that everybody here knows."),
        (PHRASE, "seven herons over slat", "The two secrets are not the same."),
    ],
)
def test_that_a_secret_that_may_not_be_is_refused_at_its_field(
    start: Start, secret: str, again: str, said: str, tmp_path: Path
) -> None:
    start.begin()
    start.fill("Quarry Lane", "", "", "Lena Ode", "", "", "", secret, again)
    start.press(Qt.Key.Key_Return)
    page = start.first.page
    assert page.trouble.text().startswith(said)
    assert start.at() == "Your secret"
    assert page.secret.field.text() == page.again.field.text() == ""
    assert not list(tmp_path.glob("*.shop"))


def test_that_a_place_that_cannot_be_used_is_said_once_and_what_was_typed_stays(start: Start, tmp_path: Path) -> None:
    start.begin()
    start.fill("Quarry Lane", "")
    editor = start.focus()
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    start.fill(str(tmp_path / "no such folder" / "q.shop"), "Lena Ode", "", "", "", PHRASE, PHRASE)
    start.press(Qt.Key.Key_Return)
    start.qtbot.waitUntil(lambda: "There is no folder" in start.first.page.foot.message.text(), timeout=20000)
    assert start.first.first.form.text("name") == "Lena Ode"


def test_that_the_demo_is_made_beside_the_window_and_is_not_gone_back_to(start: Start, memory: WindowMemory) -> None:
    start.begin()
    QTest.mouseClick(start.first.page.demo, Qt.MouseButton.LeftButton)
    window = start.opened()
    assert "everything in it is invented" in window.orders.foot.message.text()
    window.close()
    assert memory.read().shop == ""


def test_that_the_demo_can_be_stopped(qtbot: QtBot, tmp_path: Path, memory: WindowMemory) -> None:
    application()

    def make_slowly(_place: Path, pace: Pace) -> None:
        while pace(1, 3):
            pass
        raise Refusal("The demo was stopped.")

    with ShopWindows(memory, make_slowly, FOR_DEMO, tmp_path) as windows:
        windows.begin()
        assert windows.first is not None
        page = windows.first.page
        page.demo.click()
        qtbot.waitUntil(lambda: page.strip.bar.value() == 1)
        assert page.strip.stop.isVisible()
        assert not page.foot.act.isEnabled()
        page.strip.stop.click()
        qtbot.waitUntil(lambda: page.foot.message.text() == "The demo was stopped.")
        assert page.foot.act.isEnabled()
        windows.first.close()


def test_that_a_shop_file_that_is_there_is_opened_and_another_one_is_asked_for(
    start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "mill.shop"
    shop_assembly.make_shop(place, "Mill", "Ada Brook", "AB")
    start.begin()
    start.first.first.open_shop(tmp_path / "nothing.shop")
    assert "there is no such file" in start.first.page.foot.message.text()
    start.first.first.open_shop(place)
    window = start.opened()
    assert window.windowTitle() == "mill · Sparkwright"
    start.press(Qt.Key.Key_O, CTRL)
    assert start.first.isVisible()


def test_that_one_card_without_a_shop_opens_from_here(start: Start) -> None:
    start.begin()
    start.first.page.card.click()
    assert start.windows.card is not None
    assert start.windows.card.isVisible()
    start.windows.card.session.is_saved = True
    start.windows.card.close()


def test_that_reopening_returns_to_the_shop_the_place_and_the_look(
    start: Start, tmp_path: Path, memory: WindowMemory
) -> None:
    place = tmp_path / "mill.shop"
    shop_assembly.make_shop(place, "Mill", "Ada Brook", "AB")
    memory.write(LeftOff(shop=str(place), place="Tools", theme=DARK, percent=125))
    start.begin()
    window = start.opened()
    assert window.present_place() == "Tools"
    assert window.look == Look(DARK_COLOURS, 125)
    window.set_look(Look(LIGHT, 150))
    window.show_place(2)
    window.close()
    left = memory.read()
    assert (left.shop, left.place, left.theme, left.percent) == (str(place), "People", LIGHT_THEME, 150)


def test_that_a_shop_file_that_is_gone_leads_to_the_first_start(start: Start, memory: WindowMemory) -> None:
    memory.write(LeftOff(shop="/nowhere/mill.shop"))
    start.begin()
    assert start.first.isVisible()
    assert not start.windows.shops


def test_that_a_shop_file_that_cannot_be_opened_is_said_at_the_first_start(
    start: Start, memory: WindowMemory, tmp_path: Path
) -> None:
    place = tmp_path / "mill.shop"
    place.write_bytes(b"SQLite format 3\0" + bytes(100))
    memory.write(LeftOff(shop=str(place)))
    start.begin()
    assert start.first.page.foot.message.text()
    assert not [one for one in start.first.findChildren(QDialog) if one.isVisible()]
    assert [one.text() for one in start.first.findChildren(QPushButton) if one.objectName() == "act"]


def test_that_closing_makes_a_copy_that_is_read_back_and_a_wrong_folder_is_said(start: Start, tmp_path: Path) -> None:
    place, copies = tmp_path / "mill.shop", tmp_path / "copies"
    shop_assembly.make_shop(place, "Mill", "Ada Brook", "AB")
    copies.mkdir()
    start.begin()
    start.first.first.open_shop(place)
    window = start.opened()
    desk = window.desk
    settings = ShopSettings(backup_place=str(copies))
    keep_settings(desk.shop, Request(desk.new_id(), "AB"), settings)
    copies.rename(tmp_path / "elsewhere")
    assert not window.close()
    assert window.manners is not None
    dialog = window.manners.dialog
    assert dialog is not None
    start.qtbot.waitUntil(lambda: dialog.words.text().startswith("No copy was made on closing."), timeout=20000)
    (tmp_path / "elsewhere").rename(copies)
    dialog.again.click()
    start.qtbot.waitUntil(lambda: not window.isVisible(), timeout=20000)
    [copy] = [one for one in copies.iterdir() if one.is_file() and not one.name.startswith(".")]
    assert copy.read_bytes()[:15] == b"SQLite format 3"


@pytest.mark.parametrize(("width", "percent"), [(1280, 100), (1280, 200), (900, 100)])
def test_that_no_other_way_is_cut_and_each_is_reached_by_tab(start: Start, width: int, percent: int) -> None:
    start.begin()
    start.first.resize(width, 800)
    start.first.set_look(Look(LIGHT, percent))
    for _ in range(5):
        QApplication.processEvents()
    ways = start.first.page.ways
    for button in ways.buttons:
        assert button.width() >= button.sizeHint().width(), button.text()
        assert button.geometry().right() <= ways.width()
    reached = []
    start.first.page.foot.act.setFocus()
    for _ in ways.buttons:
        start.press(Qt.Key.Key_Tab)
        focus = start.focus()
        assert isinstance(focus, QPushButton)
        reached.append(focus.text().replace("&", ""))
        assert focus.visibleRegion().boundingRect().size() == focus.size()
    assert reached == ["Look round the demo", "Restore a copy", "Open a shop file…", "One card, without a shop"]
