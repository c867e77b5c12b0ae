"""Who signed a card stands on its paper from verified records; what they say of it, and what is still missing."""

from dataclasses import replace
from datetime import timedelta

import pytest
import zxingcpp

from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.stamp import Stamp
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import PaperDesk
from desktop.usecases.papers.cards.card_gathering import card_paper
from desktop.usecases.papers.cards.card_records import CardRecords, records_of_card
from desktop.usecases.papers.cards.order_card import CardPaper, now_bands, order_card_paper
from desktop.usecases.papers.from_shop import names_in
from desktop.usecases.papers.records.check_code_of import code_of
from desktop.usecases.papers.records.record_parts import attached, grouped, qr_content
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import Band, Document, Finding, Initials, PaperSize, SignatureBox, Step, Table
from reports.document_signing import CheckCode, ElectronicSignature
from tests.reports.reading_back import pictures
from tests.usecases.papers.pages import inside, made, pages, words
from tests.usecases.papers.paper_floor import SIGNED, TWIN, PaperFloor

SUBMITTED, ACCEPTED = 5, 6
"""The records in which the card of the signed order was submitted and accepted."""
HOLDS = "HOLD: do not go on before the inspector has signed."


def of(desk: PaperDesk, order: WorkOrder, *without: RecordKind) -> CardPaper:
    """Return the first card of an order with its records but for some kinds."""
    records = [one for one in desk.verified() if one.taken.record.kind not in without]
    return card_paper(desk, order, order.cards[0], names_in(desk), records)


def signed(desk: PaperDesk, *without: RecordKind) -> Document:
    return order_card_paper(of(desk, see_order(desk.shop.store, SIGNED), *without), blank=False)


def bands(paper: Document) -> list[str]:
    return [band.text for band in paper.head.bands]


def held(paper: CardPaper) -> CardPaper:
    """Return a card of which the inspector must see every step."""
    steps = tuple(replace(one, inspector=True) for one in paper.said.steps)
    return replace(paper, said=replace(paper.said, steps=steps))


def test_that_a_signed_card_shows_both_signatures_in_words_with_key_and_seal(desk: PaperDesk) -> None:
    paper = made(desk, kinds.CARD, SIGNED)
    mechanic, inspector = inside(paper, ElectronicSignature)
    assert not list(inside(paper, SignatureBox))
    assert (mechanic.title, mechanic.name) == ("Mechanic: record 5", "Mel Chan")
    assert (inspector.title, inspector.name) == ("Inspector: record 6", "Rolf Aar")
    records = {one.number: one.taken.envelope for one in desk.verified()}
    for box, number in ((mechanic, SUBMITTED), (inspector, ACCEPTED)):
        assert box.key == grouped(records[number].signatures[0].public_key.hex()[:16])
        assert box.seal == grouped(records[number].digest[:16])
    text = " ".join(pages(paper))
    for said in ("signed electronically", mechanic.seal, inspector.key, "certificate"):
        assert said in text
    assert [one.data for one in paper.attachments] == [attached(records[n]).data for n in (SUBMITTED, ACCEPTED)]


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_the_code_of_the_newest_signature_is_read_from_the_page(desk: PaperDesk, size: PaperSize) -> None:
    paper = made(desk, kinds.CARD, SIGNED)
    read = [
        code.text
        for page in pictures(paper, size, 108 / 72)
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ]
    newest = next(one for one in desk.verified() if one.number == ACCEPTED)
    assert read == [qr_content(desk.shop_id, newest)]


def test_that_room_for_ink_is_left_only_for_the_signature_that_is_missing(desk: PaperDesk) -> None:
    paper = signed(desk, RecordKind.CARD_ACCEPTED)
    assert [box.title for box in inside(paper, ElectronicSignature)] == ["Mechanic: record 5"]
    assert [box.title for box in inside(paper, SignatureBox)] == ["Inspector"]


def test_that_a_card_that_nobody_signed_has_ink_lines_no_code_and_nothing_attached(desk: PaperDesk) -> None:
    paper = made(desk, kinds.CARD, TWIN)
    assert [box.title for box in inside(paper, SignatureBox)] == ["Mechanic", "Inspector"]
    assert not list(inside(paper, ElectronicSignature))
    assert [code.content for code in inside(paper, CheckCode)] == [""]
    assert paper.attachments == ()


def test_that_an_empty_card_has_ink_lines_whatever_was_signed(desk: PaperDesk) -> None:
    paper = made(desk, kinds.BLANK_CARD, SIGNED)
    assert len(list(inside(paper, SignatureBox))) == 2
    assert not list(inside(paper, ElectronicSignature))
    assert Band("The order is approved", loud=True) in paper.head.bands


