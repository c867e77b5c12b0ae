"""The maintenance entry as page and as labels, and the list of discrepancies."""

import re
from dataclasses import replace
from operator import attrgetter

import pytest
import zxingcpp

from desktop.core.errors import Refusal
from desktop.core.records.entry.discrepancy_list import WHOEVER_REFUSED, Listed
from desktop.core.records.entry.entry_elements import ELEMENTS
from desktop.core.records.entry.entry_parts import Entry, EntryKind, reworded
from desktop.core.records.entry.maintenance_entry import propose_entry
from desktop.core.records.record import Section
from desktop.core.shop.orders.order import Passage
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.entry.discrepancy_paper import NONE, OF_THE_AIRCRAFT, discrepancy_paper
from desktop.usecases.papers.entry.entry_labels import entry_labels, label_size
from desktop.usecases.papers.entry.entry_paper import EntryPaper, entry_of, entry_paper
from desktop.usecases.papers.frame import About, Printing
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.heading import GOVERNING
from desktop.usecases.papers.records.record_parts import grouped, qr_content
from desktop.usecases.papers.records.verified import record_numbered
from desktop.usecases.records.sections.entry_sections import entry_sections, list_section
from desktop.usecases.shop.ports import Change
from reports.document import Heading, KeepTogether, SignatureBox
from reports.document_labels import LABEL_SIZES, LabelSheet, LabelSize
from reports.document_signing import ElectronicSignature
from reports.drawn.labels import fits, lines_over
from tests.core.records.entry.entry_orders import LIST, source
from tests.reports.reading_back import pictures
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
    assert [box.title for box in inside(refused, SignatureBox)] == ["Not approved", "Not approved"]


def test_that_the_signature_stands_under_the_approval_and_again_under_the_list(desk: PaperDesk) -> None:
    paper = made(desk, kinds.ENTRY, REFUSED)
    assert [box.name for box in inside(paper, ElectronicSignature)] == ["Rolf Aar", "Rolf Aar"]
    kept = [block for block in paper.blocks if isinstance(block, KeepTogether)]
    titles = [
        [one.text for one in inside(block, Heading)] for block in kept if list(inside(block, ElectronicSignature))
    ]
    assert titles == [["Approval"], ["List of discrepancies"]]
    text = " ".join(pages(paper))
    first = text.index("signed electronically")
    assert text.index("Not approved for return to service") < first < text.index("List of discrepancies", first)
    assert text.rindex("signed electronically") > text.index("List of discrepancies", first)
    # An entry without a list is signed once; the other signature is that of its correction.
    assert len(list(inside(made(desk, kinds.ENTRY, SIGNED), ElectronicSignature))) == 2
    assert "List of discrepancies" not in words(made(desk, kinds.ENTRY, SIGNED))


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
    one = record_numbered(desk.verified(), 7)
    last = words(sheet.labels[-1])
    assert "Signed electronically by Rolf Aar, certificate 5678, mechanic" in last
    assert f"Key {grouped(one.taken.envelope.signatures[0].public_key.hex()[:16])}." in last
    assert "Record 7 of shop file" in last
    assert "Check code of this print: " in last
    assert "Not signed yet" not in words(sheet)
    assert sheet.labels[-1].code is not None
    assert sheet.labels[-1].code.content == qr_content(desk.shop_id, one)
    assert list(reader(sheet).attachments) == ["record-7.json"]
    page = pictures(sheet, "letter", 200 / 72)[-1]
    assert [
        code.text
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ] == [qr_content(desk.shop_id, one)]


@pytest.mark.parametrize("size", [size for size in LABEL_SIZES if size.height > 45], ids=lambda size: size.name)
@pytest.mark.parametrize("is_signed", [True, False])
def test_that_approval_name_certificate_and_signature_stand_on_one_label(
    desk: PaperDesk, size: LabelSize, *, is_signed: bool
) -> None:
    unsigned = EntryPaper(entry_sections(whole(EntryKind.MAINTENANCE, approves=True)), approves=True)
    signed = entry_of(record_numbered(desk.verified(), 7))
    entry = signed if is_signed else unsigned
    rows = {row.label: row.text for row in next(one for one in entry.sections if one.title == "Approval").rows}
    sheet = entry_labels(entry, ("Mill", "X-ABCD, order W-0007"), size, 1, lines_over, PRINTING)
    assert len(sheet.labels) > 1
    *before, last = [words(label) for label in sheet.labels]
    for label in ("Approval", "Name", "Certificate number", "Kind of certificate"):
        assert rows[label] in last
    assert ("Signed electronically by" in last) == is_signed
    lines = [line.words for line in sheet.labels[-1].pen_lines]
    assert lines == ([] if is_signed else ["signature", "date", "printed name", "certificate no. and kind"])
    assert all(("Not signed yet" in label) == (not is_signed) for label in (*before, last))
    for label in before:
        assert rows["Approval"] not in label
        assert "printed name" not in label


