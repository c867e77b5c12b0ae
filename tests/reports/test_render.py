from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from reports.document import Foot, Head, PageBreak, Run, plain
from reports.document import Paragraph as Words
from reports.render import render
from tests.reports.reading_back import page_texts, paper, squeezed_pages
from tests.reports.sample import GOVERNING, timing_card

if TYPE_CHECKING:
    from pypdf.generic import DictionaryObject

    from reports.document import PaperSize

ROOT = Path(__file__).parents[2]
SIZES: tuple[PaperSize, ...] = ("letter", "a4")


def fonts_of(pdf: bytes) -> dict[str, DictionaryObject]:
    found: dict[str, DictionaryObject] = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        resources = page["/Resources"].get_object()
        for font in resources["/Font"].get_object().values():  # type: ignore[index]
            found[str(font.get_object()["/BaseFont"])] = font.get_object()
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("filled", [False, True])
def test_that_the_same_card_gives_the_same_bytes(size: PaperSize, filled: bool) -> None:
    assert render(timing_card(filled=filled), size) == render(timing_card(filled=filled), size)


def test_that_another_process_in_another_zone_gives_the_same_bytes() -> None:
    script = (
        "import hashlib; from reports.render import render; from tests.reports.sample import timing_card;"
        "print(hashlib.sha256(render(timing_card(filled=True), 'a4')).hexdigest())"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland", "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT, env=environment
    )
    assert done.stdout.strip() == hashlib.sha256(render(timing_card(filled=True), "a4")).hexdigest()


def test_that_one_changed_letter_changes_the_bytes() -> None:
    assert render(paper(plain("23.5")), "a4") != render(paper(plain("23.6")), "a4")


def test_that_every_face_is_embedded_and_none_is_a_printers_own() -> None:
    pdf = render(timing_card(filled=True), "letter")
    fonts = fonts_of(pdf)
    assert len(fonts) == 4
    for name, font in fonts.items():
        assert name.split("+")[1].startswith(("AtkinsonHyperlegibleNext", "B612Mono")), name
        assert "/FontFile2" in font["/FontDescriptor"].get_object()  # type: ignore[operator]
    assert b"Helvetica" not in pdf


@pytest.mark.parametrize(("size", "sides"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_that_the_paper_has_the_size_that_was_asked_for(size: PaperSize, sides: tuple[int, int]) -> None:
    for page in PdfReader(BytesIO(render(timing_card(filled=False), size))).pages:
        assert (round(float(page.mediabox.width)), round(float(page.mediabox.height))) == sides


@pytest.mark.parametrize("size", SIZES)
def test_that_every_page_says_its_number_the_count_and_the_banner(size: PaperSize) -> None:
    pages = page_texts(timing_card(filled=True), size)
    assert len(pages) >= 3
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
        assert "INVENTED DATA: DEMONSTRATION ONLY" in text
        assert "Pinyon Flat Aero Works (invented)" in text
        assert "printed 14 Oct 2026 15:02 MDT" in text
        assert "9a41c07be2d85516" in text


def test_that_the_governing_sentence_stands_on_the_first_page_only_and_the_running_head_on_the_others() -> None:
    pages = squeezed_pages(timing_card(filled=True))
    governing = "".join(GOVERNING.split())
    assert [governing in text for text in pages] == [True] + [False] * (len(pages) - 1)
    assert ["cardT4,orderW-0417" in text for text in pages] == [False] + [True] * (len(pages) - 1)
    assert all("Taskcard T4:timeamagnetototheengine".replace(" ", "") in text for text in pages)


def test_that_the_file_describes_itself() -> None:
    reader = PdfReader(BytesIO(render(timing_card(filled=True), "letter")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Task card T4: time a magneto to the engine, order W-0417"
    assert reader.metadata.subject == "order W-0417, left engine, left magneto"
    assert reader.trailer["/Root"]["/Lang"] == "en-US"  # type: ignore[index]


def test_that_a_paper_without_contents_is_one_page_with_its_head_and_foot() -> None:
    (text,) = page_texts(paper(head=Head("Bare"), foot=Foot()))
    assert "Bare" in text
    assert "page 1 of 1" in text


def test_that_page_breaks_beside_each_other_make_no_empty_page() -> None:
    pages = page_texts(paper(PageBreak(), plain("one"), PageBreak(), PageBreak(), plain("two"), PageBreak()))
    assert len(pages) == 3
    assert "one" in pages[1]
    assert "two" in pages[2]


def test_that_a_head_with_the_longest_texts_leaves_room_for_the_page() -> None:
    wide = "W" * 200
    long = Head(wide, wide, tuple(Words((Run(wide),)) for _ in range(6)), "g " * 400, wide)
    pages = squeezed_pages(
        paper(
            *(plain(f"line{number}.") for number in range(60)),
            head=long,
            foot=Foot(wide, wide, wide, (("head", "7" * 196),)),
        ),
        "a4",
    )
    assert len(pages) > 2
    assert all(f"line{number}." in "".join(pages) for number in range(60))


def test_that_the_vocabulary_and_the_signs_need_no_pdf_library() -> None:
    script = (
        "import sys, reports.document, reports.drawing, reports.render; from reports.fonts import missing_signs;"
        "assert missing_signs('a\\u0416') == ('\\u0416',);"
        "print([name for name in sys.modules if name.startswith(('reportlab', 'desktop', 'PySide6'))])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"
