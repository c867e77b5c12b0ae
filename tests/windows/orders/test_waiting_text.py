"""What was typed on an order and not kept: it waits, whichever way one leaves, and one's own act is no change."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from desktop.core.records.record import RecordKind
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.signing.approval_page import ApprovalPage
from desktop.windows.signing.inspection_page import InspectionPage
from tests.usecases.records.acting_floor import PHRASES, ActingFloor
from tests.windows.orders.test_order_place import ACCEPT, ALT, CTRL, SUBMIT, Sitting, floor, made

__all__ = ["floor", "made"]
CLAMP = "The left clamp is loose."


@pytest.fixture(params=["list", "back"])
def leave(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def form_page(qtbot: QtBot, sitting: Sitting) -> EntryPage:
    """Open the form of a discrepancy by its key."""
    sitting.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(lambda: isinstance(sitting.place.page, EntryPage))
    sitting.settle()
    page = sitting.place.page
    assert isinstance(page, EntryPage)
    return page


def go(sitting: Sitting, way: str) -> None:
    if way == "list":
        sitting.press(Qt.Key.Key_1, CTRL)
        assert sitting.window.order_place is None
        sitting.window.show_order(1)
        sitting.settle()
    else:
        sitting.press(Qt.Key.Key_Escape)
        assert sitting.is_on_the_order()


def test_that_remarks_at_an_approval_wait_and_are_asked_about(qtbot: QtBot, floor: ActingFloor, leave: str) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.press(Qt.Key.Key_Return)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    page.fields["remarks"].setFocus()
    QTest.keyClicks(page.fields["remarks"], CLAMP)
    go(sitting, leave)
    assert not sitting.window.close()
    [box] = sitting.window.findChildren(QMessageBox)
    assert box.text() == "Not kept yet: W-0001: the maintenance entry. Closed now, it is lost."
    box.close()
    sitting.place.show_approval(approves=True)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    assert page.fields["remarks"].toPlainText() == CLAMP
    page.foot.act.click()
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert CLAMP in dialog.text.toPlainText()
    assert dialog.session.sign(PHRASES["ROLF"])
    dialog.accept()
    sitting.settle()
    assert sitting.message() == "Approved for return to service."
    assert not sitting.window.is_begun


def test_that_a_refusal_to_approve_waits_with_its_decision(qtbot: QtBot, floor: ActingFloor, leave: str) -> None:
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.place.show_approval(approves=False)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    sitting.settle()
    QTest.keyClicks(page.fields["reason"], CLAMP)
    go(sitting, leave)
    sitting.place.show_approval(approves=True)
    page = sitting.place.page
    assert isinstance(page, ApprovalPage)
    assert (page.decision.currentIndex(), page.fields["reason"].toPlainText()) == (1, CLAMP)


def test_that_an_inspectors_reason_waits_for_the_inspector(qtbot: QtBot, floor: ActingFloor, leave: str) -> None:
    floor.act("MECH", SUBMIT)
    sitting = Sitting(qtbot, floor, "ROLF")
    sitting.place.show_card(1)
    page = sitting.place.page
    assert isinstance(page, InspectionPage)
    page.reason.setFocus()
    QTest.keyClicks(page.reason, CLAMP)
    go(sitting, leave)
    assert sitting.window.desk.begun.names() == "W-0001: the reason at card 1"
    sitting.place.show_card(1)
    page = sitting.place.page
    assert isinstance(page, InspectionPage)
    assert page.reason.text() == page.session.reason == CLAMP
    page.give_back.click()
    dialog = sitting.place.sign_dialog
    assert dialog is not None
    assert dialog.session.sign(PHRASES["ROLF"])
    dialog.accept()
    sitting.settle()
    assert not sitting.window.is_begun
    assert sitting.place.hub.cards.line(0).next_step == f"returned by ROLF: {CLAMP}"


def test_that_a_form_waits_when_one_goes_to_the_list(qtbot: QtBot, floor: ActingFloor, leave: str) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    form_page(qtbot, sitting)
    editor = QApplication.focusWidget()
    assert editor is not None
    QTest.keyClicks(editor, CLAMP)
    go(sitting, leave)
    page = form_page(qtbot, sitting)
    assert page.rows["found"].value() == CLAMP
    page.keep()
    sitting.settle()
    assert floor.order().discrepancies[0].found == CLAMP
    assert not sitting.window.is_begun


def test_that_ones_own_signature_is_no_change_of_another_window(qtbot: QtBot, floor: ActingFloor) -> None:
    sitting = Sitting(qtbot, floor, "MECH")
    heard: list[object] = []
    sitting.place.hub.changed_elsewhere.connect(heard.append)
    for who, kind in (("MECH", SUBMIT), ("ROLF", ACCEPT), ("ROLF", RecordKind.APPROVED)):
        sitting.window.become(who)
        if kind is RecordKind.APPROVED:
            sitting.place.show_approval(approves=True)
        else:
            sitting.place.show_card(1)
        page = sitting.place.page
        assert page is not None
        sitting.settle()
        if kind is ACCEPT:
            page.foot.act.click()  # type: ignore[union-attr]  # an inspection has a foot
        elif kind is SUBMIT:
            page.session.act()  # type: ignore[union-attr]  # a card has a session
        else:
            page.foot.act.click()  # type: ignore[union-attr]  # an approval has a foot
        dialog = sitting.place.sign_dialog
        assert dialog is not None, kind
        assert dialog.session.sign(PHRASES[who])
        dialog.accept()
        sitting.settle()
        assert sitting.is_on_the_order()
        assert not sitting.place.hub_page._changed.isVisible()  # noqa: SLF001 - what is shown
    assert heard == []
    assert floor.order().state.value == "approved"


def test_that_what_is_somebody_elses_says_whose_and_asks_who_it_is(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.act("MECH", SUBMIT)
    floor.act("ROLF", ACCEPT)
    sitting = Sitting(qtbot, floor, "DESK")
    act = sitting.place.hub_page.foot.act
    assert act.text() == "An authorised person approves…"
    with qtbot.waitSignal(sitting.place.who_asked):
        act.click()
    assert sitting.is_on_the_order()