def test_that_a_short_entry_stands_on_one_label_with_lines_for_the_pen() -> None:
    entry = whole(EntryKind.MAINTENANCE, approves=False)
    short = EntryPaper((*entry_sections(entry)[-2:-1], Section("Empty", ())), approves=False)
    sheet = entry_labels(short, ("Mill", "X-ABCD, order W-0007"), label_size("", "a4"), 1, lines_over, PRINTING)
    [label] = sheet.labels
    assert label.head == "X-ABCD, order W-0007"
    assert [line.words for line in label.pen_lines] == ["signature", "date", "printed name", "certificate no. and kind"]
    assert label.bands == ("NOT APPROVED", "Not signed yet")


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
    assert "still has" not in words(discrepancy_paper(empty, ABOUT))
    assert "1 step of the cards waits for its initials" in words(discrepancy_paper(empty, ABOUT, 1))
    assert "still has 1 thing of its own to do" in words(discrepancy_paper(empty, ABOUT, 0, 1))


def test_that_work_of_the_shop_is_no_discrepancy_for_the_owner(own_floor: PaperFloor) -> None:
    desk = own_floor.paper_desk()
    text = " ".join(pages(made(desk, kinds.DISCREPANCIES, BARE)))
    assert "Nobody wrote that directives were searched for" not in text
    assert "The shop still has 1 thing of its own to do before an approval" in text
    # The same finding keeps the entry from being signed.
    assert "Nobody wrote that directives were searched for" in words(made(desk, kinds.ENTRY, BARE))


def test_that_the_rules_about_the_aircraft_are_rules_that_there_are(own_floor: PaperFloor) -> None:
    shop = own_floor.shop
    known = {
        rule.id for book in (shop.rulebook, shop.paperwork.of_card, shop.paperwork.of_order) for rule in book.rules
    }
    assert known > OF_THE_AIRCRAFT
    assert not OF_THE_AIRCRAFT & {
        "directive-search-missing",
        "initials-missing",
        "tools-not-named",
        "data-not-confirmed",
    }


def test_that_nothing_of_a_void_order_is_given_to_an_owner(own_floor: PaperFloor) -> None:
    order = own_floor.file.order(TWIN)
    assert order is not None
    by = Stamp("DESK", own_floor.clock.now())
    passage = Passage(Move.VOID, by, reason="Opened twice by mistake.")
    changed = replace(order, ending=OrderState.VOID, passages=(*order.passages, passage), version=order.version + 1)
    with own_floor.file.changing() as work:
        work.put_order(changed, Change(TWIN, changed.version, by, ("void",)))
    paper = made(own_floor.paper_desk(), kinds.DISCREPANCIES, TWIN)
    text = " ".join(pages(paper))
    assert "The order is void: no work is done on it." in text
    assert "Void: Opened twice by mistake." in text
    assert "received by" not in text
    assert not list(inside(paper, SignatureBox))


def test_that_the_approvers_own_words_are_said_to_be_the_approvers(desk: PaperDesk) -> None:
    listed = entry_sections(propose_entry(source(EntryKind.MAINTENANCE, approves=False)))[-1]
    rows = {
        row.label: row.text
        for row in list_section(replace(LIST, entries=(Listed(1, "It is loose.", WHOEVER_REFUSED),))).rows
    }
    assert rows["1, from"] == "the approver"
    assert listed.title == "List of discrepancies"
    assert "1, from" in words(made(desk, kinds.DISCREPANCIES, REFUSED))


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
    assert [box.title for box in inside(paper, SignatureBox)] == ["Not approved", "Not approved"]
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
