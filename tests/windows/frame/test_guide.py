"""The guide is held to the windows: what it names is there, each place has its page, and each page is reached."""

import ast
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow, QMessageBox
from pytestqt.qtbot import QtBot

from desktop.app import application, make_window
from desktop.core.guide import Mark
from desktop.files.guide import builtin_guide
from desktop.viewmodels.frame.guide import KEYS_PAGE, Guide, Shortcut, foot_shortcuts, keys_page
from desktop.windows.frame import real_keys
from desktop.windows.frame.guide_page import NOTHING, GuideWindow
from desktop.windows.frame.present_place import (
    FIRST_START,
    LOCKED,
    NEW_ORDER,
    OF_AN_ORDER,
    ORDER,
    OVER_A_WINDOW,
    SINGLE_CARD,
    WORK_ORDERS,
)
from desktop.windows.frame.real_keys import FEET, menu_shortcuts
from desktop.windows.pieces.look import CONTRAST, DARK, LIGHT, Look
from desktop.windows.shop.shop_pages import PLACES
from tests.usecases.shop.shop_floor import Floor
from tests.windows.manners_floor import Sitting
from tests.windows.real_words import RealWords, guide_in, same

CTRL = Qt.KeyboardModifier.ControlModifier
EVERY_PLACE = (
    WORK_ORDERS,
    NEW_ORDER,
    ORDER,
    LOCKED,
    FIRST_START,
    SINGLE_CARD,
    *(place.name for place in PLACES),
    *(name for _, name in (*OF_AN_ORDER, *OVER_A_WINDOW)),
)
WINDOWS = Path(real_keys.__file__).parents[1]


@pytest.fixture
def sitting(qtbot: QtBot) -> Sitting:
    return Sitting(qtbot, Floor().with_card())


def test_that_every_label_and_every_key_that_the_guide_names_is_in_the_windows(qtbot: QtBot, tmp_path: Path) -> None:
    real = RealWords(qtbot, tmp_path)
    missing = [
        (page.id, mark.value, text)
        for page in builtin_guide()
        for mark, there in ((Mark.LABEL, real.words), (Mark.KEY, real.keys))
        for text in page.marked(mark)
        if (same(text) if mark is Mark.LABEL else text) not in there
    ]
    assert missing == []


@pytest.mark.parametrize("place", EVERY_PLACE)
def test_that_every_place_has_a_page_of_its_own(place: str) -> None:
    assert place in Guide(builtin_guide()).page_for(place).places


def test_that_no_page_is_for_a_place_that_there_is_not() -> None:
    known = {*EVERY_PLACE, "Records", "Sheets", "Limits sheets"}
    assert {place for page in builtin_guide() for place in page.places} <= known


def test_that_f1_opens_the_page_of_each_place(sitting: Sitting) -> None:
    window = sitting.window
    opened = {}
    for number, name in enumerate((WORK_ORDERS, *(place.name for place in PLACES))):
        window.show_place(number)
        window.activateWindow()
        sitting.qtbot.waitUntil(window.isActiveWindow)
        sitting.press(Qt.Key.Key_F1)
        opened[name] = guide_in(sitting).current.places
        guide_in(sitting).close()
    assert all(name in places for name, places in opened.items()), opened
    for show, name in (
        (window.show_new_order, NEW_ORDER),
        (lambda: window.show_order(1), ORDER),
        (lambda: window.show_card(1, 1), "Card"),
    ):
        show()
        sitting.manners.door.open()
        assert name in guide_in(sitting).current.places
    sitting.manners.lock_now()
    sitting.manners.door.open()
    assert LOCKED in guide_in(sitting).current.places


def test_that_f1_opens_the_page_of_a_card_without_a_shop_and_closes_with_it(qtbot: QtBot) -> None:
    application()
    window = make_window()
    qtbot.addWidget(window)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QTest.keyClick(window, Qt.Key.Key_F1)
    [guide] = [one for one in QApplication.topLevelWidgets() if isinstance(one, GuideWindow) and one.isVisible()]
    assert guide.current.id == "one-card"
    assert not guide.testAttribute(Qt.WidgetAttribute.WA_QuitOnClose)
    guide.close()


def test_that_f1_opens_the_guide_also_over_a_question(sitting: Sitting) -> None:
    sitting.press(Qt.Key.Key_N, CTRL)
    sitting.type("XQ")
    assert not sitting.window.close()
    [box] = sitting.window.findChildren(QMessageBox)
    QTest.keyClick(box, Qt.Key.Key_F1)
    assert NEW_ORDER in guide_in(sitting).current.places
    box.close()


