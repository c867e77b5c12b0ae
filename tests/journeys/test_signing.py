"""A job signed by the keyboard: submitted, returned, accepted, approved and closed, every key counted."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from desktop import shop_assembly
from desktop.app import application, make_shop_window
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.people.people import Person, Right
from desktop.storage.shop_store import new_shop
from desktop.usecases.shop.cards.take_reading import take_reading
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage
from desktop.windows.signing.sign_dialog import SignDialog
from tests.storage.file_floor import QUIET, TEXT
from tests.usecases.records.acting_floor import PHRASES, ActingFloor
from tests.usecases.records.signing_floor import SINCE

ALT = Qt.KeyboardModifier.AltModifier
NONE = Qt.KeyboardModifier.NoModifier
SUBMITTED, RETURNED, ACCEPTED = RecordKind.CARD_SUBMITTED, RecordKind.CARD_RETURNED, RecordKind.CARD_ACCEPTED
REASON = "Read the left magneto once more."


@pytest.fixture
def floor(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ActingFloor]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with new_shop(tmp_path / "trial.shop", "Trial Works", TEXT, QUIET) as file:
        yield ActingFloor(file, None).staffed().filled()


class Seat:
    """One seat at the shop's window, at which people take turns; looks only at what has the keyboard."""

    def __init__(self, qtbot: QtBot, floor: ActingFloor, person: str) -> None:
        application()
        self.floor = floor
        self.window: ShopWindow = make_shop_window(floor.shop, "Trial Works")
        self.window.desk.person_id = person
        qtbot.addWidget(self.window)
        self.window.show()
        self.window.activateWindow()
        self.keys = 0
        self.counted: dict[str, int] = {}
        self.settle()

    def focus(self) -> QWidget:
        return QApplication.activePopupWidget() or QApplication.focusWidget() or self.window

    def at(self) -> str:
        return self.focus().accessibleName()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(self.focus(), key, held)
        self.keys += 1
        self.settle()

    def type(self, text: str) -> None:
        QTest.keyClicks(self.focus(), text)
        self.keys += len(text)

    def become(self, person: str) -> None:
        """Say who sits here now, through the menu."""
        self.press(Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier)
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        [words] = [one.text() for one in menu.actions() if one.text().endswith(f"({person})")]
        self.type(words.partition("&")[2][:1].lower())
        self.settle()
        assert self.window.desk.person_id == person

    def place(self) -> OrderPlace:
        assert self.window.order_place is not None
        return self.window.order_place

    def dialog(self) -> SignDialog:
        dialog = self.place().sign_dialog
        assert dialog is not None, "no signature is asked for"
        return dialog

    def sign(self, person: str) -> None:
        """Type the secret, sign, and close what was read back; the secret is not counted."""
        dialog = self.dialog()
        assert self.at() == "Your secret"
        self.type_secret(PHRASES[person])
        self.press(Qt.Key.Key_Return)
        assert dialog.session.kept is not None, dialog.said.text()
        assert dialog.secret.text() == ""
        self.press(Qt.Key.Key_Return)
        assert self.place().sign_dialog is None

    def type_secret(self, secret: str) -> None:
        """Type a secret sign by sign: one that no key of the test's keyboard has comes as a key of its own."""
        for sign in secret:
            event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_unknown, NONE, sign)
            QApplication.sendEvent(self.focus(), event)

    def count(self, what: str) -> None:
        self.counted[what] = self.keys - sum(self.counted.values())

    def settle(self) -> None:
        for _ in range(5):
            QApplication.processEvents()


def submit(seat: Seat) -> None:
    """From the order: open the card, which is filled, submit it, and sign."""
    seat.press(Qt.Key.Key_Return)
    page = seat.window.order_page
    assert page is not None
    assert page.page.act.text() == "Submit for inspection"
    while not page.page.act.hasFocus():
        seat.press(Qt.Key.Key_Tab)
    seat.press(Qt.Key.Key_Return)
    seat.sign("MECH")


def ask_to_submit(seat: Seat) -> None:
    """On the card: press the button at its last place."""
    page = seat.window.order_page
    assert page is not None
    page.page.act.setFocus()
    seat.press(Qt.Key.Key_Return)


