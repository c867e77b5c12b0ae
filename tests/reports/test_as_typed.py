from __future__ import annotations

from collections import Counter
from dataclasses import fields, is_dataclass
from io import BytesIO
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from reports.document import (
    Attachment,
    Band,
    Beside,
    Caution,
    Checklist,
    Column,
    Document,
    Fact,
    Facts,
    Finding,
    Foot,
    Head,
    Heading,
    Initials,
    KeepTogether,
    Picture,
    ReadingRow,
    ReadingTable,
    Result,
    Seal,
    SignatureBox,
    Signatures,
    Step,
    Table,
    Tick,
    plain,
)
from reports.document_labels import LABEL_SIZES, Label, LabelCode, LabelSheet, PenLine
from reports.document_signing import CheckCode, ElectronicSignature
from reports.document_tags import BigWords, Tag, Tags
from reports.document_text import EmptyState, Entries, Entry, NumberedList
from reports.drawing import Drawing, Words
from reports.page import LEFT, RIGHT
from reports.render import render
from reports.signs import missing_signs, visible_code
from tests.reports.reading_back import overlaps, page_texts, paper, squeezed, squeezed_pages, stretches

if TYPE_CHECKING:
    from reports.document import PaperSize

PAYLOADS = (
    '<font color="white">hidden</font>',
    '<img src="/etc/hostname"/>',
    "a<b & c > d",
    "&lt;b&gt; &#65; &amp;",
    "</para><para>",
    "gap <max> mm",
    "100 % (ET) Tj \\ ( ) [",
    '<a href="http://example.invalid">x</a>',
    "<br/><!-- gone -->]]>",
    "${name} {page} %s",
    "appro\u200bved \u202edeppots\u202c",
    "in\u00advisible \u2066tail\u2069 \ufeff",
    "tag \U000e0041\U000e0042 \u3164 filler",
    "bell \x07 back \x08 nul \x00 tab \t",
)
SMALL = Drawing(60.0, 60.0, ())


def occurrences(value: object, text: str) -> int:
    """Count the fields below a value that say a text."""
    if isinstance(value, tuple):
        return sum(occurrences(part, text) for part in value)
    if is_dataclass(value):
        return sum(occurrences(getattr(value, field.name), text) for field in fields(value))
    return int(value == text)


def as_printed(text: str) -> str:
    """Give a text as paper shows it: signs that could not be seen as visible codes."""
    return "".join(visible_code(sign) if sign in missing_signs(sign) else sign for sign in text)


def everywhere(text: str) -> tuple[Document, int]:
    """Give a paper that says a text in every field, and how often it must be read."""
    row = ReadingRow(text, text, text, text, "mm", text, text, (text,), (), text)
    blank = ReadingRow("1", "what", choices=(text,))
    blocks = (
        plain(text),
        Heading(text, 2),
        Facts((Fact(text, text), Fact("code", text, code=True, span=2))),
        Step(
            text,
            text,
            (Caution("warning", text), Caution("caution", text), Caution("note", text)),
            (ReadingTable((row, blank)),),
            (Initials(text, text),),
            text,
        ),
        Table((Column(text), Column(text, numbers=True)), ((text, text),)),
        Checklist((Tick(text, initials=text),)),
        Result(text, "closed", (plain(text),)),
        Finding("stop", text, text, text, text),
        Signatures((SignatureBox(text, text, text, text, text, text, text),)),
        Beside(Picture(SMALL, 20.0, 20.0, text), (plain(text),)),
        Picture(Drawing(300.0, 20.0, (Words(2.0, 12.0, text[:40], 7.5),)), 100.0, 7.0),
        Seal("seal", (plain(text),)),
        KeepTogether((plain(text),)),
        Entries((Entry(text, text), Entry(text, text, code=True)), 2),
        NumberedList((plain(text),)),
        EmptyState(text),
        Table((Column(text),), (), text, text),
        Signatures((ElectronicSignature(text, text, text, text, text, text, text, text, text),)),
        CheckCode(text, "code", (plain(text),)),
        BigWords(text[:120]),
        Tags((Tag(text[:120], text[:120], (plain(text),), (text[:120],)),)),
    )
    head = Head(text, text, (plain(text),), text, text, (Band(text[:80] or "-"), Band(text[:80] or "-", loud=True)))
    foot = Foot(text, text, text, (("head", text[:150]),), text, text)
    document = paper(*blocks, head=head, foot=foot)
    return document, occurrences(document, text)