def test_that_every_page_is_reached_from_the_list_by_keys(sitting: Sitting) -> None:
    sitting.press(Qt.Key.Key_F1)
    guide = guide_in(sitting)
    sitting.qtbot.waitUntil(guide.list.hasFocus)
    QTest.keyClick(guide.list, Qt.Key.Key_Home)
    seen = [guide.current.id]
    for _ in range(guide.list.count() - 1):
        QTest.keyClick(guide.list, Qt.Key.Key_Down)
        seen.append(guide.current.id)
        assert guide.current.title in guide.text.toPlainText()
    assert seen == [*(page.id for page in builtin_guide()), KEYS_PAGE]
    QTest.keyClick(guide.list, Qt.Key.Key_Escape)
    assert not guide.isVisible()


def test_that_words_are_found_and_links_lead_on(sitting: Sitting) -> None:
    sitting.press(Qt.Key.Key_F1)
    guide = guide_in(sitting)
    guide.search.setFocus()
    QTest.keyClicks(guide.search, "live mixture")
    assert [guide.list.item(row).text() for row in range(guide.list.count())] == ["When a magneto does not cut"]
    assert guide.current.id == "no-cut"
    guide.search.clear()
    QTest.keyClicks(guide.search, "zeppelin")
    assert guide.list.count() == 0
    assert guide.foot.message.text() == NOTHING
    guide.show_page("orders")
    assert guide.search.text() == ""
    guide.text.anchorClicked.emit(QUrl("new-order"))
    assert guide.current.id == "new-order"
    guide.show_page("no such page")
    assert guide.current.id == "new-order"
    QTest.keyClick(guide.search, Qt.Key.Key_Down)
    assert guide.current.id == "order"
    QTest.keyClick(guide.search, Qt.Key.Key_Return)
    assert guide.text.hasFocus()


def test_that_the_page_of_keys_holds_every_key_of_the_menus_and_of_every_foot(sitting: Sitting) -> None:
    sitting.manners.door.open(page=KEYS_PAGE)
    said = guide_in(sitting).text.toPlainText()
    for one in menu_shortcuts(sitting.window):
        assert one.keys in said
        assert one.what in said
    for _, foot in FEET:
        for one in foot_shortcuts("", foot):
            assert f"{one.keys}  {one.what}".replace("  ", " ") in " ".join(said.split()), one


def test_that_every_foot_with_keys_is_on_the_page_of_keys() -> None:
    on_the_page = {said for _, said in FEET} | {""}
    left_out = {"hangar_view.py", "first_start_page.py"}  # the one in other words, the other before there is a shop
    for place in sorted(WINDOWS.rglob("*.py")):
        for node in ast.parse(place.read_text("utf-8")).body:
            if isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == "KEYS" for t in node.targets):
                said = ast.literal_eval(node.value)
                assert place.name in left_out or said in on_the_page, f"{place.name}: FEET of real_keys.py"


def test_that_every_action_of_the_menus_with_keys_has_keys_of_its_own(sitting: Sitting) -> None:
    assert isinstance(sitting.window, QMainWindow)
    keys = [one.keys for one in menu_shortcuts(sitting.window)]
    assert len(set(keys)) == len(keys)


def test_that_a_page_of_keys_is_grouped_by_where() -> None:
    page = keys_page((Shortcut("A", "go", "X"), Shortcut("A", "stay", "Y"), Shortcut("B", "leave", "Z")))
    assert [one.words for one in page.paragraphs] == ["A", "X\u2003go", "Y\u2003stay", "B", "Z\u2003leave"]
    assert foot_shortcuts("P", "Up, Down: choose   nothing   Esc: back") == (
        Shortcut("P", "choose", "Up, Down"),
        Shortcut("P", "back", "Esc"),
    )


def test_that_an_unknown_place_leads_to_the_first_page_and_no_words_to_all() -> None:
    guide = Guide(builtin_guide())
    assert guide.page_for("Nowhere") is guide.pages[0]
    assert guide.find(" ") == guide.pages
    assert guide.page("nothing") is None


@pytest.mark.parametrize("look", [Look(LIGHT), Look(DARK), Look(CONTRAST), Look(LIGHT, 200)])
def test_that_no_page_is_wider_than_its_window(sitting: Sitting, look: Look) -> None:
    sitting.window.set_look(look)
    sitting.manners.door.open()
    guide = guide_in(sitting)
    guide.resize(1280, 760)
    guide.set_look(look)
    sitting.settle()
    for page in guide._guide.pages:  # noqa: SLF001 - the pages that are listed
        guide.show_page(page.id)
        sitting.settle()
        assert guide.text.horizontalScrollBar().maximum() == 0, page.id
