"""What was typed is never lost, and nothing is changed by passing through."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QMessageBox, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application, make_window
from desktop.assembly import check_place
from desktop.core.timing.readings import Side
from desktop.viewmodels.pieces.card_words import Progress, standing_of, verdicts_of
from desktop.windows.frame.main_window import MainWindow
from desktop.windows.pieces.field_row import FieldRow

DEMO = Path(__file__).parents[3] / "resources" / "demo" / "sound.toml"


@pytest.fixture
def window(qtbot: QtBot) -> MainWindow:
    application()
    made = make_window(DEMO)
    qtbot.addWidget(made, before_close_func=_nothing_to_save)
    made.show()
    return made


def _nothing_to_save(window: QWidget) -> None:
    assert isinstance(window, MainWindow)
    window.session.is_saved = True


def _place(window: MainWindow, name: str) -> None:
    ids = [place.id for place in window.session.places]
    window.page.show_place(ids.index(name))
    QApplication.processEvents()


def _row(window: MainWindow, place: str, path: str) -> FieldRow:
    return next(row for row in window.page.rows() if (row.field.place, row.field.path) == (place, path))


def _type(row: FieldRow, text: str) -> None:
    assert isinstance(row.editor, QLineEdit)
    row.editor.setFocus()
    row.editor.selectAll()
    QTest.keyClicks(row.editor, text)


def test_that_passing_through_every_field_changes_nothing(window: MainWindow) -> None:
    before = window.session.state
    for number in range(len(window.session.places)):
        window.page.show_place(number)
        for _ in range(25):
            QTest.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Tab)
    assert window.session.state == before
    assert window.session.is_saved


def test_that_an_entry_goes_with_its_last_reading(window: MainWindow) -> None:
    session = window.session
    count = len(session.state.typed.left.approach or ()) if session.state.typed.left else 0
    for key in ("from", "light", "back"):
        session.commit(_row(window, "left-found", f"left.approach[1].{key}").field, "")
    left = session.state.typed.left
    assert left is not None
    assert left.approach is not None
    assert len(left.approach) == count - 1
    assert session.state.is_whole


def test_that_the_field_being_typed_is_kept_when_the_window_is_closed(window: MainWindow, qtbot: QtBot) -> None:
    _place(window, "run-up")
    row = _row(window, "run-up", "run_up.both_rpm")
    _type(row, "1777")
    assert not window.close()
    assert window.session.value(row.field) == "1777"
    qtbot.waitUntil(lambda: bool(window.findChildren(QMessageBox)))
    box = window.findChildren(QMessageBox)[0]
    stay = next(button for button in box.findChildren(QPushButton) if button.text() == "Stay here")
    QTest.mouseClick(stay, Qt.MouseButton.LeftButton)
    assert window.isVisible()


def test_that_a_new_card_is_saved_and_then_closed(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    window.session.file = None
    window.session.is_saved = False
    window.close()
    qtbot.waitUntil(lambda: bool(window.findChildren(QMessageBox)))
    box = window.findChildren(QMessageBox)[0]
    save = next(button for button in box.findChildren(QPushButton) if button.text() == "Save")
    QTest.mouseClick(save, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(window.findChildren(QFileDialog)))
    dialog = window.findChildren(QFileDialog)[0]
    name = dialog.findChildren(QLineEdit)[0]
    place = tmp_path / "saved.toml"
    name.setText(str(place))
    QTest.keyClick(name, Qt.Key.Key_Return)
    qtbot.waitUntil(place.exists)
    qtbot.waitUntil(lambda: not window.isVisible())
    assert check_place(place).worked.left is not None


@pytest.mark.parametrize("typed", ["336 1/2", "336.50°", "336½", "336,5"])
def test_that_what_the_window_accepts_its_own_check_accepts(window: MainWindow, tmp_path: Path, typed: str) -> None:
    _place(window, "left-left")
    row = _row(window, "left-left", "left.approach[4].light")
    _type(row, typed)
    QTest.keyClick(row.editor, Qt.Key.Key_Return)
    assert isinstance(row.editor, QLineEdit)
    assert row.editor.text() == typed
    place = tmp_path / "card.toml"
    assert window.session.save_to(place)
    worked = check_place(place).worked
    assert worked.left is not None
    assert worked.left.timing is not None
    assert worked.left.timing.btdc == 23.5


def test_that_an_earlier_reading_never_stands_in_for_one_that_is_being_typed(window: MainWindow) -> None:
    session = window.session
    session.commit(_row(window, "left-left", "left.approach[4].light").field, "3x")
    place = next(place for place in session.places if place.id == "left-left")
    standing = standing_of(place, session.state, Side.LEFT)
    assert standing is not None
    assert (standing.words, standing.progress) == ("Left. The last reading is still open", Progress.OPEN)
    assert [verdict.words for verdict in verdicts_of(place, session.state)] == ["Left. The last reading is still open"]


def test_that_a_magneto_taken_off_the_card_comes_back_with_its_readings(window: MainWindow) -> None:
    before = window.session.state.typed
    window.session.show_magneto(Side.LEFT, present=False)
    assert window.session.state.typed.left is None
    window.session.show_magneto(Side.LEFT, present=True)
    assert window.session.state.typed == before


def test_that_values_which_no_longer_belong_stay_in_sight(window: MainWindow) -> None:
    session = window.session
    session.commit(_row(window, "measure", "measure.by").field, "marks")
    shown = {field.path for place in session.places for group in place.groups for field in group.fields}
    faults = {fault.where for fault in session.state.faults}
    assert {"measure.marking", "measure.counts", "measure.on", "measure.zeroed", "measure.radius_mm"} <= faults
    assert {fault for fault in faults if fault.startswith("measure.")} <= shown
    session.commit(_row(window, "measure", "measure.by").field, "disc")
    assert session.state.is_whole


@pytest.mark.parametrize(("width", "percent"), [(1280, 125), (1000, 100), (1280, 200), (1280, 100)])
def test_that_no_field_is_cut_at_its_right_edge(window: MainWindow, width: int, percent: int) -> None:
    window.resize(width, 800)
    window.set_look(type(window.look)(window.look.colours, percent))
    for number in range(len(window.session.places)):
        window.page.show_place(number)
        for _ in range(3):
            QApplication.processEvents()
        page = window.page
        for row in page.rows():
            if row.isVisible():
                right = row.editor.mapTo(window, row.editor.rect().topRight()).x()
                assert right < window.width(), row.field.path
                assert row.editor.visibleRegion().boundingRect().width() in (0, row.editor.width()), row.field.path
