"""The keeper of begun text, and the words of the safe-state board."""

from datetime import UTC, datetime

from desktop.core.shop.orders.safe_state import SafeItem, new_board, with_state
from desktop.core.shop.stamp import Stamp
from desktop.viewmodels.pieces.begun import Begun, OnOrder
from desktop.viewmodels.pieces.board_words import LIVE, board_words

BY = Stamp("MECH", datetime(2031, 3, 4, 9, tzinfo=UTC))


def test_that_text_waits_where_it_was_typed_until_it_is_taken_or_kept() -> None:
    begun = Begun()
    mine, theirs = OnOrder(1, "part", "MECH"), OnOrder(1, "part", "INSP")
    begun.put(mine, "W-0001: a part", "GK-2")
    assert begun.take(theirs) is None
    begun.put(theirs, "W-0001: a part", "GK-3")
    assert (begun.names(), begun.places()) == ("W-0001: a part, W-0001: a part", (mine, theirs))
    assert begun.names(lambda key: key == theirs) == "W-0001: a part"
    assert begun.take(mine) == "GK-2"
    begun.put(theirs, "W-0001: a part", None)
    assert not begun


def test_that_a_board_with_everything_in_its_place_says_that_the_propeller_is_live() -> None:
    board = new_board(BY)
    assert board_words(board) == LIVE == "As it flies: treat the propeller as live"
    for item in (SafeItem.PLUGS, SafeItem.PLUG_LEADS):
        board = with_state(board, item, BY, is_normal=False)
    assert board_words(board) == "Not as it flies: plug leads off, plugs out"
