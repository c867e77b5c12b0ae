"""The papers of an order by real keys: chosen with the space bar, printed or saved together, stopped."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.usecases.papers import kinds
from desktop.viewmodels.paper.papers_desk import LABELS_ALONE, PapersDesk
from desktop.windows.paper.papers_dialog import NOTHING_CHOSEN, PapersDialog
from desktop.windows.paper.printing import NO_PRINTER
from desktop.windows.paper.which_log_dialog import WRONG
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from tests.viewmodels.paper.fake_needs import LEFT, NOT_YET, PAPERS, FakePress
from tests.windows.paper.printed import FilePrinter, Hands

ALT = Qt.KeyboardModifier.AltModifier
SPACE, DOWN, ENTER, UP = Qt.Key.Key_Space, Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Up


class Clerk(Hands):
    """Somebody at the papers of an order."""

    def __init__(self, qtbot: QtBot, press: FakePress, look: Look | None = None) -> None:
        super().__init__(qtbot)
        application()
        self.made, look = press, look or Look()
        self.window = QWidget()
        self.window.resize(1280, 800)
        look.dress(self.window)
        qtbot.addWidget(self.window)
        self.window.show()
        self.dialog = PapersDialog(PapersDesk(press.needs(), 12), look, self.window)
        self.dialog.open()
        self.dialog.activateWindow()
        qtbot.waitUntil(lambda: self.desk.model.rowCount() > 0 and QApplication.focusWidget() is self.dialog.table)

    @property
    def desk(self) -> PapersDesk:
        return self.dialog.desk

    def said(self) -> str:
        return self.dialog.said.text()

    def is_done(self) -> bool:
        return not self.desk.is_busy and self.dialog.strip.isHidden()


def test_that_the_space_bar_chooses_papers_and_says_how_many(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress())
    for key in (SPACE, DOWN, SPACE):
        clerk.press(key)
    assert clerk.said() == "2 chosen."
    clerk.press(SPACE)
    assert clerk.desk.chosen() == PAPERS[:1]
    clerk.press(Qt.Key.Key_A, ALT)
    qtbot.waitUntil(lambda: len(clerk.desk.chosen()) == len(PAPERS) - 1)
    clerk.press(Qt.Key.Key_N, ALT)
    qtbot.waitUntil(lambda: not clerk.desk.chosen())


def test_that_what_cannot_be_made_yet_says_why_at_its_line_and_is_neither_chosen_nor_shown(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress())
    asked: list[object] = []
    clerk.dialog.preview_asked.connect(asked.append)
    for _ in range(NOT_YET):
        clerk.press(DOWN)
    assert clerk.said() == "No card is issued yet."
    clerk.press(SPACE)
    assert clerk.said() == "Summary for the inspector: No card is issued yet."
    clerk.press(ENTER)
    assert (asked, clerk.desk.chosen()) == ([], ())
    clerk.press(UP)
    clerk.press(ENTER)
    assert [one.said for one in asked] == ["Card 1: Time the magnetos"]  # type: ignore[attr-defined]  # choices


def test_that_what_is_chosen_goes_to_the_printer_as_one_print_and_is_remembered(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress())
    for key in (SPACE, DOWN, SPACE):
        clerk.press(key)
    clerk.press(Qt.Key.Key_T, ALT)
    qtbot.waitUntil(lambda: clerk.is_done() and bool(clerk.made.remembered))
    assert clerk.said() == "2 papers went to the printer."
    assert clerk.made.remembered == ["code of work-order", "code of card"]
    assert (printer.pages(), printer.sizes) == (2, ["letter"])
    assert QApplication.focusWidget() is clerk.dialog.table


def test_that_nothing_chosen_is_said_and_labels_do_not_print_with_others(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress())
    clerk.press(Qt.Key.Key_T, ALT)
    qtbot.waitUntil(lambda: clerk.said() == NOTHING_CHOSEN)
    clerk.dialog.all.click()
    clerk.dialog.print_these.click()
    assert clerk.said() == LABELS_ALONE
    assert printer.sizes == []


def test_that_a_printer_that_is_off_is_said_and_nothing_is_remembered(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    FilePrinter(tmp_path, monkeypatch).answers = False
    clerk = Clerk(qtbot, FakePress())
    clerk.press(SPACE)
    clerk.dialog.print_these.click()
    assert clerk.said() == NO_PRINTER
    assert clerk.made.remembered == []
    assert clerk.dialog.act.isEnabled()


def test_that_stop_ends_many_and_without_stop_all_are_there(qtbot: QtBot, tmp_path: Path) -> None:
    clerk = Clerk(qtbot, FakePress())
    clerk.dialog.all.click()
    clerk.made.gate.clear()
    clerk.dialog._save_in(tmp_path / "stopped")  # noqa: SLF001 - the folder is named in a journey
    qtbot.waitUntil(clerk.dialog.strip.isVisible)
    assert QApplication.focusWidget() is clerk.dialog.strip.stop
    clerk.press(SPACE)
    assert clerk.dialog.strip.words.text() == "Stopping…"
    clerk.made.gate.set()
    qtbot.waitUntil(clerk.is_done)
    count = len(clerk.made.written)
    assert count < 4
    assert clerk.said() == f"Stopped. {count} of 4 papers lie in {tmp_path / 'stopped'}."
    clerk.dialog._save_in(tmp_path / "whole")  # noqa: SLF001 - the same
    qtbot.waitUntil(lambda: clerk.is_done() and clerk.said().startswith("4 papers"))
    assert len(clerk.made.written) == count + 4


def test_that_saved_labels_of_a_twin_wait_for_the_right_log(qtbot: QtBot, tmp_path: Path) -> None:
    clerk = Clerk(qtbot, FakePress(log=LEFT))
    clerk.dialog.all.click()
    clerk.press(Qt.Key.Key_S, ALT)
    qtbot.waitUntil(lambda: clerk.dialog.log_dialog is not None and clerk.dialog.log_dialog.field.hasFocus())
    log = clerk.dialog.log_dialog
    assert log is not None
    clerk.type("right")
    clerk.press(ENTER)
    assert log.said.text() == WRONG.format(right="left")
    assert clerk.made.written == []
    clerk.type("left")
    clerk.press(ENTER)
    clerk.name_the_place(tmp_path / "twin")
    qtbot.waitUntil(lambda: len(clerk.made.written) == 4 and clerk.is_done())
    assert clerk.made.written[0] == tmp_path / "twin" / "W-0012-work-order.pdf"


def test_that_a_paper_that_fails_is_said_and_what_was_done_stays(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress(refuses=kinds.CARD))
    for key in (SPACE, DOWN, SPACE):
        clerk.press(key)
    clerk.dialog.print_these.click()
    qtbot.waitUntil(clerk.is_done)
    assert clerk.said() == "1 of 2 papers went to the printer. Then: Task card cannot be made."


def test_that_closing_while_papers_are_made_stops_them_and_leaves_nothing_running(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress())
    desk = clerk.desk
    for key in (SPACE, DOWN, SPACE):
        clerk.press(key)
    clerk.dialog.print_these.click()
    ended: list[object] = []
    desk.ended.connect(ended.append)
    clerk.dialog.reject()
    assert not desk.is_busy
    assert ended == []


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(CONTRAST), Look(LIGHT, 200)])
def test_that_no_words_are_cut_and_everything_is_named_in_any_look(qtbot: QtBot, look: Look) -> None:
    clerk = Clerk(qtbot, FakePress(), look)
    clerk.dialog.all.click()
    clerk.settle()
    assert clerk.dialog.width() <= 1280
    assert clerk.dialog.height() <= 800
    for button in clerk.dialog.findChildren(QAbstractButton):
        if button.isVisible() and button.text():
            words = QFontMetrics(button.font()).horizontalAdvance(button.text().replace("&", ""))
            assert words <= button.width(), button.text()
            assert button.mapTo(clerk.dialog, button.rect().bottomRight()).x() <= clerk.dialog.width(), button.text()
    assert clerk.dialog.table.accessibleName() == "Papers"
    assert clerk.dialog.table.viewport().height() >= look.pixels(80)
