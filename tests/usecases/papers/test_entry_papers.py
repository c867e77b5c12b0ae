"""The maintenance entry as page and as labels, and the list of discrepancies."""

import re
from dataclasses import replace
from operator import attrgetter

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.entry.entry_elements import ELEMENTS
from desktop.core.records.entry.entry_parts import Entry, EntryKind, reworded
from desktop.core.records.entry.maintenance_entry import propose_entry
from desktop.core.records.record import Section
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.entry.discrepancy_paper import NONE, discrepancy_paper
from desktop.usecases.papers.entry.entry_labels import entry_labels, label_size
from desktop.usecases.papers.entry.entry_paper import EntryPaper, entry_paper
from desktop.usecases.papers.frame import About, Printing
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.heading import GOVERNING
from desktop.usecases.records.sections.entry_sections import entry_sections
from desktop.usecases.shop.ports import Change
from reports.document import SignatureBox
from reports.document_labels import LABEL_SIZES, LabelSheet
from reports.drawn.labels import fits, lines_over
from tests.core.records.entry.entry_orders import LIST, source
from tests.usecases.papers.pages import inside, made, pages, reader, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, REFUSED, SIGNED, TWIN, PaperFloor

PRINTING = Printing(PRINTED, "ab" * 16, 3, "cd" * 32)
ABOUT = About("Mill Magneto Works", "order W-0007", who="X-ABCD")


def whole(kind: EntryKind, *, approves: bool) -> Entry:
    return propose_entry(source(kind, approves=approves))


def squeezed(text: str) -> str:
    return "".join(text.split())


def texts_at(entry: Entry, place: str) -> list[str]:
    """Return what stands in an entry at the place of an element, as the paper writes it."""
    value = attrgetter(place)(entry)
    if place == "facts.completed":
        return ["5 Mar 2031"]
    if place == "facts.timing":
        return [text for fact in value for text in (fact.magneto, fact.found, fact.left, fact.limits)]
    if place == "facts.discrepancies":
        return [one.text for one in value.entries]
    return list(value) if isinstance(value, tuple) else [value]


@pytest.mark.parametrize("kind", list(EntryKind))
@pytest.mark.parametrize("approves", [True, False])
def test_that_every_required_element_of_an_entry_is_found_in_the_text_of_its_pages(
    kind: EntryKind, *, approves: bool
) -> None:
    entry = whole(kind, approves=approves)
    paper = entry_paper(EntryPaper(entry_sections(entry), approves), ABOUT, PRINTING)
    text = squeezed("".join(page for size in ("letter", "a4") for page in pages(paper, size)))
    asked = [element for element in ELEMENTS if element.applies(entry)]
    assert len(asked) > 10
    for element in asked:
        assert not element.is_missing(entry), element.words
        for said in texts_at(entry, element.place):
            assert squeezed(said) in text, element.words


@pytest.mark.parametrize("kind", list(EntryKind))
def test_that_every_required_element_is_found_on_the_labels(kind: EntryKind) -> None:
    entry = whole(kind, approves=True)
    sheet = entry_labels(
        EntryPaper(entry_sections(entry), approves=True),
        ("Mill Magneto Works", "X-ABCD, order W-0007"),
        label_size("", "letter"),
        2,
        lines_over,
        PRINTING,
    )
    text = squeezed("".join(pages(sheet)))
    for element in (one for one in ELEMENTS if one.applies(entry)):
        for said in texts_at(entry, element.place):
            assert squeezed(said) in text, element.words
    assert squeezed(GOVERNING) in text


def test_that_an_entry_for_ink_leaves_room_and_says_that_it_is_not_signed() -> None:
    entry = whole(EntryKind.MAINTENANCE, approves=True)
    paper = entry_paper(EntryPaper(entry_sections(entry), approves=True), ABOUT, PRINTING)
    assert "Not signed yet" in [band.text for band in paper.head.bands]
    assert [box.title for box in inside(paper, SignatureBox)] == ["Approved for return to service"]
    refused = entry_paper(
        EntryPaper(entry_sections(whole(EntryKind.MAINTENANCE, approves=False)), approves=False), ABOUT, PRINTING
    )
    assert [box.title for box in inside(refused, SignatureBox)] == ["Not approved"]


