"""Signed records on paper: verified first, printed as they were signed, with what corrects them."""

import json
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

import pytest
import zxingcpp

from desktop.core.errors import Refusal
from desktop.core.records.record import Row, Section, Signer, rows_of
from desktop.core.records.sealed.canonical import unframed
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.frame import Printing
from desktop.usecases.papers.from_shop import paper_of
from desktop.usecases.papers.records.record_paper import CODES, PLAIN_SIGNS, record_paper
from desktop.usecases.papers.records.record_parts import grouped, section_blocks, signed_as
from desktop.usecases.papers.records.verified import record_numbered
from reports.document import Heading, Paragraph, Table
from reports.document_signing import CheckCode, ElectronicSignature
from reports.document_text import Entry
from reports.signs import missing_signs
from tests.reports.reading_back import pictures
from tests.storage.file_floor import sql
from tests.usecases.papers.pages import inside, made, pages, reader, words
from tests.usecases.papers.paper_floor import BARE, PRINTED, REFUSED, SIGNED, PaperFloor, opened_paper_shop

APPROVAL, CORRECTION = 7, 8


def test_that_what_is_printed_is_what_was_signed(desk: PaperDesk) -> None:
    one = record_numbered(desk.verified(), APPROVAL)
    paper = made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL))
    printed = list(printed_pairs(paper))
    signed = [(row.label, row.text) for section in one.taken.record.sections for row in section.rows]
    assert [pair for pair in printed if pair in signed][: len(signed)] == signed
    text = " ".join(pages(paper))
    for _, value in signed:
        assert "".join(value.split()) in "".join(text.split())


def printed_pairs(value: object) -> Iterator[tuple[str, str]]:
    """Yield each label with its text in the order of the paper; a table's heads are the labels of its cells."""
    if isinstance(value, Entry):
        yield value.label, value.value or ""
    elif isinstance(value, Table):
        heads = [column.heading for column in value.columns]
        for row in value.rows:
            for head, cell in zip(heads, row, strict=True):
                for place, line in enumerate((cell or "").splitlines()):
                    yield f"{head}, continued" if place else head, line
    elif is_dataclass(value):
        for one in fields(value):
            yield from printed_pairs(getattr(value, one.name))
    elif isinstance(value, tuple):
        for entry in value:
            yield from printed_pairs(entry)


def moves(*rows: tuple[str, str]) -> Section:
    return Section("Moves", tuple(row for label, text in rows for row in rows_of(label, text)))


def test_that_the_moves_of_an_order_are_a_table_with_everything_that_was_signed(desk: PaperDesk) -> None:
    [found] = [one for one in inside(made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL)), Table) if one.title == "Moves"]
    assert [row[0] for row in found.rows][-1] == "approve for return to service"
    assert all(len(row) == 3 and row[2] for row in found.rows)
    section = moves(
        ("Move", "return, card 1"), ("Reason", "Read it again.\nTwice."), ("By", "IN"), ("Move", "begin"), ("By", "MC")
    )
    [block] = section_blocks((section,))
    assert isinstance(block, Table)
    assert block.rows == (("return, card 1", "Read it again.\nTwice.", "IN"), ("begin", "", "MC"))
    assert list(printed_pairs(block)) == [(row.label, row.text) for row in section.rows]


@pytest.mark.parametrize(
    "rows",
    [
        (("By", "IN"), ("Move", "begin")),
        (("Move", "begin"), ("Card", "1")),
        (("Move", "begin"), ("By", "IN"), ("By", "MC")),
        (("Move", "begin"), ("Reason", "x" * 700)),
        (("Move", "begin"), ("Reason, continued", "again")),
    ],
)
def test_that_moves_that_were_signed_in_another_form_stand_row_by_row(rows: tuple[tuple[str, str], ...]) -> None:
    section = Section("Moves", tuple(Row(label, text) for label, text in rows))
    blocks = tuple(section_blocks((section,)))
    assert isinstance(blocks[0], Heading)
    assert not list(inside(blocks, Table))
    printed = words(blocks)
    assert all(label in printed and text in printed for label, text in rows)


def test_that_a_record_that_is_named_is_said_with_what_it_is(desk: PaperDesk) -> None:
    paper = made(desk, kinds.RECORD, SIGNED, of="6")
    submitted = record_numbered(desk.verified(), 5)
    said = f"5: card submitted, order W-0001, card 1, record seal {submitted.taken.envelope.digest}"
    assert ("About record", said) in list(printed_pairs(paper))
    assert "5: card submitted, order W-0001, card 1, record seal" in " ".join(pages(paper))


def test_that_a_right_named_like_the_certificate_is_said_once() -> None:
    signer = Signer("TR", "Tom Rill", "0000118", "mechanic", ("mechanic",), "It is done.")
    assert signed_as(signer) == "certificate 0000118, mechanic"
    assert signed_as(replace(signer, rights=("mechanic", "inspector"))) == "certificate 0000118, mechanic, inspector"
    assert signed_as(replace(signer, certificate_number="", certificate_kind="", rights=("helper",))) == "helper"


