"""Who works at the window: nobody until somebody says so, and then by name on every page."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu
from pytestqt.qtbot import QtBot

from desktop.core.left_off import LeftOff
from desktop.viewmodels.frame.shop_desk import NOBODY
from desktop.viewmodels.orders.listed import Listed
from desktop.viewmodels.pieces.bench import Signing
from desktop.windows.frame.real_keys import plain
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.person_box import PersonBox
from tests.usecases.records.signing_floor import PHRASES, made_floor
from tests.usecases.shop.shop_floor import Floor
from tests.windows.manners_floor import Sitting

CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
PEOPLE = (("TR", "Tom Rill"), ("MC", "Mel Chan"), ("AV", "Ada Varn"), ("AR", "Rolf de Aar"))


@pytest.fixture
def empty(qtbot: QtBot) -> Sitting:
    """Return a window that was just opened in a shop of five."""
    return Sitting(qtbot, Floor().with_card(), who="")


def enabled(sitting: Sitting) -> set[str]:
    return {plain(one.text()) for one in sitting.window.findChildren(QAction) if one.isEnabled() and one.text()}


def test_that_nobody_is_at_work_until_somebody_says_so(empty: Sitting) -> None:
    window = empty.window
    assert (window.person, window.who.text()) == ("", NOBODY)
    assert empty.manners.watch.page.title.text() == "Who works here"
    assert empty.at() == "Who goes on"
    for key in (Qt.Key.Key_1, Qt.Key.Key_3, Qt.Key.Key_N):
        empty.press(key, CTRL)
    empty.press(Qt.Key.Key_Escape)
    assert (window.person, window.present_place(), empty.manners.lock.is_locked) == ("", "Work orders", True)
    empty.type("me")
    empty.press(Qt.Key.Key_Return)
    assert (window.person, window.orders_desk.person_id) == ("MECH", "MECH")
    assert window.who.text() == "At work: Mel Chan (MECH)"
    assert window.who.isVisible()
    assert not empty.manners.lock.is_locked


def test_that_what_is_said_at_the_opening_stands_at_the_question(empty: Sitting) -> None:
    empty.window.say("This is the demo: everything in it is invented.")
    assert empty.manners.watch.page.here.text().startswith("This is the demo: everything in it is invented. Type")
    empty.press(Qt.Key.Key_Return)
    assert empty.window.orders.foot.message.text() == "This is the demo: everything in it is invented."


def test_that_whoever_worked_here_last_is_the_first_choice_and_one_key_is_enough(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card(), who="", last="INSP")
    sitting.press(Qt.Key.Key_Return)
    assert sitting.window.person == "INSP"
    assert sitting.kept[-1].person == "INSP"


def test_that_a_window_that_is_closed_unanswered_still_remembers_the_person(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor(), who="", last="INSP")
    sitting.window.close()
    assert (sitting.kept[-1].person, sitting.kept[-1].is_locked) == ("INSP", False)


def test_that_a_secret_is_asked_for_where_people_have_one_at_the_beginning_and_at_a_change(
    qtbot: QtBot, tmp_path: Path
) -> None:
    signed = made_floor(tmp_path / "mill.shop", None).enrol("KEEP", "MECH")
    sitting = Sitting(qtbot, Floor(), "", signing=Signing(signed.desk, signed.file))
    sitting.type("ke")
    sitting.press(Qt.Key.Key_Return)
    assert (sitting.window.person, sitting.at()) == ("", "Your secret")
    sitting.type("not the secret at all")
    sitting.press(Qt.Key.Key_Return)
    assert sitting.window.person == ""
    signed.clock.move(5)
    sitting.type(PHRASES["KEEP"])
    sitting.press(Qt.Key.Key_Return)
    assert sitting.window.person == "KEEP"
    [choice] = [one for one in sitting.window.findChildren(QAction) if plain(one.text()) == "Mel Chan (MECH)"]
    choice.trigger()
    sitting.settle()
    assert (sitting.window.person, sitting.at()) == ("KEEP", "Your secret")
    assert sitting.manners.watch.page.who.currentData() == "MECH"
    sitting.press(Qt.Key.Key_Escape)
    assert (sitting.window.person, sitting.manners.lock.is_locked) == ("KEEP", False)
    sitting.window.close()
    signed.file.close()


def test_that_another_person_comes_to_the_window_with_five_keys(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    sitting.window.show_order(1)
    sitting.settle()
    sitting.press(Qt.Key.Key_I, CTRL)
    sitting.type("ins")
    sitting.press(Qt.Key.Key_Return)
    assert sitting.window.person == "INSP"
    assert sitting.window.present_place() == "Order"
    sitting.press(Qt.Key.Key_I, CTRL)
    sitting.press(Qt.Key.Key_Escape)
    assert sitting.window.person == "INSP"


def test_that_a_question_left_open_for_the_shops_minutes_is_answered_by_nobody_else(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor())
    sitting.press(Qt.Key.Key_I, CTRL)
    sitting.wait(6)
    sitting.press(Qt.Key.Key_Escape)
    assert sitting.manners.lock.is_locked


def test_that_only_whoever_left_off_somewhere_goes_back_there(qtbot: QtBot) -> None:
    for who, place, listed in (("MECH", "Card", Listed.EVERY), ("INSP", "Work orders", Listed.MINE)):
        sitting = Sitting(qtbot, Floor().with_card(), who="", last="MECH")
        sitting.window.restore(LeftOff(order=1, card=1, person="MECH", listed="every"))
        sitting.type(who.lower())
        sitting.press(Qt.Key.Key_Return)
        assert sitting.window.person == who
        assert sitting.window.present_place() == place
        assert sitting.window.orders_desk.asked is listed
        sitting.window.close()


def test_that_where_the_window_stands_is_kept_before_it_is_closed(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    sitting.window.show_card(1, 1)
    assert (sitting.kept[-1].order, sitting.kept[-1].card, sitting.kept[-1].person) == (1, 1, "MECH")
    sitting.press(Qt.Key.Key_3, CTRL)
    assert sitting.kept[-1] == LeftOff("/mill.shop", "People", person="MECH", listed="mine")


def test_that_everybody_in_the_menu_has_a_letter_of_their_own(empty: Sitting) -> None:
    [menu] = [one for one in empty.window.findChildren(QMenu) if one.title() == "Who works here"]
    letters = [one.text().partition("&")[2][:1].lower() for one in menu.actions() if not one.isSeparator()]
    assert len(letters) == 6
    assert "" not in letters
    assert len(set(letters)) == len(letters)


def test_that_the_menus_offer_what_means_something_on_the_page(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    of_card = {"Next open field", "Next step", "Step before", "Turn the view round"}
    assert not enabled(sitting) & (of_card | {"Papers of the order"})
    sitting.window.show_order(1)
    assert "Papers of the order" in enabled(sitting)
    assert not enabled(sitting) & of_card
    sitting.window.show_card(1, 1)
    assert of_card <= enabled(sitting)
    sitting.manners.lock_now()
    sitting.manners.lock.open("MECH", "")
    assert of_card <= enabled(sitting)
    sitting.press(Qt.Key.Key_1, CTRL)
    assert not enabled(sitting) & of_card


@pytest.mark.parametrize(
    ("typed", "found"),
    [("t", "TR"), ("mc", "MC"), ("av", "AV"), ("ar", "AR"), ("rol", "AR"), ("de", "AR"), ("tom r", "TR"), ("zz", "TR")],
)
def test_that_a_person_is_found_by_initials_or_by_the_first_letters_of_the_name(
    qtbot: QtBot, typed: str, found: str
) -> None:
    box = PersonBox(Look())
    qtbot.addWidget(box)
    box.show_people(PEOPLE, "")
    QTest.keyClicks(box, typed)
    assert box.currentData() == found


def test_that_letters_that_name_nobody_together_begin_anew(qtbot: QtBot) -> None:
    box = PersonBox(Look())
    qtbot.addWidget(box)
    box.show_people(PEOPLE, "AV")
    QTest.keyClicks(box, "am")
    assert box.currentData() == "MC"
    QTest.keyClick(box, Qt.Key.Key_Down)
    assert box.currentData() == "AV"


def test_that_a_person_who_comes_does_not_find_what_the_one_before_was_typing(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    window = sitting.window
    window.show_order(1)
    sitting.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(lambda: sitting.at() == "Discrepancy: What was found")
    sitting.type("The left clamp")
    window.become("INSP")
    assert window.present_place() == "Order"
    sitting.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(lambda: sitting.at() == "Discrepancy: What was found")
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    assert editor.text() == ""
    window.become("MECH")
    sitting.press(Qt.Key.Key_D, ALT)
    qtbot.waitUntil(lambda: sitting.at() == "Discrepancy: What was found")
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    assert editor.text() == "The left clamp"