def test_that_a_draft_has_no_box_for_a_signature_and_says_nothing_is_approved(desk: PaperDesk) -> None:
    paper = made(desk, kinds.ENTRY, TWIN)
    assert not list(inside(paper, SignatureBox))
    text = words(paper)
    assert "The order is issued: its cards are not all accepted." in text
    assert "If it is approved" in text
    assert "Approved for return to service" not in text
    for page in pages(paper):
        assert "Draft: nothing is approved" in page


def test_that_what_an_entry_lacks_stands_on_it_and_keeps_it_off_a_label(desk: PaperDesk) -> None:
    lacking = EntryPaper(entry_sections(whole(EntryKind.MAINTENANCE, approves=True)), True, None, ("date (rule)",))
    assert "The entry lacks: date (rule)." in words(entry_paper(lacking, ABOUT, PRINTING))
    with pytest.raises(Refusal, match=r"It lacks: date \(rule\)"):
        entry_labels(lacking, ("Mill", "W"), label_size("", "a4"), 1, lines_over, PRINTING)
    with pytest.raises(Refusal, match="Nothing is signed on a label yet: The order is issued"):
        paper_of(desk, Asked(kinds.ENTRY_LABELS, TWIN), PRINTED)
    assert "The entry lacks: data that the work followed" in words(made(desk, kinds.ENTRY, BARE))


def test_that_a_signed_entry_shows_the_record_it_is_from_and_its_correction(desk: PaperDesk) -> None:
    paper = made(desk, kinds.ENTRY, SIGNED)
    text = " ".join(pages(paper))
    for said in ("signed electronically", "Rolf Aar", "Record 7 of 9", "Corrected by record 8", "ZZ9R001", "978.6"):
        assert said in text
    assert list(reader(paper).attachments) == ["record-7.json"]
    assert "Not signed yet" not in text


def test_that_a_signed_entry_on_labels_names_its_record_and_begins_where_it_is_told(desk: PaperDesk) -> None:
    sheet = paper_of(desk, Asked(kinds.ENTRY_LABELS, SIGNED, start=3, invented=True, reprint=True), PRINTED)
    assert isinstance(sheet, LabelSheet)
    assert sheet.start == 3
    assert all(fits(label, sheet.size) for label in sheet.labels)
    assert sheet.labels[0].head == f"X-ABCD, order W-0001, label 1 of {len(sheet.labels)}"
    assert sheet.labels[0].bands == (
        "INVENTED DATA: DEMONSTRATION ONLY",
        "Reprint",
        "Corrected by record 8",
    )
    last = words(sheet.labels[-1])
    assert "Signed electronically by Rolf Aar" in last
    assert "Record 7 of shop file" in last
    assert "Check code of this print: " in last
    # Something of the entry stands above the signature.
    assert len(sheet.labels[-1].paragraphs) > 3


def test_that_a_short_entry_stands_on_one_label_with_lines_for_the_pen() -> None:
    entry = whole(EntryKind.MAINTENANCE, approves=False)
    short = EntryPaper((*entry_sections(entry)[-1:], Section("Empty", ())), approves=False)
    sheet = entry_labels(short, ("Mill", "X-ABCD, order W-0007"), label_size("", "a4"), 1, lines_over, PRINTING)
    [label] = sheet.labels
    assert label.head == "X-ABCD, order W-0007"
    assert label.pen_lines == ("signature", "certificate no. and kind", "date")
    assert label.bands == ("NOT APPROVED",)


@pytest.mark.parametrize(
    ("label", "start", "said"),
    [
        ("letter, 30 of 2 5/8 x 1 in", 1, "does not fit on labels of this size"),
        ("none such", 1, 'There is no label "none such". Choose one of: letter, 10 of 4 x 2 in'),
        ("", 7, "The first label is one of 1 to 6 on this sheet."),
    ],
)
def test_that_a_label_that_cannot_be_is_refused_before_anything_is_drawn(
    desk: PaperDesk, label: str, start: int, said: str
) -> None:
    with pytest.raises(Refusal, match=re.escape(said)):
        paper_of(desk, Asked(kinds.ENTRY_LABELS, SIGNED, label=label, start=start), PRINTED)