def test_that_a_job_is_signed_by_keys_from_the_submission_to_the_closed_order(  # noqa: PLR0915 - one whole job
    qtbot: QtBot, floor: ActingFloor
) -> None:
    seat = Seat(qtbot, floor, "MECH")
    seat.press(Qt.Key.Key_Down)
    seat.press(Qt.Key.Key_Return)
    assert seat.place().hub_page.foot.act.text() == "Open card 1"
    submit(seat)
    assert floor.order().state is OrderState.FOR_INSPECTION
    seat.count("submit")

    seat.become("ROLF")
    assert seat.place().hub_page.foot.act.text() == "Inspect card 1"
    seat.press(Qt.Key.Key_Return)
    page = seat.place().page
    assert isinstance(page, InspectionPage)
    assert seat.at() == "The card in reading order"
    seat.press(Qt.Key.Key_PageDown)
    seat.press(Qt.Key.Key_S, ALT)
    assert seat.at() == "Reason for returning the card"
    QTest.keyClicks(seat.focus(), REASON)
    seat.press(Qt.Key.Key_Return)
    seat.sign("ROLF")
    assert floor.order().state is OrderState.IN_WORK
    seat.count("return")

    seat.become("MECH")
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].back", "336.5"))
    seat.place().hub.look()
    submit(seat)
    seat.count("submit again")

    seat.become("ROLF")
    seat.press(Qt.Key.Key_Return)
    page = seat.place().page
    assert isinstance(page, InspectionPage)
    assert REASON in page.side.toPlainText()
    assert any("approach 3, back" in words for words in page.session.changed_words())
    seat.press(Qt.Key.Key_C, ALT)
    qtbot.waitUntil(lambda: seat.place().sign_dialog is not None)
    seat.settle()
    seat.sign("ROLF")
    assert floor.order().state is OrderState.ACCEPTED
    seat.count("accept")

    assert seat.place().hub_page.foot.act.text() == "Approve…"
    seat.press(Qt.Key.Key_Return)
    assert isinstance(seat.place().page, ApprovalPage)
    seat.press(Qt.Key.Key_Return)
    assert "Approved for return to service" in seat.dialog().text.toPlainText()
    seat.sign("ROLF")
    assert floor.order().state is OrderState.APPROVED
    seat.count("approve")

    seat.become("DESK")
    assert seat.place().hub_page.foot.act.text() == "Close the order"
    seat.press(Qt.Key.Key_Return)
    assert floor.order().state is OrderState.CLOSED
    seat.count("close")

    # What was typed as words (secrets and the reason) is not counted; choosing who sits here is.
    assert seat.counted == {"submit": 6, "return": 8, "submit again": 6, "accept": 6, "approve": 4, "close": 3}
    records = [read_record(one.content).kind for one in floor.file.envelopes_about(1)]
    assert records == [SUBMITTED, RETURNED, SUBMITTED, ACCEPTED, RecordKind.APPROVED]
    floor.file.close()
    assert shop_assembly.check_shop(floor.file.place).problems == ()