@pytest.mark.parametrize("text", PAYLOADS)
def test_that_markup_in_any_field_prints_as_it_was_typed(text: str) -> None:
    document, count = everywhere(text)
    printed = "".join(squeezed_pages(document))
    # Narrow columns break a text over lines that stand beside other cells: there the signs are counted instead.
    assert printed.count(squeezed(as_printed(text))) >= count // 2
    without, _ = everywhere("")
    more = Counter(printed)
    more.subtract(Counter("".join(squeezed_pages(without))))
    for sign, times in Counter(squeezed(as_printed(text))).items():
        assert more[sign] >= times * count, sign


@pytest.mark.parametrize("text", PAYLOADS)
def test_that_markup_on_a_label_prints_as_it_was_typed(text: str) -> None:
    label = Label((plain(text),), text, (PenLine(text, text),), (text,), LabelCode("-", (plain(text),)))
    pdf = render(LabelSheet(text, text, "en", LABEL_SIZES[1], (label,), 1, text), "letter")
    (page,) = PdfReader(BytesIO(pdf)).pages
    assert squeezed(page.extract_text()).count(squeezed(as_printed(text))) == 6


@pytest.mark.parametrize("text", PAYLOADS)
def test_that_markup_in_the_file_s_own_description_and_in_an_attachment_stays_text(text: str) -> None:
    document = Document(
        text,
        text,
        "en",
        Head("A"),
        Foot(text),
        (),
        attachments=(Attachment("a.txt", text.encode(), "text/plain", text),),
    )
    reader = PdfReader(BytesIO(render(document, "a4")))
    assert reader.metadata is not None
    described = reader.metadata
    assert (described.title, described.subject, described.author) == (text, text, text)
    assert reader.attachments == {"a.txt": [text.encode()]}


def test_that_hidden_words_print_in_the_same_ink_as_all_others() -> None:
    (text,) = page_texts(paper(plain('<font color="white">approved</font> as typed')))
    assert '<font color="white">approved</font> as typed' in text


def test_that_signs_no_face_has_print_as_visible_codes() -> None:
    printed = squeezed("".join(page_texts(paper(plain("a\u0416b\tc\u202ed\u200be\x00f")))))
    assert "a[U+0416]b[U+0009]c[U+202E]d[U+200B]e[U+0000]f" in printed


def test_that_arrows_and_boxes_come_from_the_other_face() -> None:
    (text,) = page_texts(paper(plain("turn \u2192 tick \u2610")))
    assert "\u2192" in text
    assert "\u2610" in text


def test_that_a_line_feed_begins_a_line() -> None:
    (page,) = stretches(paper(plain("upper\nlower")))
    places = {part.text.strip(): part.bottom for part in page}
    assert places["upper"] > places["lower"] + 10.0


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize(
    "text",
    ["W" * 40, "8" * 40, "x" * 300, "turn " * 60, "N-XX04/" * 20, "iiiii WWWWW " * 30],
    ids=["forty wide letters", "forty digits", "one long word", "short words", "slashes", "mixed"],
)
def test_that_long_texts_in_any_field_neither_leave_the_margins_nor_lie_over_each_other(
    text: str, size: PaperSize
) -> None:
    document, _ = everywhere(text[:200])
    width = 612.0 if size == "letter" else 595.3
    for page in stretches(document, size):
        assert all(part.left >= LEFT - 1.0 and part.right <= width - RIGHT + 1.0 for part in page)
        assert all(part.bottom >= 20.0 for part in page)
        assert overlaps(page) == []


def test_that_a_sentence_of_twenty_thousand_letters_prints_whole_in_any_block() -> None:
    text = " ".join(f"w{number}" for number in range(3400))
    assert len(text) > 19_000
    row = ReadingRow("1", text, "337", "336.5", "", text)
    blocks = (
        plain(text),
        Heading(text),
        Step("1", text, (Caution("warning", text),), (ReadingTable((row,)),)),
        Finding("ask", "Reason", text),
        Checklist((Tick(text),)),
        Result(text, "half", (plain(text),)),
        Table((Column("a"),), ((text,),)),
        Signatures((SignatureBox("Mechanic", text),)),
        Facts((Fact("label", text),)),
        Entries((Entry("label", text), Entry(text, "value")), 2),
        NumberedList((plain(text), plain("next"))),
        EmptyState(text),
        Table((Column("a"),), (), "title", text),
        Signatures((ElectronicSignature("Mechanic", text, text, "when", "key", "seal"),)),
        CheckCode("7KQ4-M2ZD", "code", (plain(text),)),
        Tags((Tag("Removed part", "DO NOT INSTALL", (plain(text),)),)),
        KeepTogether((plain(text), plain(text))),
        Beside(Picture(SMALL, 20.0, 20.0), (plain(text),)),
    )
    for block in blocks:
        pages = page_texts(paper(plain("before"), block, plain("after all")))
        printed = " ".join(pages)
        assert "after all" in pages[-1]
        for number in range(0, 3400, 50):
            assert f"w{number}" in printed, (block, number)
