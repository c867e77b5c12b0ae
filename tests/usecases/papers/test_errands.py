"""Papers of one errand: the chain is walked once, and again when a byte of it is another; and what papers there are."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.records.sealed.stored import StoredRow
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, ErrandDesk, PaperDesk, errand_desk
from desktop.usecases.papers.from_shop import list_on_screen, paper_of, why_not
from desktop.usecases.papers.records.unaltered import unaltered_order
from desktop.usecases.papers.records.verified import verified_records
from desktop.usecases.papers.shop.list_paper import ListOnScreen
from desktop.usecases.papers.stable_set import EMPTY_TAG, NO_CARDS, order_papers, papers_of_order, shop_papers
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Document, Table
from tests.usecases.papers.pages import code, inside, pages, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, SIGNED, TWIN


class Records:
    """The records of a shop, of which one may be changed while papers are made."""

    def __init__(self, desk: PaperDesk) -> None:
        self.rows, self.listed = tuple(desk.records().stored()), desk.records().lines()

    def stored(self, start: int = 1) -> Iterator[StoredRow]:
        return (row for row in self.rows if row.number >= start)

    def lines(self) -> tuple[RecordLine, ...]:
        return self.listed

    def damage(self, number: int) -> None:
        """Flip a byte of a record's content."""
        self.rows = tuple(
            replace(row, content=row.content.replace(b"e", b"f", 1)) if row.number == number else row
            for row in self.rows
        )


