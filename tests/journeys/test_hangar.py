"""From the propeller: the remaining readings of a card by keypad and space bar alone, every key counted."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from desktop import assembly, shop_assembly
from desktop.app import application, make_window
from desktop.core.timing.results import Verdict
from desktop.core.timing.typed_card import TypedCard
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.fill_card import look_at
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.windows.frame.main_window import MainWindow
from desktop.windows.hangar.hangar_view import HangarView
from desktop.windows.orders.order_page import OrderPage
from desktop.windows.pieces.look import Look
from tests.commands.test_shop_commands import order_with

KEYPAD = Qt.KeyboardModifier.KeypadModifier
SIGNS = {
    **{str(figure): Qt.Key(Qt.Key.Key_0.value + figure) for figure in range(10)},
    ".": Qt.Key.Key_Period,
    "-": Qt.Key.Key_Minus,
    "+": Qt.Key.Key_Plus,
    "/": Qt.Key.Key_Slash,
    "*": Qt.Key.Key_Asterisk,
}


class Propeller:
    """Somebody at the propeller with a keypad and a space bar; looks at the hangar view only."""

    def __init__(self, view: HangarView) -> None:
        self.view = view
        self.keys = 0

    def pad(self, signs: str) -> None:
        """Press signs on the keypad."""
        for sign in signs:
            event = QKeyEvent(QKeyEvent.Type.KeyPress, SIGNS[sign], KEYPAD, sign)
            QApplication.sendEvent(self.view, event)
            self.keys += 1
            QApplication.processEvents()

    def press(self, key: Qt.Key) -> None:
        """Press another key."""
        QTest.keyClick(self.view, key)
        self.keys += 1
        QApplication.processEvents()

    def read(self, signs: str) -> None:
        """Type a reading and press the keypad's Enter."""
        self.pad(signs)
        self.press(Qt.Key.Key_Enter)

    def go_on_to(self, title: str) -> None:
        """Press the space bar until a step is shown, with its readings if it has any."""
        for _ in range(100):
            shown = self.view.desk.shown()
            if shown.place.title == title and (shown.is_work or shown.next_words != "the readings"):
                return
            self.press(Qt.Key.Key_Space)
        raise AssertionError(f"there is no step {title}")


def _nothing_to_save(window: QWidget) -> None:
    assert isinstance(window, MainWindow)
    window.session.is_saved = True


def _without_readings(card: TypedCard) -> TypedCard:
    """The data of a card whose stop contacts are taken and whose approaches are not."""
    assert card.left is not None
    assert card.right is not None
    return replace(card, left=replace(card.left, approach=None), right=replace(card.right, approach=None))


def _open(qtbot: QtBot, typed: TypedCard) -> tuple[MainWindow, Propeller]:
    application()
    window = make_window()
    qtbot.addWidget(window, before_close_func=_nothing_to_save)
    window.session.begin_with(look_at(typed, assembly.rulebook()))
    window.show()
    window.activateWindow()
    window.page.show_place(0)
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    focused = QApplication.focusWidget()
    assert focused is not None
    QTest.keyClick(focused, Qt.Key.Key_F11)
    QApplication.processEvents()
    view = window.page.hangar.view
    assert view is not None
    return window, Propeller(view)


def test_that_the_readings_of_a_card_are_taken_from_the_propeller_with_keypad_and_space_bar(qtbot: QtBot) -> None:
    typed = next(typed for job, typed in demo_jobs() if job.name == "sound")
    window, hand = _open(qtbot, _without_readings(typed))
    for side in ("Left", "Right"):
        hand.go_on_to(f"{side}, set and as left")
        assert hand.view.verdict.words.words == "No reading yet"
        assert hand.view.entry.label.words == "Began at"
        assert hand.view.turn.way.words == "counter-clockwise"
        hand.read("305")
        assert hand.view.verdict.words.words == "Reading still open"
        hand.read("336.5")
        hand.read("334.5")
        if hand.view.entry.label.words == "Snap passed first":
            hand.read("1")
        assert hand.view.verdict.words.words == "Within: 23.5° BTDC"
        assert hand.view.tiles[2].value.words == "336.5"
        assert hand.view.entry.value.words == "all done"
    worked = window.session.state.checked
    assert worked is not None
    assert [result.verdict for result in worked.worked.magnetos] == [Verdict.WITHIN, Verdict.WITHIN]
    assert hand.keys <= 50, f"it took {hand.keys} keys"
    hand.press(Qt.Key.Key_Escape)
    assert window.page.hangar.view is None
    assert window.page.place().title == "Right, set and as left"


