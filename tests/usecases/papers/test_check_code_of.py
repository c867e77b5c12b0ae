"""The check code of a paper: of what it says, and of nothing that belongs to one print."""

from dataclasses import replace

import pytest

from desktop.core.records.sealed.check_code import is_code
from desktop.usecases.papers.frame import About, Printing, document, packed, short, stamped
from desktop.usecases.papers.heading import GOVERNING, INVENTED
from desktop.usecases.papers.records.check_code_of import code_of
from reports.document import (
    Band,
    Caution,
    Column,
    Document,
    Fact,
    Facts,
    KeepTogether,
    Picture,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.document_attachments import Attachment
from reports.drawing import Drawing, Words
from tests.usecases.papers.pages import code, inside

PICTURE = Picture(Drawing(10.0, 10.0, (Words(1.0, 1.0, "nominal"),), "a dial"), 20.0, 20.0)
BLOCKS = (
    plain("Read the light."),
    Caution("warning", "Live."),
    Facts((Fact("registration", "XQ-TBK"), Fact("engine", None))),
    Table((Column("a"), Column("b")), (("1", None), ("2", "3"))),
    PICTURE,
    KeepTogether((Signatures((SignatureBox("Mechanic", "I did it."),)),)),
)
ABOUT = About("Mill Shop", "order W-0001", "card 1 (T4)", "rev 2", "XQ-TBK")
PAPER = document("Task card", ABOUT, BLOCKS)
PRINTING = Printing("printed 4 Mar 2031 09:00 UTC+00:00", "ab" * 16, 12, "cd" * 32)


def test_that_a_paper_carries_its_code_in_large_and_beside_each_ink_signature() -> None:
    paper = stamped(PAPER, PRINTING)
    assert is_code(code(paper))
    assert [box.code for box in inside(paper, SignatureBox)] == [code(paper)]
    assert code(paper) == code_of(PAPER)


@pytest.mark.parametrize(
    "printing",
    [
        replace(PRINTING, printed="printed 5 Mar 2031 10:00 UTC+00:00"),
        replace(PRINTING, count=13, head="ef" * 32),
        replace(PRINTING, is_reprint=True),
    ],
)
def test_that_what_belongs_to_one_print_leaves_the_code_as_it_is(printing: Printing) -> None:
    assert code(stamped(PAPER, printing)) == code(stamped(PAPER, PRINTING))
    assert stamped(PAPER, printing) != stamped(PAPER, PRINTING)


@pytest.mark.parametrize(
    "other",
    [
        replace(PAPER, blocks=(plain("Read the lamp."), *BLOCKS[1:])),
        replace(PAPER, blocks=(BLOCKS[1], BLOCKS[0], *BLOCKS[2:])),
        replace(PAPER, blocks=(BLOCKS[0], Caution("caution", "Live."), *BLOCKS[2:])),
        replace(PAPER, blocks=(*BLOCKS[:2], Facts((Fact("registration", "XQ-TBK"), Fact("engine", ""))), *BLOCKS[3:])),
        replace(PAPER, blocks=(*BLOCKS[:3], Table((Column("a"), Column("b")), (("1", "2"), (None, "3"))), *BLOCKS[4:])),
        replace(PAPER, blocks=(*BLOCKS[:4], replace(PICTURE, caption="as found"), *BLOCKS[5:])),
        replace(
            PAPER, blocks=(*BLOCKS[:4], replace(PICTURE, drawing=replace(PICTURE.drawing, shapes=())), *BLOCKS[5:])
        ),
        replace(PAPER, head=replace(PAPER.head, bands=(Band("Not approved", loud=True),))),
        replace(PAPER, foot=replace(PAPER.foot, shop="Other Shop")),
        replace(PAPER, foot=replace(PAPER.foot, revision="rev 3")),
        replace(PAPER, title="Another card"),
    ],
)
def test_that_anything_else_that_a_paper_says_changes_its_code(other: Document) -> None:
    assert code_of(other) != code_of(PAPER)


def test_that_an_attached_file_is_no_part_of_what_the_paper_says() -> None:
    with_file = replace(PAPER, attachments=(Attachment("record-1.json", b"{}", "application/json"),))
    assert code_of(with_file) == code_of(PAPER)


def test_that_a_paper_says_whose_it_is_and_what_governs() -> None:
    paper = stamped(document("Task card", replace(ABOUT, invented=True), BLOCKS), PRINTING)
    assert (paper.head.governing, paper.head.banner) == (GOVERNING, INVENTED)
    assert paper.head.card == "order W-0001 · card 1 (T4) · XQ-TBK"
    foot = paper.foot
    assert (foot.shop, foot.order, foot.card, foot.revision) == ("Mill Shop", "order W-0001", "card 1 (T4)", "rev 2")
    assert foot.printed == PRINTING.printed
    assert dict(foot.codes)["records"] == "12"
    assert dict(foot.codes)["record seal of the last"] == "cd" * 8


def test_that_a_print_of_a_shop_without_records_names_no_seal() -> None:
    assert stamped(PAPER, Printing("printed today")).foot.codes == ()
    assert [name for name, _ in stamped(PAPER, Printing("now", "ab" * 16)).foot.codes] == ["shop file", "records"]


def test_that_a_reprint_says_so_before_everything_else() -> None:
    bands = stamped(PAPER, replace(PRINTING, is_reprint=True)).head.bands
    assert bands[0] == Band("Reprint", loud=True)


def test_that_a_code_is_held_to_the_signatures_above_it_and_follows_any_other_block() -> None:
    assert isinstance(stamped(PAPER, PRINTING).blocks[-1], KeepTogether)
    listed = document("List", ABOUT, (plain("one"),))
    assert len(stamped(listed, PRINTING).blocks) == 2
    assert len(stamped(document("Nothing", ABOUT, ()), PRINTING).blocks) == 1


def test_that_many_words_stand_in_as_few_bands_as_hold_them() -> None:
    odd = tuple(f"thing number {number} not normal" for number in range(6))
    bands = packed(odd, "Safe state: ", loud=True)
    assert bands[0].text.startswith("Safe state: thing number 0")
    assert all(len(band.text) <= 80 and band.loud for band in bands)
    assert " · ".join(band.text for band in bands).removeprefix("Safe state: ") == " · ".join(odd)
    assert packed(()) == ()


def test_that_a_text_on_every_page_is_cut_with_a_mark() -> None:
    assert short("x" * 200) == "x" * 200
    assert short("x" * 201) == "x" * 196 + " ..."
