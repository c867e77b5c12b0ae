"""How an open order looks: the board without green or red, headings above their lists, keys at every size of text."""

import pytest
from PySide6.QtGui import QAction, QColor
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from desktop.app import application, make_window
from desktop.core.left_off import DARK, LeftOff
from desktop.core.shop.orders.safe_state import SafeItem, new_board, with_state
from desktop.windows.orders.board_view import BoardView
from desktop.windows.pieces.look import DARK as DARK_COLOURS
from desktop.windows.pieces.look import LIGHT, Look
from desktop.windows.pieces.page_foot import PageFoot
from tests.usecases.shop.shop_floor import Floor
from tests.windows.manners_floor import Sitting


def colours_of(widget: QWidget) -> set[str]:
    picture = widget.grab().toImage()
    return {
        picture.pixelColor(x, y).name() for x in range(0, picture.width(), 2) for y in range(0, picture.height(), 2)
    }


@pytest.mark.parametrize("colours", [LIGHT, DARK_COLOURS])
def test_that_the_board_shows_no_green_and_no_red_and_marks_what_is_off(qtbot: QtBot, colours: object) -> None:
    application()
    look = Look(LIGHT) if colours is LIGHT else Look(DARK_COLOURS)
    board = new_board(Floor().with_order().order().opened)
    view = BoardView(board, look)
    qtbot.addWidget(view)
    view.setStyleSheet(look.sheet())
    view.resize(372, 400)
    view.show()
    good, stop, ask = (QColor(one).name() for one in (look.colours.good, look.colours.stop, look.colours.ask))
    assert not colours_of(view) & {good, stop, ask}
    view.show_board(with_state(board, SafeItem.PLUG_LEADS, board[0].by, is_normal=False))
    assert ask in colours_of(view.rows[2])
    assert not colours_of(view) & {good, stop}
    assert view.rows[2].accessibleName() == "Plug leads: off, not as it flies"


def test_that_headings_stand_right_above_their_lists(qtbot: QtBot) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    sitting.window.show_order(1)
    sitting.settle()
    assert sitting.window.order_place is not None
    page = sitting.window.order_place.hub_page
    cards = page._cards_title  # noqa: SLF001 - where it stands is what is looked at
    assert 0 <= page.cards.geometry().top() - cards.geometry().bottom() <= 16
    assert page.buttons["records"].width() <= page.width() // 3


@pytest.mark.parametrize("percent", [150, 200])
def test_that_at_large_text_the_cards_stand_before_the_board_and_the_board_is_said_above(
    qtbot: QtBot, percent: int
) -> None:
    sitting = Sitting(qtbot, Floor().with_card())
    sitting.window.set_look(Look(LIGHT, percent))
    sitting.window.show_order(1)
    sitting.settle()
    assert sitting.window.order_place is not None
    page = sitting.window.order_place.hub_page
    top = page.cards.mapTo(page, page.cards.rect().topLeft()).y()
    assert top + page.cards.rowHeight(0) < page.foot.y()
    assert top < page.board.mapTo(page, page.board.rect().topLeft()).y()
    assert page._safe.isVisible()  # noqa: SLF001 - what is shown
    assert page._safe.text() == "As it flies: treat the propeller as live"  # noqa: SLF001 - the same


@pytest.mark.parametrize(("percent", "width"), [(100, 1280), (200, 1280), (100, 640)])
def test_that_the_keys_are_said_at_every_size_of_text(qtbot: QtBot, percent: int, width: int) -> None:
    application()
    look = Look(LIGHT, percent)
    foot = PageFoot("Open the order", "Enter: next field   Esc: back", "Back")
    qtbot.addWidget(foot)
    foot.setStyleSheet(look.sheet())
    foot.resize(width, 120)
    foot.set_look(look, width)
    foot.show()
    keys = foot._keys  # noqa: SLF001 - what is shown
    assert keys.isVisible()
    assert keys.width() >= min(keys.sizeHint().width(), 200)
    assert foot.act.geometry().right() <= width


class Kept:
    """A memory that keeps the last thing that was written."""

    def __init__(self) -> None:
        self.left_off = LeftOff(shop="/mill.shop", theme=DARK, percent=150, person="TR")

    def read(self) -> LeftOff:
        """Return it."""
        return self.left_off

    def write(self, left_off: LeftOff) -> None:
        """Keep it."""
        self.left_off = left_off


def test_that_the_window_of_a_single_card_remembers_theme_and_size_and_nothing_else(qtbot: QtBot) -> None:
    application()
    memory = Kept()
    window = make_window(None, memory)
    qtbot.addWidget(window)
    assert window.look == Look(DARK_COLOURS, 150)
    [larger] = [one for one in window.findChildren(QAction) if "Larger" in one.text()]
    larger.trigger()
    assert memory.left_off == LeftOff(shop="/mill.shop", theme=DARK, percent=175, person="TR")
