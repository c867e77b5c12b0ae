"""The place of the copies by real keys: made, stopped, listed, and each sabotage told before anything is touched."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest
from click.testing import CliRunner
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop import copy_assembly
from desktop.commands.doctor_command import command as doctor
from desktop.core.errors import Refusal
from desktop.storage.copies.copy_seal import seal
from desktop.usecases.records.checking.health import Word
from desktop.viewmodels.pieces.card_words import Progress
from desktop.windows.pieces.look import DARK, LIGHT, Look
from tests.windows.shop.copies_floor import (
    ALT,
    Seat,
    add_order,
    copied,
    goes_on,
    make,
    seated,
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "copies"


@pytest.fixture
def shop(tmp_path: Path, folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    (tmp_path / "home").mkdir()
    return make(tmp_path / "home" / "quarry.shop", copies=folder)


@pytest.fixture
def seat(qtbot: QtBot, tmp_path: Path, shop: Path) -> Iterator[Seat]:
    with seated(qtbot, tmp_path) as made:
        made.open(shop)
        yield made


def message(seat: Seat) -> str:
    return seat.place.copies.foot.message.text()


def row(seat: Seat, number: int) -> list[object]:
    model = seat.shop.desk.copies.model
    return [model.index(number, column).data() for column in range(model.columnCount())]


def test_that_the_place_says_line_by_line_what_the_doctor_says_at_the_command_line(
    seat: Seat, shop: Path, folder: Path
) -> None:
    copied(shop, folder)
    seat.go_to_copies()
    ran = CliRunner().invoke(doctor, [str(shop)], standalone_mode=False)
    rows = seat.place.copies.doctor.rows()
    assert [words[1:] for words in rows] == [
        (line[:5].strip(), *(part.strip() for part in line[5:].strip().split("  ", 1)))
        for line in ran.output.splitlines()
    ]
    shapes = {"ok": "done", "look": "open", "wrong": "stops"}
    assert all(shape == shapes[word] for shape, word, *_ in rows)
    assert len(rows) >= 14


def test_that_what_is_to_be_looked_at_and_to_be_mended_is_said_in_word_and_shape(seat: Seat) -> None:
    seat.go_to_copies()
    page = seat.place.copies
    assert page.doctor.verdict.text() == "Look: 1 thing to look at"
    assert next(words for words in page.doctor.rows() if words[1] == "look")[0] == Progress.OPEN.value
    assert page.empty.isVisible()
    assert any(one.startswith("No copy is known here") for one in shown(page.empty))
    assert seat.at() == "Make a copy now"


def test_that_a_copy_is_made_read_back_and_listed_with_one_key(seat: Seat, folder: Path) -> None:
    seat.go_to_copies()
    before = seat.keys
    seat.press(Qt.Key.Key_Return)
    assert seat.keys - before == 1
    seat.until(lambda: message(seat).startswith("Copied to "))
    seat.looked()
    [copy] = folder.iterdir()
    assert str(copy) in message(seat)
    assert "read back: 0 orders, 1 record, record seal" in message(seat)
    name, where, made_at, records, seal, verified = row(seat, 0)
    assert (name, where, records, verified) == (copy.name, str(folder), "1 record", "sound, read whole")
    assert str(made_at).startswith(("1", "2", "3"))
    assert str(seal) in message(seat)
    assert seat.place.copies.doctor.verdict.text() == "Ok: nothing to mend, nothing to look at"
    assert seat.at() == "Copies"


def test_that_a_copy_elsewhere_goes_into_the_folder_that_is_named(seat: Seat, tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    seat.go_to_copies()
    seat.press(Qt.Key.Key_E, ALT)
    seat.name_file(stick)
    seat.until(lambda: message(seat).startswith("Copied to "))
    seat.looked()
    [copy] = stick.iterdir()
    assert row(seat, 0)[:2] == [copy.name, str(stick)]


def test_that_a_shop_without_a_folder_for_copies_is_asked_for_one(qtbot: QtBot, tmp_path: Path, shop: Path) -> None:
    bare = make(shop.with_name("bare.shop"), "Fen Lane")
    stick = tmp_path / "stick"
    stick.mkdir()
    with seated(qtbot, tmp_path) as seat:
        seat.open(bare)
        seat.go_to_copies()
        seat.press(Qt.Key.Key_M, ALT)
        seat.name_file(stick)
        seat.until(lambda: message(seat).startswith("Copied to "))
    assert len(list(stick.iterdir())) == 1


def test_that_a_folder_that_is_gone_is_said_and_no_copy_is_made(seat: Seat, folder: Path) -> None:
    seat.go_to_copies()
    folder.rmdir()
    seat.press(Qt.Key.Key_M, ALT)
    seat.until(lambda: message(seat).startswith(f"There is no folder {folder}."))
    assert seat.place.copies.foot.act.isEnabled()
    assert not folder.exists()


def test_that_a_copy_that_is_stopped_in_the_middle_leaves_nothing(
    seat: Seat, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[int] = []
    whole = copy_assembly.back_up_at_pace

    def slowly(place: Path, where: Path, pace: Callable[[int, int], bool]) -> str:
        def slow(done: int, of: int) -> bool:
            calls.append(len(list(where.iterdir())))
            while len(calls) == 3 and pace(3, 9):  # in the middle: until somebody stops
                pass
            return pace(done, of)

        return whole(place, where, slow)

    monkeypatch.setattr(copy_assembly, "back_up_at_pace", slowly)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_M, ALT)
    strip = seat.place.copies.strip
    seat.until(lambda: strip.words.text().endswith("3 of 9"))
    assert seat.at() == "Stop"
    assert not seat.place.copies.foot.act.isEnabled()
    seat.press(Qt.Key.Key_Space)
    seat.until(lambda: message(seat).startswith("Stopped."))
    assert max(calls) == 1  # there was a beginning of a copy
    assert list(folder.iterdir()) == []
    assert seat.place.copies.foot.act.isEnabled()


def test_that_closing_the_window_ends_a_copy_and_leaves_nothing(
    seat: Seat, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = copy_assembly.back_up_at_pace

    def endless(place: Path, where: Path, pace: Callable[[int, int], bool]) -> str:
        while pace(1, 9):
            pass
        return whole(place, where, pace)

    monkeypatch.setattr(copy_assembly, "back_up_at_pace", endless)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_M, ALT)
    seat.until(lambda: seat.place.copies.strip.words.text().endswith("1 of 9"))
    seat.shop.close_for_restore()
    assert not seat.shop.desk.copies.is_busy
    assert list(folder.iterdir()) == []


def test_that_a_shop_file_that_cannot_be_looked_at_is_said_once(seat: Seat, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> object:
        raise Refusal("The shop file does not answer.")

    monkeypatch.setattr(copy_assembly, "look_over_copies", refuse)
    seat.go_to_copies()
    assert message(seat) == "The shop file does not answer."
    assert seat.place.copies.doctor.verdict.text() == "Not looked at: the reason stands below"
    monkeypatch.undo()
    seat.press(Qt.Key.Key_L, ALT)
    seat.until(lambda: bool(seat.place.copies.doctor.rows()))


def test_that_a_thing_to_be_mended_is_wrong_and_crossed(seat: Seat, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("desktop.assembly.font_faces", lambda: (b"x", b""))
    seat.go_to_copies()
    [fonts] = [words for words in seat.place.copies.doctor.rows() if words[2] == "fonts"]
    assert fonts[:2] == (Progress.STOPS.value, Word.WRONG.value)
    assert seat.place.copies.doctor.verdict.text() == "Wrong: 1 thing to mend"


def shown(page: QWidget) -> list[str]:
    return [label.text() for label in page.findChildren(QLabel) if label.isVisible()]


LOOKS = [Look(LIGHT), Look(DARK), Look(LIGHT, 125), Look(LIGHT, 200)]


@pytest.mark.parametrize("look", LOOKS)
def test_that_nothing_is_cut_and_every_control_has_a_name(
    qtbot: QtBot, tmp_path: Path, shop: Path, folder: Path, look: Look
) -> None:
    copied(shop, folder)
    add_order(shop)
    with seated(qtbot, tmp_path) as seat:
        window = seat.open(shop, look)
        seat.go_to_copies()
        for _ in range(2):
            seat.settle()
            assert (window.width(), window.height()) == (1280, 800)
            _assert_words_fit(window)
            for tab in window.bar.tabs:
                assert tab.geometry().right() < window.width()
            if seat.place.copies.isVisible():
                area = seat.place.copies.area
                assert area.horizontalScrollBar().maximum() == 0
                table = seat.place.copies.table
                assert table.verticalScrollBar().maximum() == 0
                assert table.horizontalHeader().length() <= table.viewport().width()
                seat.press(Qt.Key.Key_Return)
                seat.until(seat.place.restore.fields.isVisible)
        fields = seat.place.restore.fields
        seat.place.restore.act()
        seat.settle()
        _assert_words_fit(window)
        assert seat.at() == fields.older.accessibleName()
        assert fields.older.visibleRegion().boundingRect().size() == fields.older.size()
        fields.say("This is not the secret of Lena Ode. Wrong tries in a row: 3 of 10. Wait 4 seconds.")
        for field in (fields.older, fields.keeper, fields.secret, fields.secret):
            field.setFocus()
            seat.settle()
            assert field.visibleRegion().boundingRect().size() == field.size(), field.accessibleName()


def _assert_words_fit(window: QWidget) -> None:
    for field in (*window.findChildren(QLineEdit), *window.findChildren(QComboBox)):
        if field.isVisible():
            assert field.accessibleName(), field
    words: tuple[QLabel | QAbstractButton, ...] = (
        *window.findChildren(QLabel),
        *(one for one in window.findChildren(QAbstractButton) if one.objectName() != "qt_toolbar_ext_button"),
    )
    for one in words:
        if isinstance(one, QAbstractButton) and one.isVisible():
            assert one.accessibleName() or one.text(), one
        if one.isVisible() and one.text() and not (isinstance(one, QLabel) and one.wordWrap()):
            room = QFontMetrics(one.font()).horizontalAdvance(one.text().replace("&", ""))
            assert one.width() >= room, one.text()
        if isinstance(one, QLabel) and one.isVisible() and one.wordWrap() and one.text():
            assert one.height() >= one.heightForWidth(one.width()) - 1, one.text()


def test_that_the_doctors_page_is_scrolled_by_keys_at_double_size(
    qtbot: QtBot, tmp_path: Path, shop: Path, folder: Path
) -> None:
    for _ in range(3):
        copied(shop, folder)
    with seated(qtbot, tmp_path) as seat:
        seat.open(shop, Look(LIGHT, 200))
        seat.go_to_copies()
        page = seat.place.copies
        bar = page.area.verticalScrollBar()
        seat.press(Qt.Key.Key_Down)
        seat.press(Qt.Key.Key_Down)
        assert page.table.chosen() == 2
        assert bar.value() > 0
        seat.press(Qt.Key.Key_Tab)
        assert seat.at() == "Copies, and how the shop file stands"
        for _ in range(20):
            QTest.keyClick(page.area, Qt.Key.Key_PageDown)
        assert bar.value() == bar.maximum() > 0
        last = page.doctor.rows()[-1]
        assert last[2] == "versions"


def test_that_a_copy_that_was_carried_away_and_one_of_another_program_are_told(
    seat: Seat, shop: Path, folder: Path
) -> None:
    stranger = folder / "stranger.shop-copy"
    with closing(sqlite3.connect(stranger)) as db:
        db.execute("CREATE TABLE t (a)")
    seal(stranger, "2031-03-04T09:30:05+00:00", goes_on)
    copied(shop, folder).unlink()
    seat.go_to_copies()
    listed = {str(row(seat, number)[0]): row(seat, number)[-1] for number in range(2)}
    assert listed.pop(stranger.name) == "cannot be read"
    assert list(listed.values()) == ["not there now"]


def stops_after(looks: list[int], most: int, _done: int, _of: int) -> bool:
    looks.append(1)
    return len(looks) <= most


def test_that_a_look_at_the_copies_stops_when_it_is_told_to(shop: Path, folder: Path) -> None:
    copied(shop, folder)
    looks: list[int] = []

    found = copy_assembly.look_over_copies(shop, str(folder), partial(stops_after, looks, 10_000))
    assert len(found.copies) == 1
    whole = len(looks)
    for number in range(whole):
        looks.clear()
        with pytest.raises(Refusal, match="Stopped"):
            copy_assembly.look_over_copies(shop, str(folder), partial(stops_after, looks, number))
    assert whole > 2


def test_that_the_place_takes_the_look_and_the_words_of_its_window(seat: Seat, shop: Path, folder: Path) -> None:
    copied(shop, folder)
    seat.go_to_copies()
    seat.shop.set_look(Look(DARK, 125))
    seat.shop.desk.refused.emit("The shop file does not answer.")
    assert message(seat) == "The shop file does not answer."
    seat.press(Qt.Key.Key_Return)
    seat.until(seat.place.restore.fields.isVisible)
    seat.shop.set_look(Look(LIGHT, 150))
    seat.settle()
    assert "This copy is sound, and lacks nothing." in shown(seat.place.restore)
    seat.shop.desk.refused.emit("The shop file does not answer.")
    assert seat.place.restore.foot.message.text() == "The shop file does not answer."
