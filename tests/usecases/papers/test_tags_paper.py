"""Tags that were cut out: what they say of their print, whose signature they ask for, and when none is hung up."""

from dataclasses import replace

import pytest

from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import PaperDesk
from desktop.usecases.papers.frame import Printing
from desktop.usecases.papers.orders.tags_paper import (
    ALL_NORMAL,
    KEEP_CLEAR,
    NOT_IN_USE,
    NOT_TO_TURN,
    PRINT_AGAIN,
    propeller_tag_paper,
    removed_parts_paper,
    stamped_tags,
)
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.lists.look_up import see_order
from reports.document_tags import Tag
from reports.document_text import Entry
from tests.usecases.papers.pages import code, inside, made, pages, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, SIGNED, TWIN


@pytest.mark.parametrize("kind", [kinds.REMOVED_PARTS, kinds.PROPELLER_TAG])
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_a_tag_that_was_cut_out_says_shop_time_and_check_code(
    desk: PaperDesk, kind: kinds.PaperKind, size: str
) -> None:
    paper = made(desk, kind, TWIN)
    said = f"Mill Shop, {PRINTED}. Check code of the print: {code(paper)}."
    assert [tag.printed for tag in inside(paper, Tag)] == [said]
    assert said in pages(paper, "a4" if size == "a4" else "letter")[0]


def test_that_what_a_tag_says_of_its_print_is_no_part_of_its_code(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    papers = [
        stamped_tags(propeller_tag_paper("Mill Shop", order, Names()), Printing(printed))
        for printed in ("now", "later")
    ]
    assert len({code(paper) for paper in papers}) == 1
    assert len({words(paper) for paper in papers}) == 2


def test_that_a_removed_magneto_says_its_hours_and_who_took_it_off_signs(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    by = Stamp("MECH", order.opened.at)
    off = PartMoved(Part(Way.OFF, "T2-L", "Magneto", " 7741", tag="T-6"), by)
    [tag] = inside(removed_parts_paper("Mill", replace(order, parts=(off,)), Names()), Tag)
    entries = {entry.label: entry.value for entry in inside(tag, Entry)}
    assert entries["since overhaul, h"] == "412"
    assert entries["signature"] is None
    # A part that is on no data plate, and a tag for the pencil, leave a line.
    for parts in (order.parts, ()):
        [tag] = inside(removed_parts_paper("Mill", replace(order, parts=parts), Names()), Tag)
        assert {entry.label: entry.value for entry in inside(tag, Entry)}["since overhaul, h"] is None
    [tag] = inside(removed_parts_paper("Mill", replace(order, parts=(off,), taken_in=None), Names()), Tag)
    assert {entry.label: entry.value for entry in inside(tag, Entry)}["since overhaul, h"] is None


def test_that_the_propellers_tag_says_who_hung_it_up_and_who_took_it_off(desk: PaperDesk) -> None:
    lines = [entry.label for entry in inside(made(desk, kinds.PROPELLER_TAG, TWIN), Entry) if entry.value is None]
    assert lines == ["hung up by", "date, time", "taken off by", "date, time"]


def test_that_turning_is_forbidden_only_while_something_is_not_normal(desk: PaperDesk) -> None:
    twin, bare = see_order(desk.shop.store, TWIN), see_order(desk.shop.store, BARE)
    assert "DO NOT TURN" in pages(propeller_tag_paper("Mill", twin, Names()))[0]
    normal = propeller_tag_paper("Mill", bare, Names())
    [tag] = inside(normal, Tag)
    assert tag.big == KEEP_CLEAR
    text = pages(normal)[0]
    assert ALL_NORMAL in text
    assert PRINT_AGAIN in text
    assert NOT_TO_TURN not in text


@pytest.mark.parametrize(("number", "ending"), [(BARE, OrderState.VOID), (SIGNED, OrderState.CLOSED)])
def test_that_no_tag_hangs_for_an_order_that_is_void_or_closed(
    desk: PaperDesk, number: int, ending: OrderState
) -> None:
    order = replace(see_order(desk.shop.store, number), ending=ending)
    paper = propeller_tag_paper("Mill", order, Names())
    [tag] = inside(paper, Tag)
    assert tag.big == NOT_IN_USE
    assert f"The order is {ending}. Take an older tag away" in pages(paper)[0]
    assert not [entry.label for entry in inside(paper, Entry) if entry.value is None]
    assert NOT_TO_TURN not in words(paper)
