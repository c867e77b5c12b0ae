"""What the type of the papers lacks is said with its place before anything is drawn; the rest prints as typed."""

from dataclasses import replace

import pytest

from desktop.assembly import PaperPrinter
from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order_card import Remark
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.cards.order_card import order_card_paper
from desktop.usecases.papers.frame import About, document
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.orders.order_head import about_card
from desktop.usecases.papers.orders.work_order import work_order_paper
from desktop.usecases.papers.printable import refuse_missing_signs, sign_words
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.lists.look_up import see_order
from reports.document import (
    Band,
    Column,
    Fact,
    Facts,
    Heading,
    ReadingRow,
    ReadingTable,
    Step,
    Table,
    plain,
)
from reports.document_text import Entries, Entry
from tests.usecases.papers.pages import inside, made, pages
from tests.usecases.papers.paper_floor import BARE, PRINTED, TWIN, PaperFloor
from tests.usecases.papers.test_order_papers import gathered

MANY = (Band("Blank"), Band("Superseded", loud=True), Band("Reprint"))
MISSING = PaperPrinter().missing_signs
LACKING = "Владимир 王"
PAYLOADS = (
    "<b>bold</b>",
    "<img src=x onerror=alert(1)>",
    "&lt;para&gt; &amp; &#65;",
    "<para><font size=99>big</font></para>",
    "{{7*7}} ${HOME} %s %(x)s",
    "=1+1",
    "'; DROP TABLE work_order; --",
    "\\textbf{x} \\n \\u0041",
    "]]></a><!-- -->",
    "(parens) \\( \\) /Type /Page",
    "https://shop.example/?a=1&b=2",
    "\"quoted\" and 'quoted'",
    "Ødegård-Țepeș Łukasz",
    "100 % ± 0.5°, 1/2 \u00d7 3",
)


def lines(*blocks: object) -> object:
    return document("Trial", About("Mill Shop"), blocks)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("block", "place"),
    [
        (Facts((Fact("customer", LACKING),)), "customer"),
        (Entries((Entry("complaint", LACKING),)), "complaint"),
        (ReadingTable((ReadingRow("1", "Plug gap", reading=LACKING),)), "Plug gap"),
        (Step("7", LACKING), "Step 7"),
        (Table((Column("part"), Column("")), (("ok", None), ("ok", LACKING)), "Parts"), "Parts, line 2"),
        (Table((Column("part"),), ((LACKING,),)), "part, line 1"),
        (Table((Column(LACKING),), ()), "Trial"),
        (plain(LACKING), "Trial"),
    ],
)
def test_that_a_missing_sign_is_refused_with_where_it_stands(block: object, place: str) -> None:
    with pytest.raises(Refusal, match=rf"^{place}: the paper's type has no sign for U\+0412") as caught:
        refuse_missing_signs(lines(block), MISSING)  # type: ignore[arg-type]
    assert "cyrillic capital letter ve" in caught.value.sentence


def test_that_text_under_a_heading_is_found_under_it() -> None:
    with pytest.raises(Refusal, match=r"^Remarks: the paper's type"):
        refuse_missing_signs(lines(Heading("Remarks"), plain(LACKING)), MISSING)  # type: ignore[arg-type]


def test_that_a_paper_in_the_types_own_signs_passes(desk: PaperDesk) -> None:
    for kind in (kinds.WORK_ORDER, kinds.CARD, kinds.SUMMARY):
        refuse_missing_signs(paper_of(desk, Asked(kind, TWIN), PRINTED), MISSING)


def test_that_a_sign_without_a_name_is_named_by_its_code() -> None:
    assert sign_words("\ue000") == "U+E000"


def test_that_a_signed_record_with_missing_signs_prints_them_as_codes_and_says_so(own_floor: PaperFloor) -> None:
    reason = f"The owner {LACKING} took the aircraft away."
    own_floor.sign_about(BARE, "DESK", RecordKind.VOID, reason)
    text = " ".join(pages(made(own_floor.paper_desk(), kinds.RECORD, BARE)))
    assert "Signs that the type of this paper lacks stand as codes such as [U+4E2D]" in text
    assert "[U+0412]" in text
    assert "[U+738B] took the aircraft away." in text


@pytest.mark.parametrize("payload", PAYLOADS)
def test_that_what_was_typed_into_an_order_prints_as_it_was_typed(desk: PaperDesk, payload: str) -> None:
    order = see_order(desk.shop.store, BARE)
    typed = replace(
        order,
        customer=Customer(payload, payload, payload, payload),
        asked=payload,
        authorised=payload,
        aircraft=replace(order.aircraft, registration=payload, type=payload, serial=payload),
    )
    paper = work_order_paper("Mill Shop", typed, Names())
    refuse_missing_signs(paper, MISSING)
    text = "".join("".join(pages(paper)).split())
    assert text.count("".join(payload.split())) >= 9


@pytest.mark.parametrize("length", [0, 1, 20_000])
def test_that_a_remark_of_any_length_prints_whole(desk: PaperDesk, length: int) -> None:
    paper = gathered(desk, TWIN, 5)
    text = ("remark " * 3000)[:length]
    card = replace(paper.said.card, remarks=(Remark(text, paper.said.card.issued),))
    printed = "".join(
        "".join(pages(order_card_paper(replace(paper, said=replace(paper.said, card=card)), blank=False))).split()
    )
    assert printed.count("remark") >= length // 7


@pytest.mark.parametrize("count", [1, 30, 300])
def test_that_cards_of_any_number_of_steps_print_each_of_them(desk: PaperDesk, count: int) -> None:
    paper = gathered(desk, TWIN, 5)
    steps = tuple(
        replace(paper.said.steps[4], id=f"s{number}", instruction=f"Do thing {number}.")
        for number in range(1, count + 1)
    )
    told = order_card_paper(replace(paper, said=replace(paper.said, steps=steps, findings=())), blank=True)
    text = " ".join(pages(told, "a4"))
    assert all(f"Do thing {number}." in text for number in range(1, count + 1))
    assert len(list(inside(told, Step))) == count


def test_that_a_head_with_too_many_bands_keeps_every_one_that_is_loud(desk: PaperDesk) -> None:
    order = replace(see_order(desk.shop.store, TWIN), ending=OrderState.VOID)
    odd = replace(order, board=tuple(replace(one, is_normal=False) for one in order.board))
    about = about_card("Mill", odd, odd.cards[0], invented=True, bands=MANY)
    head = document("Card", about, ()).head
    assert len(head.bands) <= 6
    assert all(band.loud for band in head.bands)
    said = head.banner + " ".join(band.text for band in head.bands)
    for text in ("INVENTED DATA", "Blank", "LEFT ENGINE", "Superseded", "Void", "switch not at OFF", "magneto loose"):
        assert text in said
