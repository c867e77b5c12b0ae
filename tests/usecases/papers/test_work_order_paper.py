"""The work order on paper as it ends: void or not approved, and what the customer authorises."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import PaperDesk
from desktop.usecases.papers.orders.tags_paper import propeller_tag_paper
from desktop.usecases.papers.orders.work_order import work_order_paper
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Fact, SignatureBox
from reports.document_text import Entry
from tests.usecases.papers.pages import inside, made, pages, words
from tests.usecases.papers.paper_floor import BARE, REFUSED, TWIN

VOIDED = Passage(Move.VOID, Stamp("DESK", datetime(2031, 3, 4, 9, 5, tzinfo=UTC)), reason="Opened twice by mistake.")


def void_order(desk: PaperDesk, number: int = BARE) -> WorkOrder:
    """Return an order as it stands when it was made void."""
    order = see_order(desk.shop.store, number)
    return replace(order, ending=OrderState.VOID, passages=(*order.passages, VOIDED))


def test_that_reason_person_and_time_of_the_end_stand_on_the_papers_of_a_void_order(desk: PaperDesk) -> None:
    order, names = void_order(desk), Names(desk.shop.store.people())
    for paper in (work_order_paper("Mill", order, names), propeller_tag_paper("Mill", order, names)):
        text = pages(paper)[0]
        assert "Void: Opened twice by mistake." in text
        assert "(DESK), 4 Mar 2031 09:05" in text
    refused = pages(made(desk, kinds.WORK_ORDER, REFUSED))[0]
    assert "Not approved: The magneto cannot be set within its slots." in refused
    card = pages(made(desk, kinds.CARD, REFUSED))[0]
    assert "Not approved: The magneto cannot be set within its slots." in card
    assert "ROLF, " in card
    long = replace(order, passages=(replace(VOIDED, reason="twice " * 60),))
    assert "twice " * 59 in words(work_order_paper("Mill", long, names))


@pytest.mark.parametrize("number", [BARE, TWIN])
def test_that_a_void_work_order_has_no_line_for_the_pen_and_asks_nobody_to_authorise(
    desk: PaperDesk, number: int
) -> None:
    order = void_order(desk, number)
    for one in (order, replace(order, taken_in=None, promised=None)):
        paper = work_order_paper("Mill", one, Names())
        assert not list(inside(paper, SignatureBox))
        assert [fact.label for fact in inside(paper, Fact) if fact.value is None] == []
        assert [entry.label for entry in inside(paper, Entry) if not entry.value] == []
        assert "I authorise" not in " ".join(pages(paper))
    # The same order that is not void asks for it.
    assert list(inside(made(desk, kinds.WORK_ORDER, number), SignatureBox))


def test_that_the_customer_authorises_an_amount_before_the_list_of_cards(desk: PaperDesk) -> None:
    paper = made(desk, kinds.WORK_ORDER, TWIN)
    text = " ".join(pages(paper))
    assert text.index("Authorisation by the customer") < text.index("Task cards")
    assert [entry.label for entry in inside(paper, Entry) if entry.value is None] == [
        "at most, amount",
        "call before more than",
    ]
