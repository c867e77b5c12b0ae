"""An open order in its window, by real keys: what is done from it, and the pages that it opens."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QTextEdit, QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application, make_shop_window
from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.storage.shop_store import new_shop
from desktop.usecases.shop.orders.discrepancies import add_discrepancy
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.viewmodels.orders.discrepancy_forms import DiscrepancyForm
from desktop.windows.frame.shop_window import ShopWindow
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.orders.order_place import OrderPlace
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.records.record_page import RecordsPage
from desktop.windows.signing.approval_page import ApprovalPage
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.records.acting_floor import PHRASES, ActingFloor

CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
SUBMIT, ACCEPT = RecordKind.CARD_SUBMITTED, RecordKind.CARD_ACCEPTED
LOOKS = [Look(LIGHT), Look(DARK), Look(LIGHT, 200)]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file with an order whose one card is filled."""
    place = tmp_path_factory.mktemp("order") / "trial.shop"
    with new_shop(place, "Trial Works", TEXT, QUIET) as file:
        ActingFloor(file, None).staffed().filled()
    return place


@pytest.fixture
def floor(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ActingFloor]:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with opened(Path(shutil.copy(made, tmp_path / "trial.shop"))) as file:
        yield ActingFloor(file, None)


class Sitting:
    """Somebody at the window with the order open; every key is counted."""

    def __init__(self, qtbot: QtBot, floor: ActingFloor, person: str) -> None:
        application()
        self.floor = floor
        self.window: ShopWindow = make_shop_window(floor.shop, "Trial Works")
        self.window.desk.person_id = person
        qtbot.addWidget(self.window, before_close_func=_may_close)
        self.window.show()
        self.window.activateWindow()
        self.window.show_order(1)
        self.keys = 0
        self.settle()

    @property
    def place(self) -> OrderPlace:
        assert self.window.order_place is not None
        return self.window.order_place

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, key, held)
        self.keys += 1
        self.settle()

    def fill(self, *texts: str) -> None:
        for text in texts:
            QTest.keyClicks(QApplication.focusWidget() or self.window, text)
            self.keys += len(text)
            self.press(Qt.Key.Key_Return)

    def at(self) -> str:
        widget = QApplication.focusWidget()
        return _name(widget) if widget else ""

    def is_on_the_order(self) -> bool:
        return self.place.page is None

    def is_asked_to_sign(self) -> bool:
        return self.place.sign_dialog is not None

    def message(self) -> str:
        return self.place.hub_page.foot.message.text()

    @staticmethod
    def settle() -> None:
        for _ in range(6):
            QApplication.processEvents()


def _may_close(window: QWidget) -> None:
    assert isinstance(window, ShopWindow)
    window._may_close = True  # noqa: SLF001 - the test is over, whatever was typed


def _name(control: QWidget) -> str:
    return control.accessibleName() or QAccessible.queryAccessibleInterface(control).text(QAccessible.Text.Name)