@pytest.fixture
def walks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many records each walk found."""
    counted: list[int] = []

    def count(*what: object) -> object:
        found = verified_records(*what)  # type: ignore[arg-type]  # handed on
        counted.append(len(found))
        return found

    monkeypatch.setattr("desktop.usecases.papers.asked.verified_records", count)
    return counted


def errand(desk: PaperDesk, records: Records) -> ErrandDesk:
    return errand_desk(replace(desk, records=lambda: records))


def test_that_one_errand_walks_once_and_without_one_every_paper_walks(desk: PaperDesk, walks: list[int]) -> None:
    own, asked = errand_desk(desk), [Asked(kind, SIGNED) for kind in (kinds.WORK_ORDER, kinds.ENTRY, kinds.CARD)]
    made = [paper_of(own, one, PRINTED) for one in asked]
    assert len(walks) == 1
    assert [paper_of(desk, one, PRINTED) for one in asked] == made
    assert len(walks) >= 1 + len(asked)


def test_that_a_record_damaged_between_two_papers_stops_the_second(desk: PaperDesk, walks: list[int]) -> None:
    records = Records(desk)
    own = errand(desk, records)
    assert paper_of(own, Asked(kinds.WORK_ORDER, SIGNED), PRINTED).title
    assert own.walked.orders[SIGNED] == unaltered_order(own, SIGNED)
    records.damage(6)
    for _ in range(2):
        with pytest.raises(Refusal, match="while the check finds something wrong"):
            paper_of(own, Asked(kinds.WORK_ORDER, SIGNED), PRINTED)
    assert own.walked.orders == {}
    assert len(walks) == 1


def test_that_a_record_that_came_meanwhile_is_walked_too(desk: PaperDesk, walks: list[int]) -> None:
    records = Records(desk)
    rows, lines = records.rows, records.listed
    records.rows, records.listed = rows[:-1], lines[:-1]
    own = errand(desk, records)
    own.verified()
    records.rows, records.listed = rows, lines
    own.verified()
    own.verified()
    assert walks == [len(rows) - 1, len(rows)]


def test_that_an_order_that_changed_meanwhile_is_held_against_its_records_again(desk: PaperDesk) -> None:
    own = errand_desk(desk)
    order = unaltered_order(own, SIGNED)
    own.walked.orders[SIGNED] = replace(order, version=order.version + 1)
    assert unaltered_order(own, SIGNED) == order
    assert own.walked.orders[SIGNED] == order


def test_that_an_invented_shop_says_so_on_every_paper_of_its_errands(desk: PaperDesk) -> None:
    own = errand_desk(replace(desk, invented=True))
    roster = paper_of(own, Asked(kinds.ROSTER), PRINTED)
    assert isinstance(roster, Document)
    assert "INVENTED DATA" in roster.head.banner
    plain = paper_of(desk, Asked(kinds.ROSTER), PRINTED)
    assert isinstance(plain, Document)
    assert plain.head.banner == ""


def test_that_the_papers_of_an_order_hold_each_kind_that_an_order_can_have(desk: PaperDesk) -> None:
    for number in (SIGNED, TWIN, BARE):
        own = errand_desk(desk)
        found = tuple(order_papers(own, see_order(desk.shop.store, number), why_not))
        assert {one.asked.kind.name for one in found} == {
            kind.name for kind in kinds.KINDS if kind.of not in kinds.IN_THE_SHOP
        }
        made = [one.file for one in found if not one.reason]
        there = [name for name, _ in papers_of_order(own, see_order(desk.shop.store, number))]
        assert set(made) - set(there) <= {f"W-{number:04d}-removed-parts"}
        assert all(why_not(own, one.asked) == "" for one in found if not one.reason)
        assert all(one.reason.endswith(".") for one in found if one.reason)


def test_that_what_an_order_lacks_stands_there_with_its_reason(desk: PaperDesk) -> None:
    found = {one.title: one.reason for one in order_papers(desk, see_order(desk.shop.store, BARE), why_not)}
    assert found["Task card"] == found["Blank card"] == found["Summary for the inspector"] == NO_CARDS
    assert found[f"Removed-parts tags, {EMPTY_TAG}"] == ""
    assert found["Signed record"].startswith("Nothing is signed yet about W-0005.")
    titles = [one.title for one in order_papers(desk, see_order(desk.shop.store, SIGNED), why_not)]
    assert titles[1:3] == ["Card 1: Time the trial magnetos", "Card 1: Time the trial magnetos, blank"]
    assert titles[-1] == "Record 8: correction"


def test_that_the_papers_of_the_shop_hold_each_sheet_and_each_declaration(desk: PaperDesk) -> None:
    found = tuple(shop_papers(errand_desk(desk), why_not))
    assert all(one.reason == "" for one in found)
    assert {"Limits sheet marrow-six", "Declaration of MECH", "Roster"} <= {one.title for one in found}


def test_that_records_that_are_not_sound_declare_nobody(desk: PaperDesk) -> None:
    records = Records(desk)
    records.damage(3)
    found = tuple(shop_papers(errand(desk, records), why_not))
    assert [one for one in found if one.asked.kind is kinds.DECLARATION] == []
    assert found


LONG = "some words and more of them, until the line is full and a second one begins, or a third"
SHOWN = ListOnScreen(
    "Trial list",
    ("Order", "What", "Long"),
    (("W-0001", "a", LONG), ("", "", "")),
    "Those in which \u201cx\u201d is found.",
)


def test_that_a_list_on_screen_says_shop_time_and_what_was_asked_in_its_head(desk: PaperDesk) -> None:
    paper = list_on_screen(desk, SHOWN, PRINTED)
    assert isinstance(paper, Document)
    said = words(paper.head)
    for text in ("Trial list", "Mill Shop", PRINTED, SHOWN.asked):
        assert text in said
    [table] = inside(paper, Table)
    assert table.rows == SHOWN.rows
    [first, *_] = pages(paper)
    assert "W-0001" in first


def test_that_the_time_of_a_list_is_no_part_of_its_code_and_its_cells_are(desk: PaperDesk) -> None:
    one = code(list_on_screen(desk, SHOWN, PRINTED))
    assert code(list_on_screen(desk, SHOWN, "printed later")) == one
    assert code(list_on_screen(desk, replace(SHOWN, rows=SHOWN.rows[:1]), PRINTED)) != one


def test_that_a_list_without_a_line_says_why_and_a_whole_one_that_it_is_whole(desk: PaperDesk) -> None:
    paper = list_on_screen(desk, ListOnScreen("Trial", ("A", "B"), (), empty="Nothing found."), PRINTED)
    said = words(paper)
    assert "Nothing found." in said
    assert "The whole list." in said


def test_that_no_word_of_a_short_column_is_broken_beside_long_ones(desk: PaperDesk) -> None:
    text = "authorised person, inspector, records keeper, with every right that there is in a shop of one person"
    rows = tuple((f"W-{number:04d}", text, text, "5 Oct 2026", text) for number in range(1, 4))
    [first, *_] = pages(list_on_screen(desk, ListOnScreen("Wide", ("Order", "A", "B", "Day", "C"), rows), PRINTED))
    assert all(f"W-{number:04d}" in first for number in range(1, 4))


def test_that_an_order_list_in_which_nothing_is_found_says_so(desk: PaperDesk) -> None:
    paper = paper_of(desk, Asked(kinds.ORDER_LIST, of="zeppelin"), PRINTED)
    assert 'Nothing found: no work order has "zeppelin".' in words(paper)
