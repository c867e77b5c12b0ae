"""The preview by real keys: what is shown prints, the right words are said, and a wrong log prints nothing."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.usecases.papers import kinds
from desktop.viewmodels.paper.choices import Choice, card_choices, paper_choice, roster_choice
from desktop.viewmodels.paper.print_desk import PrintDesk
from desktop.windows.paper.preview_desk import PreviewDesk
from desktop.windows.paper.preview_dialog import MAKING, PreviewDialog
from desktop.windows.paper.printing import NO_PRINTER, ask_printer
from desktop.windows.paper.which_log_dialog import WRONG
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from tests.viewmodels.paper.fake_needs import LABELS, LEFT, PAPERS, FakePress
from tests.windows.paper.printed import FilePrinter, Hands

ALT, ENTER = Qt.KeyboardModifier.AltModifier, Qt.Key.Key_Return
LABEL = paper_choice(PAPERS[LABELS], LEFT)


class Clerk(Hands):
    """Somebody at a preview."""

    def __init__(self, qtbot: QtBot, press: FakePress, *choices: Choice, look: Look | None = None) -> None:
        super().__init__(qtbot)
        application()
        self.made, look = press, look or Look()
        self.window = QWidget()
        self.window.resize(1280, 800)
        look.dress(self.window)
        qtbot.addWidget(self.window)
        self.window.show()
        self.words: list[tuple[str, bool]] = []
        self.desk = PreviewDesk(self.window, PrintDesk(press.needs(), choices or card_choices(12, 1)), self.say, look)
        self.desk.begin()

    def say(self, words: str, *, refused: bool = False) -> None:
        self.words.append((words, refused))

    @property
    def preview(self) -> PreviewDialog:
        assert self.desk.preview is not None
        return self.desk.preview

    def opened(self) -> "Clerk":
        self.qtbot.waitUntil(lambda: self.desk.preview is not None)
        self.preview.activateWindow()
        self.qtbot.waitUntil(lambda: self.preview.print_button.hasFocus())  # noqa: PLW0108 - drawn up late
        return self


def test_that_the_preview_opens_once_the_paper_is_made_and_what_was_shown_prints(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress())
    assert clerk.words == [(MAKING, False)]
    assert clerk.desk.preview is None
    clerk.opened().press(ENTER)
    qtbot.waitUntil(lambda: clerk.desk.preview is None)
    assert clerk.words[-1] == ("The card went to the printer.", False)
    assert (len(clerk.made.made), clerk.made.remembered, printer.pages()) == (1, ["code of card"], 2)


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (roster_choice(), "Roster went to the printer."),
        (paper_choice(PAPERS[0]), "Work order went to the printer."),
        (card_choices(12, 1)[1], "The blank card went to the printer."),
    ],
)
def test_that_what_went_to_the_printer_is_called_what_it_is(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, choice: Choice, said: str
) -> None:
    FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress(), choice).opened()
    clerk.press(ENTER)
    qtbot.waitUntil(lambda: clerk.words[-1] == (said, False))


def test_that_a_preview_that_is_closed_remembers_nothing(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress()).opened()
    with qtbot.waitSignal(clerk.desk.ended):
        clerk.press(Qt.Key.Key_Escape)
    assert clerk.made.remembered == []


def test_that_blank_and_the_size_are_chosen_by_keys_and_saved_under_their_name(qtbot: QtBot, tmp_path: Path) -> None:
    clerk = Clerk(qtbot, FakePress()).opened()
    for letter in (Qt.Key.Key_W, Qt.Key.Key_I):
        clerk.press(letter, ALT)
        clerk.press(Qt.Key.Key_Down)
        qtbot.waitUntil(lambda: clerk.desk.desk.paper is not None and clerk.preview.said.text() == "")
    assert [(thing.kind, size) for thing, size in clerk.made.made] == [  # type: ignore[attr-defined]  # what was asked
        (kinds.CARD, "letter"),
        (kinds.BLANK_CARD, "letter"),
        (kinds.BLANK_CARD, "a4"),
    ]
    clerk.press(Qt.Key.Key_S, ALT)
    clerk.name_the_place(tmp_path / "mine.pdf")
    qtbot.waitUntil(lambda: clerk.words[-1] == ("The blank card is in mine.pdf.", False))
    assert clerk.made.written == [tmp_path / "mine.pdf"]
    assert clerk.made.remembered == ["code of blank-card"]


def test_that_a_place_that_cannot_be_used_is_said_in_the_preview_which_stays(qtbot: QtBot, tmp_path: Path) -> None:
    clerk = Clerk(qtbot, FakePress(full=True)).opened()
    clerk.press(Qt.Key.Key_S, ALT)
    clerk.name_the_place(tmp_path / "mine.pdf")
    qtbot.waitUntil(lambda: clerk.preview.said.text() == "The disk is full.")
    assert clerk.preview.print_button.isEnabled()


def test_that_what_cannot_be_made_is_said_on_the_page_and_opens_nothing(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress(refuses=kinds.CARD))
    qtbot.waitUntil(lambda: clerk.words[-1] == ("Task card cannot be made.", True))
    assert clerk.desk.preview is None


def test_that_of_a_choice_that_cannot_be_made_nothing_can_be_printed(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress(refuses=kinds.BLANK_CARD)).opened()
    clerk.press(Qt.Key.Key_W, ALT)
    clerk.press(Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: clerk.preview.said.text() == "Blank card cannot be made.")
    assert not clerk.preview.print_button.isEnabled()
    assert not clerk.preview.save_button.isEnabled()


def test_that_the_wrong_log_prints_nothing_and_the_right_one_the_label(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress(), LABEL).opened()
    clerk.press(ENTER)
    qtbot.waitUntil(lambda: clerk.desk.log_dialog is not None and clerk.desk.log_dialog.field.hasFocus())
    log = clerk.desk.log_dialog
    assert log is not None
    clerk.type("right")
    clerk.press(ENTER)
    assert log.said.text() == WRONG.format(right="left")
    assert (printer.sizes, clerk.made.remembered) == ([], [])
    clerk.type("left")
    clerk.press(ENTER)
    qtbot.waitUntil(lambda: clerk.words[-1][0] == "Maintenance entry on labels went to the printer.")
    assert printer.sizes == ["letter"]


def test_that_a_log_that_is_not_answered_prints_nothing(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    clerk = Clerk(qtbot, FakePress(), LABEL).opened()
    clerk.press(ENTER)
    qtbot.waitUntil(lambda: clerk.desk.log_dialog is not None and clerk.desk.log_dialog.field.hasFocus())
    clerk.press(Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: clerk.desk.log_dialog is None)
    assert (printer.sizes, clerk.preview.isVisible()) == ([], True)


def test_that_size_and_start_of_labels_are_chosen_in_the_preview(qtbot: QtBot) -> None:
    clerk = Clerk(qtbot, FakePress(), LABEL).opened()
    assert clerk.preview.start_box.count() == 6
    for letter in (Qt.Key.Key_F, Qt.Key.Key_L):
        clerk.press(letter, ALT)
        clerk.press(Qt.Key.Key_Down)
        qtbot.waitUntil(lambda: clerk.desk.desk.paper is not None and clerk.preview.said.text() == "")
    asked = clerk.made.made[-1][0]
    assert (asked.start, asked.label) == (2, clerk.preview.label_box.currentText())  # type: ignore[attr-defined]  # asked for
    assert clerk.preview.start_box.count() == clerk.desk.desk.label_count() != 6


def test_that_a_printer_that_is_off_is_said_and_nothing_is_remembered(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    FilePrinter(tmp_path, monkeypatch).answers = False
    clerk = Clerk(qtbot, FakePress()).opened()
    clerk.press(ENTER)
    qtbot.waitUntil(lambda: clerk.words[-1] == (NO_PRINTER, True))
    assert clerk.made.remembered == []


@pytest.mark.parametrize(("size", "kind"), [("a4", QPageSize.PageSizeId.A4), ("letter", QPageSize.PageSizeId.Letter)])
def test_that_the_systems_dialog_is_asked_on_the_size_of_paper(
    qtbot: QtBot, size: str, kind: QPageSize.PageSizeId
) -> None:
    application()
    window = QWidget()
    qtbot.addWidget(window)
    window.show()
    chosen: list[QPrinter] = []
    ask_printer(window, size, chosen.append)
    [dialog] = window.findChildren(QPrintDialog)
    dialog.accepted.emit(dialog.printer())
    assert chosen[0].pageLayout().pageSize().id() is kind
    assert chosen[0].fullPage()
    dialog.reject()


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(CONTRAST), Look(LIGHT, 200)])
@pytest.mark.parametrize("choices", [(LABEL,), card_choices(12, 1)], ids=["labels", "card"])
def test_that_no_words_are_cut_and_everything_is_named_in_any_look(
    qtbot: QtBot, look: Look, choices: tuple[Choice, ...]
) -> None:
    clerk = Clerk(qtbot, FakePress(), *choices, look=look).opened()
    assert clerk.preview.width() <= 1280
    assert clerk.preview.height() <= 800
    for one in clerk.preview.findChildren(QWidget):
        if not one.isVisible() or not isinstance(one, (QAbstractButton, QComboBox, QLabel)):
            continue
        words = one.currentText() if isinstance(one, QComboBox) else one.text()
        if isinstance(one, QComboBox):
            assert one.accessibleName()
        if words and not (isinstance(one, QLabel) and one.wordWrap()):
            assert QFontMetrics(one.font()).horizontalAdvance(words.replace("&", "")) <= one.width(), words
    assert QApplication.focusWidget() is clerk.preview.print_button