def test_that_a_text_longer_than_any_label_is_refused_with_how_much_it_is_too_long() -> None:
    entry = whole(EntryKind.MAINTENANCE, approves=True)
    long = reworded(entry, replace(entry.wording, work="long words " * 180))
    with pytest.raises(Refusal, match=r"is [0-9]+ lines too long"):
        entry_labels(
            EntryPaper(entry_sections(long), approves=True), ("Mill", "W"), LABEL_SIZES[0], 1, lines_over, PRINTING
        )


def test_that_the_common_labels_are_those_of_the_shops_paper() -> None:
    assert label_size("", "letter").paper == "letter"
    assert label_size("", "a4").paper == "a4"
    assert label_size("A4, 8 of 99.1 x 67.7 mm", "letter").count == 8


def test_that_the_list_of_today_holds_what_is_open_and_counts_the_steps_that_wait(desk: PaperDesk) -> None:
    paper = made(desk, kinds.DISCREPANCIES, TWIN)
    text = words(paper)
    assert "Lead of cylinder 4, lower plug, chafed at the baffle. (open)" in text
    assert re.search("The work is not finished: [0-9]+ steps of the cards wait for their initials", text)
    assert "Safe-state board. The shop's own procedure." in text
    assert "@" not in text
    assert [box.title for box in inside(paper, SignatureBox)] == ["Given by"]
    assert "received by: name" in words(paper)


def test_that_the_list_of_an_order_not_approved_is_the_one_that_was_signed(desk: PaperDesk) -> None:
    paper = made(desk, kinds.DISCREPANCIES, REFUSED)
    text = words(paper)
    assert "The magneto cannot be set within its slots." in text
    assert "The entry for the work names this list by its date." in text
    assert "Not approved" in text
    assert "Record 9 of 9" in text


def test_that_an_order_without_discrepancies_says_so() -> None:
    empty = replace(LIST, entries=())
    assert NONE in words(discrepancy_paper(empty, ABOUT))
    assert "not finished" not in words(discrepancy_paper(empty, ABOUT))


def test_that_an_unsigned_order_not_approved_lists_for_its_owner(own_floor: PaperFloor) -> None:
    order = own_floor.file.order(BARE)
    assert order is not None
    by = Stamp("ROLF", own_floor.clock.now())
    passage = Passage(Move.NOT_APPROVE, by, reason="The magneto cannot be set.")
    changed = replace(order, ending=OrderState.NOT_APPROVED, passages=(passage,), version=order.version + 1)
    with own_floor.file.changing() as work:
        work.put_order(changed, Change(BARE, changed.version, by, ("not approved",)))
    desk = own_floor.paper_desk()
    assert "The magneto cannot be set." in words(made(desk, kinds.DISCREPANCIES, BARE))
    paper = made(desk, kinds.ENTRY, BARE, of="ROLF")
    assert [box.title for box in inside(paper, SignatureBox)] == ["Not approved"]
    assert "Rolf Aar" in words(paper)


def test_that_nobody_is_named_as_approver_when_several_could_be(own_floor: PaperFloor) -> None:
    person = own_floor.on_roster("MECH")
    own_floor.change("MECH", rights=(*person.rights, own_floor.on_roster("ROLF").rights[1]))
    assert "number of the approver's certificate" in words(made(own_floor.paper_desk(), kinds.ENTRY, TWIN))
    assert "5678" in words(made(own_floor.paper_desk(), kinds.ENTRY, TWIN, of="ROLF"))


def test_that_findings_stop_an_entry_for_ink_though_every_card_is_accepted(own_floor: PaperFloor) -> None:
    order = own_floor.file.order(TWIN)
    assert order is not None
    cards = tuple(replace(card, state=OrderState.ACCEPTED) for card in order.cards)
    changed = replace(order, cards=cards, version=order.version + 1)
    by = Stamp("ROLF", own_floor.clock.now())
    with own_floor.file.changing() as work:
        work.put_order(changed, Change(TWIN, changed.version, by, ("accepted",)))
    text = words(made(own_floor.paper_desk(), kinds.ENTRY, TWIN))
    assert "its cards are not all accepted" not in text
    assert "Safe-state board: magneto: loose." in text
    assert "Nothing is signed on this draft." in text
