"""What prints of what is shown: a list as it stands on screen, whole, and the papers that go with it."""

import pytest

from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.shop.list_paper import ListOnScreen
from desktop.usecases.shop.orders.open_order import open_order
from desktop.viewmodels.orders.order_list_model import OrderListModel
from desktop.viewmodels.paper import choices
from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.viewmodels.records.records_model import PagedLines
from tests.usecases.shop.shop_floor import NEW, Floor

COLUMNS = (ListColumn("Letter", lambda line: line), ListColumn("Twice", lambda line: line * 2))


def shown(choice: choices.Choice) -> ListOnScreen:
    assert isinstance(choice.thing, ListOnScreen)
    return choice.thing


def test_that_a_list_prints_its_cells_in_the_order_on_screen() -> None:
    model = LinesModel(COLUMNS, lambda line: line)
    model.show_lines(("b", "a"))
    choice = choices.list_choice("Letters", model, "Those that begin.")
    assert shown(choice) == ListOnScreen(
        "Letters", ("Letter", "Twice"), (("b", "bb"), ("a", "aa")), "Those that begin."
    )
    assert (choice.words, choice.file, choice.said) == ("This list", "letters", "The list")


def test_that_an_empty_list_says_what_the_page_says() -> None:
    assert (
        shown(choices.list_choice("Letters", LinesModel(COLUMNS, str), "", "Nothing found.")).empty == "Nothing found."
    )


def test_that_a_list_read_page_by_page_prints_every_page(monkeypatch: pytest.MonkeyPatch) -> None:
    model = PagedLines(COLUMNS, str, page=3)
    model.begin_again([str(number) for number in range(10)])
    assert model.rowCount() == 3
    assert len(shown(choices.list_choice("Numbers", model)).rows) == 10
    monkeypatch.setattr(choices, "MOST_LINES", 4)
    cut = shown(choices.list_choice("Numbers", model, "All."))
    assert len(cut.rows) == 4
    assert cut.asked == "All. The first 4 lines only."


def test_that_the_orders_print_as_they_are_found(monkeypatch: pytest.MonkeyPatch) -> None:
    floor = Floor()
    for _ in range(60):
        open_order(floor.shop, floor.new("DESK"), NEW)
    model = OrderListModel(floor.store)
    model.show_orders("", None)
    assert len(shown(choices.list_choice("Work orders", model)).rows) == 60
    model.show_orders("", OrderState.VOID)
    assert shown(choices.list_choice("Work orders", model)).rows == ()
    monkeypatch.setattr(choices, "MOST_LINES", 5)
    model.show_orders("mill", None)
    assert shown(choices.list_choice("Work orders", model)).rows[0][0] == "W-0060"


@pytest.mark.parametrize(
    ("choice", "asked", "file"),
    [
        (choices.record_choice(7), Asked(kinds.RECORD, of="7", reprint=True), "record-0007"),
        (choices.due_choice(), Asked(kinds.DUE), "shop-due"),
        (choices.roster_choice(), Asked(kinds.ROSTER), "shop-roster"),
        (choices.tools_choice(), Asked(kinds.TOOL_LIST), "shop-tool-list"),
        (choices.sheet_choice("marrow-six"), Asked(kinds.SHEET, of="marrow-six"), "sheet-marrow-six"),
        (choices.drift_choice("77/41"), Asked(kinds.DRIFT, of="77/41"), "drift-77-41"),
        (choices.declaration_choice("ÄÖ"), Asked(kinds.DECLARATION, of="ÄÖ"), "declaration-paper"),
    ],
)
def test_that_each_paper_is_asked_for_by_its_kind(choice: choices.Choice, asked: Asked, file: str) -> None:
    assert (choice.thing, choice.file) == (asked, file)