def test_that_the_board_is_set_by_the_space_bar(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    while sitting.at() != "Plug leads: on":
        sitting.press(Qt.Key.Key_Tab)
    sitting.press(Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not floor.order().board[2].is_normal)
    assert sitting.at() == "Plug leads: off, not as it flies"
    assert sitting.place.hub_page.board.title.text() == "Not as it flies: plug leads off"
    words = [label.text() for label in sitting.place.hub_page.findChildren(QLabel)]
    assert any("plug leads: off" in word.lower() for word in words)


def test_that_a_discrepancy_is_added_and_settled_by_keys(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(lambda: isinstance(sitting.place.page, EntryPage))
    sitting.settle()
    assert sitting.at() == "Discrepancy: What was found"
    sitting.fill("The left clamp is worn.")
    assert sitting.at() == "Add it"
    sitting.press(Qt.Key.Key_Return)
    assert sitting.message() == "Added."
    assert sitting.keys == 1 + 23 + 2
    sitting.place.hub_page.around.setFocus()
    sitting.press(Qt.Key.Key_Home)
    sitting.press(Qt.Key.Key_Return)
    assert sitting.at() == "How it ended: It is"
    sitting.fill("c", "A new clamp was fitted.")
    sitting.press(Qt.Key.Key_Return, CTRL)
    assert sitting.message() == "Discrepancy 1 is settled."
    settled = floor.order().discrepancies[0].settled
    assert settled is not None
    sitting.place.hub_page.around.setFocus()
    sitting.press(Qt.Key.Key_Return)
    assert "stands on the order and stays" in sitting.message()


def test_that_what_was_typed_into_a_form_waits_and_is_asked_about_on_closing(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.place._open_named("part")  # noqa: SLF001 - as its button does
    sitting.settle()
    sitting.fill("off", "GK-2")
    sitting.press(Qt.Key.Key_Escape)
    assert sitting.is_on_the_order()
    assert sitting.place.is_begun
    sitting.place._open_named("part")  # noqa: SLF001 - the same
    sitting.settle()
    page = sitting.place.page
    assert isinstance(page, EntryPage)
    assert page.rows["number"].value() == "GK-2"
    sitting.press(Qt.Key.Key_Escape)
    assert not sitting.window.close()
    assert sitting.message() == "Not kept yet: W-0001: A part off or on. It waits in its form."


def test_that_a_refused_form_keeps_what_was_typed_and_says_why(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "KEEP")
    sitting.place.show_form("discrepancy", DiscrepancyForm())
    sitting.settle()
    sitting.fill("The left clamp is worn.")
    sitting.press(Qt.Key.Key_Return)
    page = sitting.place.page
    assert isinstance(page, EntryPage)
    assert "may not do this: add a discrepancy" in page.foot.message.text()
    assert page.rows["found"].value() == "The left clamp is worn."


def test_that_a_change_in_another_window_is_seen_on_the_order(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is worn.")
    with qtbot.waitSignal(sitting.place.hub.changed_elsewhere, timeout=3000):
        pass
    assert sitting.place.hub_page._changed.text() == "Changed in another window: discrepancy 1 added."  # noqa: SLF001


def test_that_escape_leads_from_a_page_to_the_order_and_from_the_order_to_the_list(
    qtbot: QtBot, floor: ActingFloor
) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.place.show_approval(approves=True)
    sitting.settle()
    assert isinstance(sitting.place.page, ApprovalPage)
    sitting.press(Qt.Key.Key_Escape)
    assert sitting.is_on_the_order()
    sitting.press(Qt.Key.Key_Escape)
    assert sitting.window.order_place is None


def test_that_the_wording_is_edited_and_the_facts_are_not(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.press(Qt.Key.Key_Return)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    assert page.facts.isReadOnly()
    assert page.foot.act.text() == "Approve for return to service"
    field = page.fields["work"]
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "Both magnetos timed by M-360, revision 9. The left one was overhauled.")
    page.fields["remarks"].setFocus()
    sitting.settle()
    assert "Both magnetos timed by M-360" in page.facts.toPlainText()
    words = [label.text() for label in page.findChildren(QLabel)]
    assert any(word.startswith('Look again: The wording says "overhaul"') for word in words)
    page.foot.act.setFocus()
    sitting.press(Qt.Key.Key_Return)
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert "Both magnetos timed by M-360, revision 9." in dialog.text.toPlainText()
    dialog.reject()


def test_that_an_inspection_asks_for_its_statement_and_an_order_is_not_approved_with_a_reason(
    qtbot: QtBot, floor: ActingFloor
) -> None:
    add_discrepancy(floor.shop, floor.on("MECH"), 1, "The left clamp is cracked.")
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.press(Qt.Key.Key_N, ALT)
    qtbot.waitUntil(lambda: isinstance(sitting.place.page, ApprovalPage))
    sitting.settle()
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    assert sitting.at() == "Reason for not approving"
    page.foot.act.click()
    assert page.foot.message.text().startswith("Write the reason first")
    QTest.keyClicks(page.fields["reason"], "The left clamp has to be replaced.")
    page.kind.setFocus()
    QTest.keyClicks(page.kind, "p")
    sitting.settle()
    assert page.session.kind.value == "part of an inspection"
    assert any("certifying statement for not airworthy" in words for words in page.session.missing())
    assert "The left clamp has to be replaced." in page.facts.toPlainText()
    assert "The left clamp is cracked." in page.facts.toPlainText()
    page.foot.act.click()
    assert not sitting.is_asked_to_sign()
    assert "lacks" in page.foot.message.text()
    QTest.keyClick(page.kind, Qt.Key.Key_Home)
    page.foot.act.click()
    sitting.settle()
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert dialog.session.sign(PHRASES["ROLF"])
    dialog.accept()
    sitting.settle()
    assert floor.order().state.value == "not approved"
    assert sitting.message() == "Not approved; the list goes to the owner."


def test_that_an_order_is_made_void_by_a_signature_with_its_reason(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "DESK")
    sitting.press(Qt.Key.Key_E, ALT)
    qtbot.waitUntil(lambda: isinstance(sitting.place.page, EntryPage))
    sitting.settle()
    sitting.fill("Too short")
    sitting.press(Qt.Key.Key_Return, CTRL)
    assert not sitting.is_asked_to_sign()
    sitting.press(Qt.Key.Key_A, CTRL)
    sitting.fill("Opened twice: the work goes on under another number.")
    sitting.press(Qt.Key.Key_Return, CTRL)
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert "Opened twice: the work goes on under another number." in dialog.session.text()
    assert floor.order().state.value == "for inspection"
    assert dialog.session.sign(PHRASES["DESK"])
    dialog.accept()
    sitting.settle()
    assert (floor.order().state.value, sitting.message()) == ("void", "W-0001 is void.")
    assert sitting.place.hub_page.buttons["void"].isHidden()
    assert not sitting.place.is_begun


def test_that_who_may_not_void_an_order_reads_it_before_anything_is_typed(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.press(Qt.Key.Key_E, ALT)
    qtbot.waitUntil(lambda: "front desk" in sitting.message())
    assert sitting.is_on_the_order()
    assert sitting.message().endswith("Ctrl+I: who works here.")


def test_that_an_approval_that_something_stands_against_is_refused_on_its_page(
    qtbot: QtBot, floor: ActingFloor
) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    set_safe_state(floor.shop, floor.on("MECH"), 1, SafeItem.PLUGS, is_normal=False)
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.press(Qt.Key.Key_Return)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    page.foot.act.click()
    assert not sitting.is_asked_to_sign()
    assert "plugs: out" in page.foot.message.text()


def test_that_a_record_of_the_order_is_opened_verified_and_corrected_by_keys(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.press(Qt.Key.Key_G, ALT)
    qtbot.waitUntil(lambda: isinstance(sitting.place.page, RecordsPage))
    sitting.settle()
    page = sitting.place.page
    assert isinstance(page, RecordsPage)
    sitting.press(Qt.Key.Key_Return)
    assert page.record.head.text().endswith("Seal and signatures were verified.")
    assert "Record: card submitted" in page.record.text.toPlainText()
    sitting.press(Qt.Key.Key_C, ALT)
    qtbot.waitUntil(page.entry.isVisible)
    sitting.settle()
    assert sitting.at() == "Correction: Wrong in it"
    sitting.fill("light 338", "light 337.5", "It was written down wrongly.")
    sitting.press(Qt.Key.Key_Return)
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert "  It holds instead: light 337.5" in dialog.text.toPlainText()
    assert dialog.session.sign(PHRASES["MECH"])
    dialog.accept()
    sitting.settle()
    assert "It holds instead: light 337.5" in page.record.corrections.text()
    assert page.record.foot.message.text().startswith("The correction is signed")


def test_that_of_a_record_that_is_not_sound_nothing_is_shown(
    qtbot: QtBot, floor: ActingFloor, monkeypatch: pytest.MonkeyPatch
) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "MECH")
    sitting.place.show_records()
    sitting.settle()
    page = sitting.place.page
    assert isinstance(page, RecordsPage)
    monkeypatch.setattr(
        "desktop.usecases.records.signing.see_record.signature_troubles",
        lambda *_: ("does not bear the signature of X",),
    )
    page.open_record(5)
    assert "does not bear the signature" in page.record.head.text()
    assert page.record.text.toPlainText() == ""
    assert not page.record.text.isVisible()
    assert not page.record.correct.isVisible()


View = Callable[[OrderPlace], object]
VIEWS: dict[str, View] = {
    "order": lambda _place: None,
    "job": lambda place: place.show_job(),
    "directive": lambda place: place._open_named("directive"),  # noqa: SLF001 - as its button does
    "inspection": lambda place: place.show_card(1),
    "approval": lambda place: place.show_approval(approves=False),
    "records": lambda place: place.show_records(),
}


@pytest.mark.parametrize("name", VIEWS)
def test_that_every_control_is_named_and_no_words_are_cut_in_any_look(
    qtbot: QtBot, floor: ActingFloor, name: str
) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "ROLF")
    for look in LOOKS:
        sitting.window.set_look(look)
        sitting.place.show_hub()
        VIEWS[name](sitting.place)
        sitting.settle()
        assert (sitting.window.width(), sitting.window.height()) == (1280, 800)
        for kind in (QLineEdit, QComboBox, QAbstractButton, QTextEdit):
            for control in sitting.window.findChildren(kind):
                if control.isVisible():
                    assert _name(control), control
        for label in sitting.place.findChildren(QLabel):
            if label.isVisible() and label.text():
                room = label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
                assert label.height() >= room, (look.percent, label.text(), label.height(), room)
                wide = label.width() >= label.sizeHint().width() or label.wordWrap()
                assert wide, (look.percent, label.text())
        for button in sitting.place.findChildren(QAbstractButton):
            if button.isVisible() and button.text():
                assert button.width() >= button.minimumSizeHint().width(), (look.percent, button.text())