def test_that_the_history_names_the_record_of_each_move(desk: PaperDesk) -> None:
    (table,) = [table for table in inside(made(desk, kinds.CARD, SIGNED), Table) if table.title == "History"]
    assert [(row[0], row[2]) for row in table.rows] == [
        ("issued", ""),
        ("begun", ""),
        ("submitted for inspection", "5"),
        ("accepted by the inspector", "6"),
        ("order approved for return to service", "7"),
    ]


def test_that_a_long_history_is_a_table_that_runs_on(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    paper = order_card_paper(of(desk, replace(order, passages=order.passages * 2)), blank=False)
    assert [block.title for block in paper.blocks if isinstance(block, Table)][-1] == "History"
    short = order_card_paper(of(desk, order), blank=False)
    assert "History" not in [block.title for block in short.blocks if isinstance(block, Table)]
    none = order_card_paper(of(desk, replace(order, passages=())), blank=False)
    assert "History" not in words(none)


def test_that_a_correction_stands_across_the_card_and_at_its_end_once(own_floor: PaperFloor) -> None:
    own_floor.correct(SUBMITTED)
    paper = made(own_floor.paper_desk(), kinds.CARD, SIGNED)
    number = own_floor.file.records().lines()[-1].number
    assert f"Corrected by record {number}" in bands(paper)
    assert words(paper).count(f"Correction: record {number}") == 1
    assert "The tachometer was read 978.6, not 987.6." in " ".join(pages(paper))
    assert not [band for band in bands(made(own_floor.paper_desk(), kinds.BLANK_CARD, SIGNED)) if "Corrected" in band]


def test_that_one_correction_of_both_records_is_printed_once(desk: PaperDesk) -> None:
    paper = of(desk, see_order(desk.shop.store, SIGNED))
    later = next(one.taken for one in desk.verified() if one.taken.record.kind is RecordKind.CORRECTION)
    both = CardRecords(tuple(replace(one, corrected_by=(later,)) for one in paper.records.every))
    told = order_card_paper(replace(paper, records=both), blank=False)
    assert words(told).count(f"Correction: record {later.envelope.number}") == 1
    assert bands(told).count(f"Corrected by record {later.envelope.number}") == 1


def test_that_records_of_another_order_or_card_are_not_those_of_a_card(desk: PaperDesk) -> None:
    every = desk.verified()
    assert [one.number for one in records_of_card(every, SIGNED, 1).every] == [5, 6, 7]
    assert [one.number for one in records_of_card(every, SIGNED, 2).every] == [7]
    assert records_of_card(every, TWIN, 1).every == ()


def test_that_a_held_step_of_an_accepted_card_says_who_accepted_it_and_in_which_record(desk: PaperDesk) -> None:
    paper = order_card_paper(held(of(desk, see_order(desk.shop.store, SIGNED))), blank=False)
    steps = list(inside(paper, Step))
    assert steps
    for step in steps:
        assert step.hold is not None
        assert words(step.hold).startswith(f"{HOLDS}\n Accepted with the card: ROLF, 4 Mar 2031 ")
        assert words(step.hold).endswith(", record 6.")
        assert step.initials[-1] == Initials("inspector", "ROLF")


def test_that_a_held_step_is_empty_before_the_acceptance_and_on_an_empty_card(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    waits = replace(order, passages=order.passages[:3], ending=None)
    for paper in (
        order_card_paper(held(of(desk, waits, RecordKind.CARD_ACCEPTED)), blank=False),
        order_card_paper(held(of(desk, order)), blank=True),
    ):
        for step in inside(paper, Step):
            assert words(step.hold) == HOLDS
            assert step.initials[-1] == Initials("inspector")


def test_that_an_acceptance_without_a_record_is_said_by_whom_and_when(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    paper = order_card_paper(held(of(desk, order, *RecordKind)), blank=False)
    step = next(inside(paper, Step))
    assert "Accepted with the card: ROLF, 4 Mar 2031 " in words(step.hold)
    assert "record" not in words(step.hold)
    assert [box.title for box in inside(paper, SignatureBox)] == ["Mechanic", "Inspector"]


def sent_back(order: WorkOrder) -> WorkOrder:
    """Return the signed order as it was after its inspector returned the card."""
    submitted = order.passages[2]
    back = Passage(Move.RETURN, Stamp("ROLF", submitted.by.at + timedelta(minutes=5)), 1, "The washer is missing.")
    card = replace(order.cards[0], state=OrderState.IN_WORK)
    return replace(order, passages=(*order.passages[:3], back), ending=None, cards=(card,))


def test_that_a_returned_card_says_why_on_every_page_and_never_that_nothing_was_found(desk: PaperDesk) -> None:
    order = sent_back(see_order(desk.shop.store, SIGNED))
    paper = order_card_paper(of(desk, order, RecordKind.CARD_ACCEPTED, RecordKind.CARD_SUBMITTED), blank=False)
    assert bands(paper)[0] == "Returned by the inspector: The washer is missing."
    assert paper.head.bands[0].loud
    for page in pages(paper):
        assert "Returned by the inspector: The washer is missing." in page
    (finding,) = [one for one in inside(paper, Finding) if one.word == "Returned."]
    assert finding.sentence == "The washer is missing."
    assert finding.source.startswith("By the inspector: Rolf Aar (ROLF), 4 Mar 2031")
    assert "The inspector returned the card, and it is not finished." in words(paper)
    assert "Nothing was found" not in words(paper)


def test_that_the_signature_of_a_submission_that_was_returned_does_not_stand(desk: PaperDesk) -> None:
    every = of(desk, see_order(desk.shop.store, SIGNED)).records.every
    submitted, accepted, _ = every
    back = replace(accepted.taken, record=replace(accepted.taken.record, kind=RecordKind.CARD_RETURNED))
    returned = CardRecords((submitted, replace(accepted, taken=back)))
    assert (returned.submitted, returned.accepted, returned.standing) == (None, None, ())
    again = CardRecords((accepted, replace(submitted, taken=back), submitted))
    assert again.accepted is None
    assert CardRecords(every).standing == (submitted, accepted)


def test_that_a_reason_that_is_too_long_for_a_band_is_cut_between_two_words(desk: PaperDesk) -> None:
    order = sent_back(see_order(desk.shop.store, SIGNED))
    long = replace(order.passages[-1], reason="The washer of the lower nut is missing, and the nut on it is loose too.")
    order = replace(order, passages=(*order.passages[:-1], long))
    paper = order_card_paper(of(desk, order, *RecordKind), blank=False)
    assert bands(paper)[0] == "Returned by the inspector: The washer of the lower nut is missing, and the ..."
    one_word = replace(long, reason="x" * 200)
    order = replace(order, passages=(*order.passages[:-1], one_word))
    assert len(bands(order_card_paper(of(desk, order, *RecordKind), blank=False))[0]) <= 80


def test_that_a_card_in_work_is_not_called_clean(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, SIGNED)
    card = replace(order.cards[0], state=OrderState.IN_WORK)
    begun = replace(order, passages=order.passages[:2], ending=None, cards=(card,))
    text = words(order_card_paper(of(desk, begun, *RecordKind), blank=False))
    assert "The card is in work. The card is not finished." in text
    assert "Nothing was found" not in text
    assert "The card is not finished" not in words(made(desk, kinds.CARD, SIGNED))


def test_that_a_card_with_something_that_stops_says_so_on_every_page(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    told = card_paper(desk, order, order.cards[8], names_in(desk))
    stopped = order_card_paper(told, blank=False)
    assert Band("Stops: not to be approved", loud=True) in stopped.head.bands
    assert Band("Stops: not to be approved", loud=True) not in order_card_paper(told, blank=True).head.bands
    only_waits = replace(
        told, said=replace(told.said, findings=tuple(f for f in told.said.findings if f.rule == "initials-missing"))
    )
    assert only_waits.said.findings
    assert "Stops: not to be approved" not in bands(order_card_paper(only_waits, blank=False))


@pytest.mark.parametrize(
    ("ending", "state", "said"),
    [
        (None, OrderState.ISSUED, []),
        (None, OrderState.FOR_INSPECTION, ["The card is for inspection"]),
        (None, OrderState.ACCEPTED, ["The card is accepted"]),
        (OrderState.CLOSED, OrderState.ACCEPTED, ["The order is closed"]),
        (OrderState.VOID, OrderState.ISSUED, []),
    ],
)
def test_that_an_empty_card_says_that_its_work_is_behind_it(
    desk: PaperDesk, ending: OrderState | None, state: OrderState, said: list[str]
) -> None:
    order = see_order(desk.shop.store, SIGNED)
    order = replace(order, ending=ending, cards=(replace(order.cards[0], state=state),))
    assert [band.text for band in now_bands(of(desk, order).said)] == said


def test_that_a_signature_of_ink_leaves_the_code_of_the_card_as_it_was(desk: PaperDesk) -> None:
    order = see_order(desk.shop.store, TWIN)
    card, other = order.cards[4], desk.verified()
    with_records = order_card_paper(card_paper(desk, order, card, names_in(desk), other), blank=False)
    without = order_card_paper(card_paper(desk, order, card, names_in(desk)), blank=False)
    assert code_of(with_records) == code_of(without)


def test_that_a_signature_in_words_is_part_of_what_a_card_says(desk: PaperDesk) -> None:
    assert code_of(signed(desk)) != code_of(signed(desk, RecordKind.CARD_ACCEPTED))