def test_that_a_wrong_secret_is_refused_at_its_field_with_the_wait(qtbot: QtBot, floor: ActingFloor) -> None:
    seat = Seat(qtbot, floor, "MECH")
    seat.press(Qt.Key.Key_Down)
    seat.press(Qt.Key.Key_Return)
    seat.press(Qt.Key.Key_Return)
    ask_to_submit(seat)
    dialog = seat.dialog()
    seat.type("not my secret at all")
    seat.press(Qt.Key.Key_Return)
    assert "This is not the secret of Mel Chan. Wrong tries in a row: 1 of 10." in dialog.said.text()
    assert dialog.key_line.text() == "Wait 1 second, then try again."
    assert (dialog.secret.text(), dialog.act.isEnabled()) == ("", False)
    assert seat.at() == "Your secret"
    seat.type_secret(PHRASES["MECH"])
    seat.press(Qt.Key.Key_Return)
    assert (dialog.session.kept, floor.order().state) == (None, OrderState.IN_WORK)
    floor.clock.move(2)
    qtbot.waitUntil(dialog.act.isEnabled, timeout=3000)
    assert dialog.key_line.text() == "Wrong tries in a row: 1."
    seat.press(Qt.Key.Key_Return)
    assert dialog.session.kept is not None
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_nobody_is_asked_to_sign_their_own_work(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMITTED)
    seat = Seat(qtbot, floor, "MECH")
    seat.press(Qt.Key.Key_Down)
    seat.press(Qt.Key.Key_Return)
    seat.press(Qt.Key.Key_Return)
    page = seat.place().page
    assert isinstance(page, InspectionPage)
    page.foot.act.click()
    assert seat.place().sign_dialog is None
    assert "did work on this card, and nobody inspects their own work" in page.foot.message.text()
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_a_reason_is_asked_for_before_anything_is_signed(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMITTED)
    seat = Seat(qtbot, floor, "ROLF")
    seat.window.show_card(1, 1)
    seat.settle()
    seat.press(Qt.Key.Key_S, ALT)
    seat.type("no")
    seat.press(Qt.Key.Key_Return)
    assert seat.place().sign_dialog is None
    page = seat.place().page
    assert isinstance(page, InspectionPage)
    assert page.foot.message.text().startswith("Write the reason first")


def test_that_what_another_window_changed_is_shown_again_before_it_is_signed(qtbot: QtBot, floor: ActingFloor) -> None:
    seat = Seat(qtbot, floor, "MECH")
    seat.window.show_card(1, 1)
    seat.settle()
    ask_to_submit(seat)
    dialog = seat.dialog()
    before = dialog.text.toPlainText()
    take_reading(floor.shop, floor.on("MECH"), 1, 1, ("left.approach[3].back", "336.25"))
    seat.type_secret(PHRASES["MECH"])
    seat.press(Qt.Key.Key_Return)
    assert "Nothing was signed." in dialog.said.text()
    assert (dialog.act.isEnabled(), seat.focus().text()) == (False, "Look at it again")  # type: ignore[attr-defined]
    assert floor.file.envelopes_about(1) == ()
    seat.press(Qt.Key.Key_Return)
    after = dialog.text.toPlainText()
    assert "336.25" not in before
    assert "336.25" in after
    seat.sign("MECH")
    assert floor.order().state is OrderState.FOR_INSPECTION


def test_that_the_secret_stands_in_no_title_text_clipboard_or_log(
    qtbot: QtBot, floor: ActingFloor, caplog: pytest.LogCaptureFixture
) -> None:
    seat = Seat(qtbot, floor, "MECH")
    seat.window.show_card(1, 1)
    seat.settle()
    ask_to_submit(seat)
    dialog = seat.dialog()
    secret = PHRASES["MECH"]
    seat.type_secret(secret)
    seat.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    seat.press(Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    seat.press(Qt.Key.Key_X, Qt.KeyboardModifier.ControlModifier)
    assert secret not in QApplication.clipboard().text()
    seat.type_secret(secret)
    assert dialog.secret.text() == secret
    assert secret not in dialog.secret.displayText()
    said = [dialog.windowTitle(), seat.window.windowTitle(), dialog.text.toPlainText(), caplog.text]
    said += [label.text() for label in dialog.findChildren(QLabel)]
    assert not any(secret in words for words in said)
    dialog.reject()
    assert dialog.secret.text() == ""
    dialog.secret.undo()
    assert dialog.secret.text() == ""
    assert floor.order().state is OrderState.IN_WORK


def test_that_somebody_who_is_not_enrolled_is_told_so_and_asked_for_no_secret(qtbot: QtBot, floor: ActingFloor) -> None:
    keep_person(floor.shop, floor.by("KEEP"), Person("NEWM", "Nora Ewm", (Right.MECHANIC,), SINCE))
    seat = Seat(qtbot, floor, "NEWM")
    seat.window.show_card(1, 1)
    seat.settle()
    page = seat.window.order_page
    assert page is not None
    page.page.act.setFocus()
    seat.press(Qt.Key.Key_Return)
    assert seat.place().sign_dialog is None
    assert page.page.message.text() == "Nora Ewm is not enrolled to sign. A records keeper enrols people."