def test_that_codes_are_spoken_of_only_where_one_may_stand(desk: PaperDesk) -> None:
    assert CODES not in words(made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL)))
    assert CODES not in words(made(desk, kinds.RECORD, SIGNED, of="6"))
    for number in (APPROVAL, 6):
        one = record_numbered(desk.verified(), number)
        record = replace(one.taken.record, shop_name="Mill Shop 中")
        odd = replace(one, taken=replace(one.taken, record=record))
        assert CODES in words(record_paper(odd, Printing(PRINTED)))
    # What counts as plain is in the type; the sign in the sentence is not.
    assert missing_signs("".join(PLAIN_SIGNS)) == ()
    assert missing_signs("中") == ("中",)


def test_that_the_files_inside_are_the_bytes_that_were_signed(desk: PaperDesk) -> None:
    one = record_numbered(desk.verified(), APPROVAL)
    found = reader(made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL))).attachments
    [data] = found[f"record-{APPROVAL}.json"]
    assert bytes(data) == unframed(one.taken.envelope.content)[-1]
    assert json.loads(bytes(data))["kind"] == "approved for return to service"


def test_that_the_code_holds_file_number_count_head_and_the_whole_seal(desk: PaperDesk) -> None:
    one = record_numbered(desk.verified(), APPROVAL)
    paper = made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL))
    [block] = inside(paper, CheckCode)
    assert block.content.splitlines() == [
        f"shop {desk.shop_id}",
        "record 7 of 9",
        f"head {one.head}",
        f"digest {one.taken.envelope.digest}",
    ]
    read = [
        code.text
        for page in pictures(paper, "letter", 108 / 72)
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ]
    assert read == [block.content]


def test_that_each_signature_stands_in_words_with_key_and_seal(desk: PaperDesk) -> None:
    one = record_numbered(desk.verified(), APPROVAL)
    [signed] = inside(made(desk, kinds.RECORD, SIGNED, of="6"), ElectronicSignature)
    assert (signed.title, signed.name, signed.certificate) == ("Signed", "Rolf Aar", "5678")
    assert signed.kind == "mechanic, inspector and authorised person"
    assert signed.meaning.startswith("I inspected the work on this card")
    key = one.taken.envelope.signatures[0].public_key.hex()
    assert signed.key.replace(" ", "") == key[:16]
    assert len(signed.seal.replace(" ", "")) == 16


def test_that_an_enrolment_shows_both_signatures_and_the_key(desk: PaperDesk) -> None:
    paper = made(desk, kinds.RECORD, of="2")
    assert [box.title for box in inside(paper, ElectronicSignature)] == ["Signed", "Countersigned"]
    one = record_numbered(desk.verified(), 2)
    assert one.taken.record.keys[0].public_key_hex in words(paper)
    assert one.taken.record.subject in words(paper)
    assert paper.foot.order == ""


def test_that_a_corrected_record_says_so_on_every_page_and_shows_the_correction(desk: PaperDesk) -> None:
    paper = made(desk, kinds.RECORD, SIGNED, of=str(APPROVAL))
    for page in pages(paper):
        assert "Corrected by record 8" in page
    assert "The tachometer was read 978.6, not 987.6." in words(paper)
    assert "Correction: record 8" in words(paper)
    other = made(desk, kinds.RECORD, SIGNED, of="6")
    assert "orrected by" not in words(other)
    assert "978.6" not in words(other)


def test_that_the_newest_record_about_an_order_or_its_card_is_taken(desk: PaperDesk) -> None:
    assert made(desk, kinds.RECORD, SIGNED).title == "Record 8: correction"
    assert made(desk, kinds.RECORD, SIGNED, card=1).title == "Record 6: card accepted"
    refused = made(desk, kinds.RECORD, REFUSED)
    assert "Not approved" in [band.text for band in refused.head.bands]


@pytest.mark.parametrize(
    ("order", "of", "said"),
    [
        (BARE, "", "Nothing is signed yet about W-0005."),
        (SIGNED, "99", "There is no record 99"),
        (SIGNED, "x", '"x" is no record number.'),
        (SIGNED, "1" * 10, "is no record number"),
    ],
)
def test_that_a_record_that_is_not_there_is_refused(desk: PaperDesk, order: int, of: str, said: str) -> None:
    with pytest.raises(Refusal, match=said):
        paper_of(desk, Asked(kinds.RECORD, order, of=of), PRINTED)


