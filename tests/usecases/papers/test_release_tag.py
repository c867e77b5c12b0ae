"""The release tag of a magneto that was inspected off the engine: which order has one, and who approved it."""

from dataclasses import replace

import pytest
import zxingcpp

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import LeftOut, Passage, WorkOrder
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.shop.stamp import Stamp
from desktop.core.timing.readings import Side
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.orders.release_tag import (
    NO_FORM,
    NOT_YET,
    REFUSED,
    RELEASED,
    has_release_tag,
    release_tag_paper,
)
from desktop.usecases.papers.records.record_parts import qr_content
from desktop.usecases.papers.records.verified import record_numbered
from desktop.usecases.papers.stable_set import papers_of_order
from desktop.usecases.records.sections.names import Names
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.lists.look_up import see_order
from reports.document_tags import Tag
from reports.document_text import Entry
from tests.reports.reading_back import pictures
from tests.usecases.papers.pages import inside, made, pages, reader, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, SIGNED, TWIN, PaperFloor

JOBS = builtin_jobs()
JOB = next(job for job in JOBS if job.tag)
DETAILS = ShopDetails("Mill Shop", is_station=True, station_certificate="ZZ9R001")
APPROVAL = 7


def on_the_bench(desk: PaperDesk, number: int = TWIN) -> WorkOrder:
    """Return an order as if its cards were those of the job off the engine."""
    order = see_order(desk.shop.store, number)
    return replace(order, cards=tuple(replace(card, job=JOB.id) for card in order.cards))


def lines(tag: Tag) -> dict[str, str | None]:
    return {entry.label: entry.value for entry in inside(tag, Entry)}


def test_that_only_an_order_with_that_job_has_a_release_tag(own_floor: PaperFloor) -> None:
    desk = own_floor.paper_desk()
    for number in (TWIN, BARE, SIGNED):
        assert not has_release_tag(see_order(desk.shop.store, number), JOBS)
        with pytest.raises(Refusal, match="No job of this order ends with a release tag"):
            paper_of(desk, Asked(kinds.RELEASE_TAG, number), PRINTED)
    order = see_order(desk.shop.store, TWIN)
    new = NewJob(cards_of(JOB, builtin_cards()), JOB.id, sheets_that_fit(demo_sheets(), order), is_current=True)
    issue_job(own_floor.shop, own_floor.seen("DESK", TWIN), TWIN, new)
    paper = made(desk, kinds.RELEASE_TAG, TWIN)
    assert [tag.title for tag in inside(paper, Tag)] == ["Release tag: magneto 7741", "Release tag: magneto 7742"]
    for size in ("letter", "a4"):
        text = " ".join(pages(paper, size))
        for said in (
            NOT_YET,
            "T2-L",
            "7741",
            "412",
            "Check code of the print:",
            "Check the internal timing on the bench",
        ):
            assert said in text
    names = [name for name, _ in papers_of_order(desk, see_order(desk.shop.store, TWIN))]
    assert "W-0002-release-tag" in names
    assert not any("release-tag" in name for name, _ in papers_of_order(desk, see_order(desk.shop.store, BARE)))


def test_that_an_unsigned_tag_releases_nothing_and_leaves_lines_for_the_pen(desk: PaperDesk) -> None:
    order = on_the_bench(desk)
    left = (LeftOut(Side.RIGHT, "It stays on the engine.", order.opened),)
    paper = release_tag_paper(DETAILS, replace(order, left_out=left), Names(), JOBS, None, invented=True)
    [tag] = inside(paper, Tag)
    assert (tag.title, tag.big) == ("Release tag: magneto 7741", NOT_YET)
    assert tag.bands == ("Invented data", "Not signed yet")
    empty = [label for label, value in lines(tag).items() if value is None]
    assert empty == [
        *("done by", "finished on"),
        *("approved for return to service: signature", "date", "printed name", "certificate no. and kind"),
    ]
    assert NO_FORM in words(tag)
    assert RELEASED not in words(tag).splitlines()


def test_that_a_signed_tag_says_who_released_it_with_key_seal_and_code(desk: PaperDesk) -> None:
    signed = record_numbered(desk.verified(), APPROVAL)
    order = replace(on_the_bench(desk, SIGNED), taken_in=see_order(desk.shop.store, TWIN).taken_in)
    paper = release_tag_paper(DETAILS, order, Names(desk.shop.store.people()), JOBS, signed)
    first = next(iter(inside(paper, Tag)))
    assert first.big == RELEASED
    assert first.bands[-1] == "Corrected by record 8"
    assert "Not signed yet" not in words(paper)
    said = lines(first)
    assert (said["part number"], said["station certificate"], said["job"]) == ("T2-L", "ZZ9R001", JOB.title)
    assert said["done by"] == "Mel Chan (MECH)"
    assert said["finished on"] is not None
    text = " ".join(pages(paper))
    for there in ("Signed electronically by Rolf Aar, certificate 5678", "Key ", "Record 7, record seal"):
        assert there in text
    read = {
        code.text
        for page in pictures(paper, "letter", 200 / 72)
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    }
    assert read == {qr_content(desk.shop_id, signed)}
    assert list(reader(paper).attachments) == ["record-7.json"]


def test_that_nothing_is_released_by_an_order_that_is_void_refused_or_not_approved_yet(desk: PaperDesk) -> None:
    order = replace(on_the_bench(desk, SIGNED), taken_in=see_order(desk.shop.store, TWIN).taken_in)
    signed = record_numbered(desk.verified(), APPROVAL)
    by = Stamp("DESK", order.opened.at)
    void = replace(order, ending=OrderState.VOID, passages=(*order.passages, Passage(Move.VOID, by, reason="Twice.")))
    refusal = record_numbered(desk.verified(), 9)
    for one, record, big in (
        (void, None, REFUSED),
        (order, refusal, REFUSED),
        (replace(order, ending=None), signed, NOT_YET),
        (order, None, NOT_YET),
    ):
        paper = release_tag_paper(ShopDetails("Mill"), one, Names(), JOBS, record)
        assert {tag.big for tag in inside(paper, Tag)} == {big}
        assert "station certificate" not in words(paper)
    assert all("Void" in tag.bands for tag in inside(release_tag_paper(DETAILS, void, Names(), JOBS, None), Tag))


def test_that_a_magneto_without_a_number_and_one_without_an_intake_are_said_so(desk: PaperDesk) -> None:
    with pytest.raises(Refusal, match="No magneto of this order has a serial number"):
        release_tag_paper(DETAILS, on_the_bench(desk, SIGNED), Names(), JOBS, None)
    paper = release_tag_paper(DETAILS, replace(on_the_bench(desk), taken_in=None), Names(), JOBS, None)
    first = next(iter(inside(paper, Tag)))
    assert lines(first)["part number"] == "T2-L"
    assert lines(first)["since overhaul, h"] is None
    assert lines(first)["data"] != "none named"
    bare = replace(on_the_bench(desk), cards=on_the_bench(desk, SIGNED).cards)
    bare = replace(bare, cards=tuple(replace(card, data_confirmed=None) for card in bare.cards))
    assert lines(next(iter(inside(release_tag_paper(DETAILS, bare, Names(), JOBS, None), Tag))))["data"] == "none named"
