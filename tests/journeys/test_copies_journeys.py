"""Copies by the keyboard: an older one restored, a wrong secret, the way back, and a machine without a shop."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from desktop import copy_assembly, shop_assembly
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.storage.shop_store import ShopFile
from desktop.viewmodels.shop.copies_restore import NOT_KEPT
from desktop.windows.frame.restore_window import RestoreWindow
from tests.windows.shop.copies_floor import (
    CTRL,
    PHRASE,
    Seat,
    add_order,
    bytes_of,
    copied,
    make,
    seated,
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "copies"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    found = tmp_path / "home"
    found.mkdir()
    return found


@pytest.fixture
def shop(home: Path, folder: Path) -> Path:
    return make(home / "quarry.shop", copies=folder)


@pytest.fixture
def seat(qtbot: QtBot, tmp_path: Path, home: Path) -> Iterator[Seat]:
    assert home.is_dir()
    with seated(qtbot, tmp_path) as made:
        yield made


def restoring(seat: Seat) -> RestoreWindow:
    seat.until(lambda: seat.windows.restoring is not None)
    window = seat.windows.restoring
    assert window is not None
    if not [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()]:
        seat.front(window)
    return window


def opened_again(seat: Seat, words: str) -> None:
    """Wait until a restored shop is open, and says what was done."""
    seat.until(lambda: len(seat.windows.shops) == 1 and seat.windows.restoring is None)
    seat.front(seat.shop)
    assert words in seat.shop.orders.foot.message.text()
    assert not [one for one in QApplication.topLevelWidgets() if isinstance(one, RestoreWindow) and one.isVisible()]


def last_record(seat: Seat) -> RecordKind:
    store = seat.shop.desk.shop.store
    assert isinstance(store, ShopFile)
    envelope = store.records().last_envelope()
    assert envelope is not None
    return read_record(envelope.content).kind


def test_that_an_older_copy_is_restored_by_keys_and_the_restored_shop_opens(
    seat: Seat, shop: Path, folder: Path, home: Path
) -> None:
    copied(shop, folder)
    add_order(shop)
    present = shop.read_bytes()
    seat.open(shop)
    assert seat.shop.orders_desk.orders.rowCount() == 1
    seat.keys = 0
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(lambda: seat.at() == "Take the older copy all the same")
    seat.press(Qt.Key.Key_Space)
    seat.tab_to("Secret")
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    opened_again(seat, "is restored: 0 orders and 1 record of the copy, and a record of the restore.")
    assert seat.keys - len(PHRASE) <= 1 + 1 + 1 + 2 + 1
    [kept] = home.glob("*kept aside*")
    assert f"The file before is kept as {kept}." in seat.shop.orders.foot.message.text()
    assert kept.read_bytes() == present
    assert seat.shop.orders_desk.orders.rowCount() == 0
    assert last_record(seat) is RecordKind.RESTORE
    assert not list(home.glob(".*"))


def test_that_a_wrong_secret_changes_nothing_and_one_tries_again(
    seat: Seat, shop: Path, folder: Path, home: Path, tmp_path: Path
) -> None:
    copied(shop, folder)
    before = bytes_of(home)
    seat.open(shop)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(lambda: seat.at() == "Secret")
    seat.type("seven herons over slat")
    seat.press(Qt.Key.Key_Return)
    window = restoring(seat)
    assert not seat.windows.shops
    seat.until(lambda: window.page.fields.trouble.text().startswith("This is not the secret of Lena Ode."))
    assert window.page.fields.secret.text() == ""
    assert bytes_of(home) == before
    (tmp_path / "state" / "sparkwright" / "key-tries").rename(tmp_path / "tries")  # nobody waits in a test
    seat.front(window)
    assert seat.at() == "Secret"
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    opened_again(seat, "The copy lacks nothing that the present file holds.")
    assert len(list(home.glob("*kept aside*"))) == 1


def test_that_one_goes_back_to_the_shop_as_it_is(seat: Seat, shop: Path, folder: Path, home: Path) -> None:
    copied(shop, folder)
    before = bytes_of(home)
    seat.open(shop)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(lambda: seat.at() == "Secret")
    seat.type("not the secret")
    seat.press(Qt.Key.Key_Return)
    window = restoring(seat)
    seat.until(lambda: bool(window.page.fields.trouble.text()))
    seat.front(window)
    seat.press(Qt.Key.Key_Escape)
    seat.until(lambda: len(seat.windows.shops) == 1)
    seat.front(seat.shop)
    assert seat.at() == "Find"
    assert bytes_of(home) == before


def test_that_nothing_is_restored_while_something_typed_is_not_kept(seat: Seat, shop: Path, folder: Path) -> None:
    copied(shop, folder)
    seat.open(shop)
    seat.press(Qt.Key.Key_N, CTRL)
    seat.type("XQ-T")
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(lambda: seat.at() == "Secret")
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    assert seat.place.restore.fields.trouble.text() == NOT_KEPT
    assert seat.shop.isVisible()
    assert seat.windows.restoring is None


def test_that_a_shop_that_is_open_in_another_window_is_not_replaced(
    seat: Seat, shop: Path, folder: Path, home: Path
) -> None:
    copied(shop, folder)
    before = bytes_of(home)
    with shop_assembly.shop_at(shop):
        seat.open(shop)
        seat.go_to_copies()
        seat.press(Qt.Key.Key_Return)
        seat.until(lambda: seat.at() == "Secret")
        seat.type(PHRASE)
        seat.press(Qt.Key.Key_Return)
        window = restoring(seat)
        seat.until(lambda: "is open already" in window.page.fields.trouble.text())
        assert bytes_of(home) == before
    window.page.fields.secret.setText(PHRASE)
    window.page.act()
    opened_again(seat, "is restored")


def test_that_a_restore_can_be_stopped_before_the_copy_is_in_place(
    seat: Seat, shop: Path, folder: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copied(shop, folder)
    before = bytes_of(home)
    whole = copy_assembly.restore_at_pace

    def slowly(order: object, pace: Callable[[int, int], bool]) -> str:
        calls: list[int] = []

        def slow(done: int, of: int) -> bool:
            calls.append(done)
            while len(calls) == 2 and pace(4, 9):
                pass
            return pace(done, of)

        return whole(order, slow)  # type: ignore[arg-type]  # handed on as it came

    monkeypatch.setattr(copy_assembly, "restore_at_pace", slowly)
    seat.open(shop)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(lambda: seat.at() == "Secret")
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    window = restoring(seat)
    seat.until(lambda: window.page.strip.words.text() == "Restoring the copy: 4 of 9")
    assert seat.at() == "Stop"
    seat.press(Qt.Key.Key_Space)
    seat.until(lambda: window.page.fields.trouble.text().startswith("Stopped. Nothing was changed"))
    assert bytes_of(home) == before
    assert window.page.foot.act.isEnabled()
