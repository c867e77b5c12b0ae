"""A copy restored at the first start: a machine that has no shop any more, and a shop file that cannot be opened."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QLabel

from desktop.core.left_off import LeftOff
from desktop.files.window_memory import WindowMemory
from tests.journeys.test_copies_journeys import folder, home, opened_again, restoring, seat, shop
from tests.windows.shop.copies_floor import (
    ALT,
    NAME,
    PHRASE,
    Seat,
    add_order,
    bytes_of,
    copied,
    cut,
    emptied,
    flipped,
    half_copied,
    make,
    untouched,
)

__all__ = ["folder", "home", "seat", "shop"]


def begin(seat: Seat) -> None:
    seat.windows.begin()
    assert seat.windows.first is not None
    seat.front(seat.windows.first)


def test_that_a_machine_without_a_shop_gets_it_back_by_keys(seat: Seat, tmp_path: Path, home: Path) -> None:
    elsewhere, stick = tmp_path / "dead", tmp_path / "stick"
    for one in (elsewhere, stick):
        one.mkdir()
    dead = make(elsewhere / "quarry.shop", copies=stick)
    add_order(dead)
    copy = copied(dead, stick)
    dead.unlink()
    begin(seat)
    seat.keys = 0
    assert seat.at() == "Name of the shop"
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    assert not seat.windows.first or not seat.windows.first.isVisible()
    seat.name_file(copy)
    seat.until(lambda: seat.at() == "New shop file")
    said = [one.text() for one in window.page.findChildren(QLabel) if one.isVisible()]
    assert "This copy is sound." in said
    assert any(one.startswith(f"It is the shop of {NAME}: 1 record and 1 order, made ") for one in said)
    place = home / "quarry-lane-aero-works.shop"
    assert window.page.fields.place.text() == str(place)
    seat.press(Qt.Key.Key_Return)
    seat.tab_to("Secret")
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    opened_again(seat, f"{place} is restored: 1 order and 1 record of the copy")
    assert seat.keys - len(PHRASE) <= 1 + 1 + 1 + 1
    assert seat.shop.orders_desk.orders.rowCount() == 1
    assert seat.shop.desk.copies.restoring.shop == place
    assert not [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()]


@pytest.mark.parametrize(
    ("sabotage", "said"),
    [
        (flipped, "was changed after it was made"),
        (cut, "is cut short"),
        (emptied, "is empty"),
        (half_copied, "is half copied"),
        (untouched, ""),
    ],
)
def test_that_a_sabotaged_copy_is_told_at_the_first_start_too(
    seat: Seat, tmp_path: Path, home: Path, sabotage: Callable[[Path], None], said: str
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    dead = make(tmp_path / "quarry.shop", copies=stick)
    copy = copied(dead, stick)
    dead.unlink()
    sabotage(copy)
    begin(seat)
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    seat.name_file(copy)
    seat.until(lambda: not window.desk.is_busy)
    message = window.page.foot.message.text()
    assert said in message
    assert bool(message) is bool(said)
    assert window.page.fields.isVisible() is not bool(said)
    assert list(home.iterdir()) == []


def test_that_the_place_of_a_new_shop_file_is_looked_at_first(seat: Seat, tmp_path: Path, home: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    dead = make(home / "quarry-lane-aero-works.shop", copies=stick)
    copy = copied(dead, stick)
    begin(seat)
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    seat.name_file(copy)
    seat.until(lambda: seat.at() == "New shop file")
    fields = window.page.fields
    assert fields.place.text() == str(home / "quarry-lane-aero-works-restored.shop")
    fields.secret.setText(PHRASE)
    for typed, trouble in (
        ("", "The shop file has no place."),
        ("here.shop", "Write the whole place"),
        (str(dead), "Something is there already"),
    ):
        fields.place.setText(typed)
        window.page.act()
        assert fields.place_trouble.text().startswith(trouble)
        assert fields.place.hasFocus()
    fields.place.setText(str(home / "no folder" / "q.shop"))
    window.page.act()
    seat.until(lambda: "There is no folder" in fields.trouble.text())
    seat.press(Qt.Key.Key_Escape)
    seat.until(lambda: seat.windows.restoring is None)
    assert seat.windows.first is not None
    assert seat.windows.first.isVisible()


def test_that_a_shop_file_that_cannot_be_opened_is_restored_in_its_place(
    seat: Seat, shop: Path, folder: Path, home: Path, tmp_path: Path
) -> None:
    copy = copied(shop, folder)
    broken = b"SQLite format 3\0" + bytes(5000)
    shop.write_bytes(broken)
    WindowMemory(tmp_path / "state" / "window.toml").write(LeftOff(shop=str(shop)))
    begin(seat)
    assert seat.windows.first is not None
    assert seat.windows.first.page.foot.message.text()
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    seat.name_file(copy)
    seat.until(lambda: seat.at() == "Take the older copy all the same")
    said = " ".join(one.text() for one in window.page.findChildren(QLabel) if one.isVisible())
    assert "The copy may be older: the present file cannot be read" in said
    seat.press(Qt.Key.Key_Space)
    seat.tab_to("Secret")
    seat.type(PHRASE)
    seat.press(Qt.Key.Key_Return)
    opened_again(seat, f"{shop} is restored")
    [aside] = home.glob("*kept aside*")
    assert aside.read_bytes() == broken


def test_that_one_goes_back_to_the_first_start_from_a_shop_file_that_cannot_be_opened(
    seat: Seat, shop: Path, folder: Path, home: Path, tmp_path: Path
) -> None:
    copy = copied(shop, folder)
    shop.write_bytes(b"SQLite format 3\0" + bytes(5000))
    before = bytes_of(home)
    WindowMemory(tmp_path / "state" / "window.toml").write(LeftOff(shop=str(shop)))
    begin(seat)
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    seat.name_file(copy)
    seat.until(lambda: window.desk.found is not None)
    seat.front(window)
    seat.press(Qt.Key.Key_Escape)
    seat.until(lambda: seat.windows.restoring is None)
    first = seat.windows.first
    assert first is not None
    assert first.isVisible()
    assert first.page.foot.message.text()
    assert bytes_of(home) == before


def test_that_closing_the_window_of_a_restore_ends_it(seat: Seat, shop: Path, folder: Path, home: Path) -> None:
    copied(shop, folder)
    before = bytes_of(home)
    begin(seat)
    seat.press(Qt.Key.Key_R, ALT)
    window = restoring(seat)
    seat.until(lambda: isinstance(QApplication.activeWindow(), QDialog))
    dialog = QApplication.activeWindow()
    assert isinstance(dialog, QDialog)
    dialog.reject()
    window.desk.examine(next(folder.iterdir()))
    window.close()
    assert not window.desk.is_busy
    assert bytes_of(home) == before
