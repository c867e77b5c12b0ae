from __future__ import annotations

from collections import Counter
from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING

import pytest

from reports.document import (
    Beside,
    Caution,
    Checklist,
    Column,
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
from reports.drawing import Drawing, Words
from reports.page import LEFT, RIGHT
from tests.reports.reading_back import overlaps, page_texts, paper, squeezed, squeezed_pages, stretches

if TYPE_CHECKING:
    from reports.document import Document, PaperSize

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
)
SMALL = Drawing(60.0, 60.0, ())


def occurrences(value: object, text: str) -> int:
    """Count the fields below a value that say a text."""
    if isinstance(value, tuple):
        return sum(occurrences(part, text) for part in value)
    if is_dataclass(value):
        return sum(occurrences(getattr(value, field.name), text) for field in fields(value))
    return int(value == text)


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
    )
    head = Head(text, text, (plain(text),), text, text)
    document = paper(*blocks, head=head, foot=Foot(text, text, text, (("head", text[:150]),)))
    return document, occurrences(document, text)


@pytest.mark.parametrize("text", PAYLOADS)
def test_that_markup_in_any_field_prints_as_it_was_typed(text: str) -> None:
    document, count = everywhere(text)
    printed = "".join(squeezed_pages(document))
    # Narrow columns break a text over lines that stand beside other cells: there the signs are counted instead.
    assert printed.count(squeezed(text)) >= count // 2
    without, _ = everywhere("")
    more = Counter(printed)
    more.subtract(Counter("".join(squeezed_pages(without))))
    for sign, times in Counter(squeezed(text)).items():
        assert more[sign] >= times * count, sign


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
        KeepTogether((plain(text), plain(text))),
        Beside(Picture(SMALL, 20.0, 20.0), (plain(text),)),
    )
    for block in blocks:
        pages = page_texts(paper(plain("before"), block, plain("after all")))
        printed = " ".join(pages)
        assert "after all" in pages[-1]
        for number in range(0, 3400, 50):
            assert f"w{number}" in printed, (block, number)