def test_that_nothing_signed_is_printed_from_a_file_that_was_changed(own_floor: PaperFloor) -> None:
    place = own_floor.file.place
    own_floor.file.close()
    guards = sql(place, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    changed = "CAST (replace (CAST (content AS TEXT), 'Mill Shop', 'Hill Shop') AS BLOB)"
    drops, again = [f"DROP TRIGGER {name}" for name, _ in guards], [made for _, made in guards]
    sql(place, *drops, f"UPDATE envelope SET content = {changed} WHERE number = 6", *again)  # noqa: S608 - a test's words
    floor = opened_paper_shop(place)
    for kind in (kinds.RECORD, kinds.ENTRY, kinds.DISCREPANCIES):
        with pytest.raises(Refusal, match="No record is printed while the check finds something wrong: Record 6"):
            paper_of(floor.paper_desk(), Asked(kind, SIGNED), PRINTED)
    floor.file.close()


def test_that_invented_data_are_said_of_a_record_when_the_shop_is_invented(desk: PaperDesk) -> None:
    assert made(desk, kinds.RECORD, SIGNED, of="6").head.banner == ""
    assert "INVENTED" in made(desk, kinds.RECORD, SIGNED, of="6", invented=True).head.banner


def test_that_a_long_text_is_printed_as_a_paragraph_between_the_rows_around_it() -> None:
    rows = (*rows_of("before", "short"), *rows_of("Work performed", "x" * 700), *rows_of("after", "short"))
    blocks = list(section_blocks((Section("Work", rows), Section("Last", rows_of("Long", "y" * 700)))))
    kinds_of = [type(block).__name__ for block in blocks]
    assert kinds_of == ["Heading", "Entries", "Paragraph", "Entries", "Heading", "Paragraph"]
    assert isinstance(blocks[2], Paragraph)
    assert "".join(run.text for run in blocks[2].runs) == f"Work performed: {'x' * 700}"


def test_that_the_content_gives_the_code_and_the_printing_does_not(desk: PaperDesk) -> None:
    one = record_numbered(desk.verified(), CORRECTION)
    first = record_paper(one, Printing("now", desk.shop_id, 9, one.head))
    second = record_paper(one, Printing("later", desk.shop_id, 12, "ab" * 32))
    grown = record_paper(replace(one, count=12, head="ab" * 32), Printing("later", desk.shop_id, 12, "ab" * 32))
    codes = {block.code for paper in (first, second, grown) for block in inside(paper, CheckCode)}
    assert len(codes) == 1


def test_that_a_seal_is_read_aloud_in_fours() -> None:
    assert grouped("0123456789abcdef") == "0123 4567 89ab cdef"


ALTERED = (
    (kinds.WORK_ORDER, 0),
    (kinds.CARD, 1),
    (kinds.BLANK_CARD, 1),
    (kinds.SUMMARY, 0),
)


@pytest.mark.parametrize(("kind", "card"), ALTERED)
def test_that_an_order_that_is_not_what_was_signed_is_not_printed(
    own_floor: PaperFloor, kind: kinds.PaperKind, card: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = Asked(kind, SIGNED, card)
    place = own_floor.file.place
    assert words(paper_of(own_floor.paper_desk(), asked, PRINTED))
    sql(place, "UPDATE work_order SET version = version + 1, text = replace (text, '337.5', '338.5') WHERE number = 1")
    said = r"W-0001 is not printed while the check finds something wrong: Record .* not what was signed\. Run"
    with pytest.raises(Refusal, match=said):
        paper_of(own_floor.paper_desk(), asked, PRINTED)
    monkeypatch.setattr("desktop.usecases.papers.records.unaltered.SignedState.order_problems", lambda *_: iter(()))
    assert words(paper_of(own_floor.paper_desk(), asked, PRINTED))


@pytest.mark.parametrize(("kind", "card"), ALTERED)
def test_that_an_order_whose_record_was_changed_is_not_printed(
    own_floor: PaperFloor, kind: kinds.PaperKind, card: int
) -> None:
    sql(
        own_floor.file.place,
        "DROP TRIGGER envelope_stays",
        "UPDATE envelope SET content = CAST (replace (CAST (content AS TEXT), 'Mel', 'Mal') AS BLOB) WHERE number = 5",
    )
    with pytest.raises(Refusal, match=r"something wrong: Record 5.*Run 'sparkwright verify'"):
        paper_of(own_floor.paper_desk(), Asked(kind, SIGNED, card), PRINTED)


def test_that_an_order_approved_by_no_record_is_not_printed(own_floor: PaperFloor) -> None:
    changed = """replace (text, '"state":"in work"', '"state":"accepted"')"""
    sql(own_floor.file.place, f"UPDATE work_order SET version = version + 1, text = {changed} WHERE number = 2")  # noqa: S608 - a test's words
    with pytest.raises(Refusal, match=r"W-0002 is not printed .* no record says who signed that\."):
        paper_of(own_floor.paper_desk(), Asked(kinds.WORK_ORDER, 2), PRINTED)
