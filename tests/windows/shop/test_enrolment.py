"""Who may sign, in the window: enrolling, a new secret, withdrawing, unlocking, each with a small dialog."""

import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desktop.app import application
from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person, Right
from desktop.storage.shop_store import new_shop
from desktop.usecases.records.keys.secrets import hand_of
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.viewmodels.pieces.bench import Bench, Signing
from desktop.viewmodels.shop.people_model import PeopleDesk
from desktop.viewmodels.shop.tools_model import ToolsDesk
from desktop.viewmodels.signing.enrol_desk import EnrolDesk, Typed
from desktop.windows.pieces.look import DARK, LIGHT, Look
from desktop.windows.shop.enrol_page import EnrolPage
from desktop.windows.shop.people_page import PeoplePage
from desktop.windows.shop.signed_list_page import SignedListPage
from desktop.windows.shop.tools_page import ToolsPage
from desktop.windows.signing.enrol_dialog import EnrolDialog
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.records.acting_floor import PEOPLE, ActingFloor
from tests.usecases.records.signing_floor import OTHER_PHRASE, SINCE

KEEP, DESK = "tansy ladder 7 oboe", "violet anchor nine"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file in which KEEP and DESK are enrolled, and the others stand on the roster only."""
    place = tmp_path_factory.mktemp("enrol") / "trial.shop"
    with new_shop(place, "Trial Works", TEXT, QUIET) as file:
        floor = ActingFloor(file, None)
        for person in PEOPLE:
            keep_person(floor.shop, floor.by("KEEP"), person)
        floor.enrol("KEEP", "DESK")
    return place


@pytest.fixture
def floor(made: Path, tmp_path: Path) -> Iterator[ActingFloor]:
    with opened(Path(shutil.copy(made, tmp_path / "trial.shop"))) as file:
        yield ActingFloor(file, None)


class Keeper:
    """The records keeper at the page."""

    def __init__(self, qtbot: QtBot, floor: ActingFloor, person: str = "KEEP") -> None:
        application()
        self.floor = floor
        ids = count()
        new_id = lambda: f"{id(self)}-{next(ids)}"  # noqa: E731 - said once
        self.desk = EnrolDesk(floor.shop, Signing(floor.desk, floor.file), lambda: person, new_id)
        bench = Bench((), Signing(floor.desk, floor.file))
        people = PeopleDesk(floor.shop, lambda: person, new_id, bench=bench)
        self.people = PeoplePage(people, Look(), self.desk)
        self.tools = ToolsPage(ToolsDesk(floor.shop, lambda: person, new_id, bench=bench), Look())
        qtbot.addWidget(self.tools)
        self.people.setStyleSheet(Look().sheet())
        self.people.resize(1280, 760)
        qtbot.addWidget(self.people)
        self.people.show()
        self.people.activateWindow()
        self.keys = 0
        self.settle()

    @property
    def page(self) -> EnrolPage:
        assert self.people.enrol_page is not None
        return self.people.enrol_page

    def open(self, person: str) -> None:
        self.people.show_enrolment()
        self.settle()
        row = self.desk.model.row_of(person)
        assert row is not None
        self.page.list_page.table.setCurrentIndex(self.desk.model.index(row, 0))
        self.settle()

    def state(self, person: str) -> str:
        row = self.desk.model.row_of(person)
        assert row is not None
        state: str = self.desk.model.line(row).state
        return state

    def dialog(self) -> EnrolDialog:
        assert self.page.dialog is not None
        return self.page.dialog

    def is_asked(self) -> bool:
        return self.page.dialog is not None

    def press(self, key: Qt.Key) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.people, key)
        self.keys += 1
        self.settle()

    def fill(self, *texts: str) -> None:
        """Type each text, and go on with Tab; Enter at the end."""
        for text in texts[:-1]:
            QTest.keyClicks(QApplication.focusWidget() or self.people, text)
            self.press(Qt.Key.Key_Tab)
        QTest.keyClicks(QApplication.focusWidget() or self.people, texts[-1])
        self.press(Qt.Key.Key_Return)

    @staticmethod
    def settle() -> None:
        for _ in range(5):
            QApplication.processEvents()


def test_that_somebody_is_enrolled_by_keys_with_a_secret_typed_twice(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.open("MECH")
    assert keeper.state("MECH") == "not enrolled"
    keeper.press(Qt.Key.Key_Return)
    dialog = keeper.dialog()
    assert [field.accessibleName() for field in dialog.asked] == [
        "New secret",
        "New secret, once more",
        "Secret of KEEP",
    ]
    keeper.fill(OTHER_PHRASE, OTHER_PHRASE, KEEP)
    assert not keeper.is_asked()
    assert keeper.state("MECH") == "can sign"
    assert keeper.page.list_page.foot.message.text().startswith("Mel Chan can sign now. Print the declaration")
    assert keeper.keys == 4
    hand_of(floor.desk, "MECH", OTHER_PHRASE).key.close()


def test_that_two_secrets_that_differ_and_a_bad_one_are_refused_and_every_field_is_empty(
    qtbot: QtBot, floor: ActingFloor
) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.open("MECH")
    keeper.press(Qt.Key.Key_Return)
    dialog = keeper.dialog()
    keeper.fill(OTHER_PHRASE, "copper 5 lanterns hum", KEEP)
    assert dialog.said.text() == "The two new secrets are not the same. Type both again."
    assert [field.text() for field in dialog.asked] == ["", "", ""]
    keeper.fill("aaaaaaaaaa", "aaaaaaaaaa", KEEP)
    assert "tried first" in dialog.said.text()
    keeper.fill(OTHER_PHRASE, OTHER_PHRASE, "not the secret at all")
    assert dialog.said.text().startswith("This is not the secret of Kit Eeper.")
    assert keeper.state("MECH") == "not enrolled"
    dialog.act.click()
    assert dialog.asked[0].hasFocus()
    said = [label.text() for label in dialog.findChildren(QLabel)] + [dialog.windowTitle()]
    assert not any(OTHER_PHRASE in words or KEEP in words for words in said)
    dialog.reject()
    keeper.settle()
    assert not keeper.is_asked()


def test_that_a_secret_stands_in_no_words_about_what_was_typed() -> None:
    assert repr(Typed("one", "two", "why", "three")) == "Typed()"


def test_that_a_new_secret_takes_the_place_of_the_old_one(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.open("DESK")
    assert [name for name, button in keeper.page.buttons.items() if button.isVisible()] == ["replace", "withdraw"]
    keeper.page.buttons["replace"].click()
    keeper.settle()
    keeper.fill(OTHER_PHRASE, OTHER_PHRASE, KEEP)
    assert keeper.page.list_page.foot.message.text() == "Dora Esk signs with the new secret from now on."
    with pytest.raises(Refusal):
        hand_of(floor.desk, "DESK", DESK)


def test_that_somebody_is_withdrawn_with_a_reason_and_can_be_enrolled_again(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.open("DESK")
    keeper.page.ask("withdraw")
    keeper.settle()
    keeper.fill("She left the shop.", KEEP)
    assert keeper.state("DESK") == "withdrawn"
    assert keeper.page.list_page.foot.message.text() == "Dora Esk signs no more."
    keeper.open("DESK")
    assert [name for name, button in keeper.page.buttons.items() if button.isVisible()] == ["enrol"]
    keeper.page.ask("withdraw")
    assert not keeper.is_asked()


def test_that_a_change_on_the_roster_is_signed(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.change("DESK", name="Dora Eskdale")
    keeper = Keeper(qtbot, floor)
    keeper.open("DESK")
    assert keeper.state("DESK") == "changed since"
    keeper.press(Qt.Key.Key_Return)
    keeper.fill(KEEP)
    assert keeper.state("DESK") == "can sign"


def test_that_a_locked_key_is_unlocked_by_another_records_keeper(qtbot: QtBot, floor: ActingFloor) -> None:
    floor.wrong(10, "DESK")
    keeper = Keeper(qtbot, floor)
    keeper.open("DESK")
    assert keeper.state("DESK") == "locked"
    keeper.press(Qt.Key.Key_Return)
    keeper.fill(KEEP)
    assert keeper.state("DESK") == "can sign"


def test_that_the_first_of_a_shop_enrols_themselves_without_another_secret(qtbot: QtBot, tmp_path: Path) -> None:
    with new_shop(tmp_path / "new.shop", "New Works", TEXT, QUIET) as file:
        floor = ActingFloor(file, None)
        keep_person(floor.shop, floor.by("KEEP"), Person("KEEP", "Kit Eeper", (Right.RECORDS,), SINCE))
        keeper = Keeper(qtbot, floor)
        keeper.open("KEEP")
        keeper.press(Qt.Key.Key_Return)
        assert len(keeper.dialog().asked) == 2
        keeper.fill(KEEP, KEEP)
        assert keeper.state("KEEP") == "can sign"
        keeper.people.close()


def test_that_escape_leads_back_to_the_people(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.people.signing.click()
    keeper.settle()
    assert keeper.page.isVisible()
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.people.list_page.isVisible()


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(LIGHT, 200)])
def test_that_the_page_and_its_dialog_are_whole_in_any_look(qtbot: QtBot, floor: ActingFloor, look: Look) -> None:
    keeper = Keeper(qtbot, floor)
    keeper.people.setStyleSheet(look.sheet())
    keeper.people.set_look(look)
    keeper.open("DESK")
    keeper.page.ask("replace")
    keeper.settle()
    dialog = keeper.dialog()
    assert dialog.width() <= 1280
    for label in dialog.findChildren(QLabel):
        if label.isVisible():
            assert label.height() >= label.heightForWidth(label.width()), label.text()
    dialog.reject()
    keeper.settle()


def test_that_the_list_keeps_the_rules_of_item_models(
    qtbot: QtBot, floor: ActingFloor, qtmodeltester: ModelTester
) -> None:
    keeper = Keeper(qtbot, floor)
    qtmodeltester.check(keeper.desk.model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays
    keeper.desk.look()
    assert keeper.desk.model.rowCount() == 4


def typed(page: SignedListPage, path: str, text: str) -> None:
    """Take what was typed into a field of the form."""
    page.form.commit(next(field for field in page.form.fields() if field.path == path), text)


def sign_what_was_typed(page: SignedListPage, secret: str) -> str:
    """Type a secret into the dialog that is open, and Enter; return what the dialog says then."""
    dialog = page.dialog
    assert dialog is not None
    dialog.secret.setText(secret)
    QTest.keyClick(dialog.secret, Qt.Key.Key_Return)
    Keeper.settle()
    return dialog.said.text() if page.dialog is not None else ""


def test_that_a_last_day_of_somebody_enrolled_is_signed_before_it_is_kept(qtbot: QtBot, floor: ActingFloor) -> None:
    keeper = Keeper(qtbot, floor)
    page = keeper.people
    row = page._people.model.row_of("DESK")  # noqa: SLF001 - the list that is shown
    assert row is not None
    page.open_line(row)
    typed(page, "until", "1 June 2031")
    page.keep()
    assert page.dialog is not None
    words = " ".join(label.text() for label in page.dialog.findChildren(QLabel))
    assert "With the shop until: 2031-06-01" in words
    assert "secret" in sign_what_was_typed(page, "not the secret at all").lower()
    assert floor.on_roster("DESK").until is None
    floor.clock.move(600)
    assert sign_what_was_typed(page, KEEP) == ""
    assert str(floor.on_roster("DESK").until) == "2031-06-01"
    assert page.list_page.foot.message.text() == "Dora Esk is kept as changed."
    assert floor.problems() == []
    keeper.open("DESK")
    assert keeper.state("DESK") == "can sign"


def test_that_somebody_who_is_not_enrolled_is_kept_without_a_signature(qtbot: QtBot, floor: ActingFloor) -> None:
    page = Keeper(qtbot, floor).people
    row = page._people.model.row_of("MECH")  # noqa: SLF001 - the list that is shown
    assert row is not None
    page.open_line(row)
    typed(page, "until", "1 June 2031")
    page.keep()
    assert page.dialog is None
    assert str(floor.on_roster("MECH").until) == "2031-06-01"


def test_that_a_tool_is_signed_before_it_stands_on_the_list_of_a_shop_that_signs(
    qtbot: QtBot, floor: ActingFloor
) -> None:
    page = Keeper(qtbot, floor).tools
    page.show()
    page.open_new()
    for path, text in (("id", "L-7"), ("name", "timing light"), ("care", "check before use")):
        typed(page, path, text)
    page.keep()
    assert page.dialog is not None
    assert "Number: L-7" in " ".join(label.text() for label in page.dialog.findChildren(QLabel))
    assert floor.file.tools() == ()
    page.dialog.reject()
    Keeper.settle()
    assert page.is_begun
    page.open_new()
    page.keep()
    assert sign_what_was_typed(page, KEEP) == ""
    assert [tool.id for tool in floor.file.tools()] == ["L-7"]
    assert floor.file.records().last_envelope().number == 3  # type: ignore[union-attr]
    assert floor.problems() == []