def test_that_a_second_approach_begins_with_its_first_figure(qtbot: QtBot) -> None:
    typed = next(typed for job, typed in demo_jobs() if job.name == "sound")
    window, hand = _open(qtbot, typed)
    hand.go_on_to("Left, set and as left")
    before = window.session.state.typed.left
    assert before is not None
    hand.read("300")
    after = window.session.state.typed.left
    assert after is not None
    assert len(after.approach or ()) == len(before.approach or ()) + 1
    assert hand.view.entry.label.words == "Light came at"
    assert hand.view.verdict.words.words == "Reading still open"
    hand.press(Qt.Key.Key_F11)


def test_that_a_split_disc_asks_for_the_side_of_tdc(qtbot: QtBot) -> None:
    typed = next(typed for job, typed in demo_jobs() if job.name == "against-rotation")
    window, hand = _open(qtbot, _without_readings(typed))
    hand.go_on_to("Left, set and as left")
    assert "- before   + after" in hand.view.entry.hint.words
    assert hand.view.tiles[1].label.words == "Window, before TDC"
    hand.read("55")
    assert hand.view.verdict.reason.words == "Which side of TDC? - is before, + is after."
    hand.pad("-")
    assert hand.view.entry.value.words == "55 before_"
    hand.press(Qt.Key.Key_Enter)
    left = window.session.state.typed.left
    assert left is not None
    assert [one.began for one in left.approach or ()] == ["55 before"]
    hand.press(Qt.Key.Key_Escape)


def test_that_a_presenters_remote_goes_forward_and_back_through_boxes_and_readings(qtbot: QtBot) -> None:
    typed = next(typed for job, typed in demo_jobs() if job.name == "sound")
    _, hand = _open(qtbot, typed)
    hand.go_on_to("TDC with the piston stop")
    seen = []
    for key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_PageDown, Qt.Key.Key_PageDown):
        hand.press(key)
        shown = hand.view.desk.shown()
        seen.append((shown.place.id, shown.is_work))
    assert seen == [
        ("tdc", False),
        ("right-magneto", False),
        ("tdc", False),
        ("tdc", True),
        ("left-found", False),
    ]
    hand.press(Qt.Key.Key_Escape)


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shop]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    place = tmp_path / "quarry-lane.shop"
    shop_assembly.make_shop(place, "Quarry Lane Aero Works", "Lena Ode", "LO")
    order_with(place, "XQ-TBK", _without_readings(next(typed for job, typed in demo_jobs() if job.name == "sound")))
    with shop_assembly.shop_at(place) as opened:
        yield opened


def test_that_a_step_of_an_order_is_read_initialled_and_its_safe_state_shown(qtbot: QtBot, shop: Shop) -> None:
    application()
    session = OrderSession(shop, "LO", (1, 1), shop_assembly.new_id)
    page = OrderPage(session, Look())
    qtbot.addWidget(page)
    page.show()
    page.page.open_hangar()
    assert page.page.hangar.view is not None
    hand = Propeller(page.page.hangar.view)
    hand.go_on_to("Safe state")
    assert hand.view.safe.words.words == "As it flies: treat the propeller as live"
    assert hand.view.words_entry.label.words == "Switch"
    hand.read("2")
    assert hand.view.safe.words.words == "Not as it flies: switch not at OFF"
    assert hand.view.words_entry.label.words == "Battery and starter"
    hand.go_on_to("As left: left magneto")
    for reading in ("305", "336.5", "334.5"):
        hand.read(reading)
    while hand.view.entry.value.words != "all done":
        assert "1 yes" in hand.view.entry.hint.words
        hand.read("1")
    assert hand.view.verdict.words.words == "Within: 23.5° BTDC"
    assert session.card.done("as-left-left") is not None
    hand.press(Qt.Key.Key_Escape)
    page.rest()
