from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.document import Caution, Checklist, Document, Heading, Step, Tick, plain
from reports.document_pictures import picture_of_height
from reports.page import LEFT, RIGHT, SIZES
from reports.signs import missing_signs
from tests.reports.reading_back import overlaps, page_of, page_texts, paper, squeezed, squeezed_pages, stretches
from tests.reports.sample import timing_card
from tests.reports.sample_papers import (
    PICTURES,
    hangar,
    leads,
    leads_paper,
    long_remark,
    maintenance_entry,
    parts_list,
    tags,
)

if TYPE_CHECKING:
    from reports.document import PaperSize

PAPERS = {
    "entry": maintenance_entry(),
    "parts": parts_list(),
    "remark": long_remark(),
    "leads": leads_paper(),
    "tags": tags(),
    "hangar": hangar(),
    "card blank": timing_card(filled=False),
    "card filled": timing_card(filled=True),
}


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("name", PAPERS)
def test_that_no_paper_has_an_empty_page_words_outside_its_margins_or_over_each_other(
    name: str, size: PaperSize
) -> None:
    for page in stretches(PAPERS[name], size):
        inside = [part for part in page if 60.0 < part.bottom < SIZES[size][1] - 70.0]
        assert inside, name
        assert all(part.left >= LEFT - 1.0 and part.right <= SIZES[size][0] - RIGHT + 1.0 for part in page)
        assert overlaps(page) == []


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("count", [1, 30, 300])
def test_that_a_card_of_any_length_prints_each_step_once_with_its_caution(count: int, size: PaperSize) -> None:
    steps = tuple(
        Step(
            f"{n}",
            f"Instruction{n}.",
            (Caution("warning", f"Hazard{n}."), Caution("caution", f"Damage{n}."))[: n % 3],
            (Checklist((Tick(f"tick{n}.", initials=""),)),),
        )
        for n in range(1, count + 1)
    )
    pages = squeezed_pages(paper(*steps), size)
    for n in range(1, count + 1):
        at = page_of(f"Instruction{n}.", pages)
        said = ("Hazard", "Damage")[: n % 3]
        assert all(page_of(f"{word}{n}.", pages) == at == page_of(f"tick{n}.", pages) for word in said)
    assert all("tick" in text for text in pages)


@pytest.mark.parametrize("length", [0, 1, 20_000])
def test_that_remarks_of_any_length_split_into_full_pages(length: int) -> None:
    remark = ("word " * (length // 5 + 1))[:length]
    pages = page_texts(paper(Heading("Remark"), plain(remark), plain("after the remark")))
    assert "".join(pages).count("word") == remark.count("word")
    assert "after the remark" in pages[-1]
    counts = [text.count("word") for text in pages]
    # Every page between the first and the last is full: the remark is cut where a page ends and nowhere else.
    assert len(set(counts[1:-1])) <= 1
    assert (len(pages) > 3) == (length > 1)


@pytest.mark.parametrize(
    "name",
    [
        "Łukasz Ødegård",
        "Ţepeş Şahin-Ğül",
        "Nguyễn Thị Ánh",
        "José Núñez",
        "Čapek Ž. Šťastný",
        "Þórr Ægir",
        "Zoë L\u2019Été",
    ],
)
def test_that_latin_names_print_letter_for_letter_or_are_said_to_lack_letters(name: str) -> None:
    printed = squeezed("".join(page_texts(paper(plain(name)))))
    if missing_signs(name):
        assert all(f"[U+{ord(sign):04X}]" in printed for sign in missing_signs(name))
    else:
        assert squeezed(name) in printed


@pytest.mark.parametrize("name", ["Иван Жуков", "Νίκος", "山田太郎", "محمد", "דוד", "한지민", "สมชาย", "देवी"])
def test_that_names_in_scripts_that_the_faces_lack_are_said_before_and_show_codes_not_boxes(name: str) -> None:
    lacking = missing_signs(name)
    assert lacking
    printed = squeezed("".join(page_texts(paper(plain(name)))))
    assert all(f"[U+{ord(sign):04X}]" in printed for sign in lacking)


@pytest.mark.parametrize("name", PICTURES)
def test_that_a_sample_paper_uses_no_sign_that_paper_lacks(name: str) -> None:
    sheet, _ = PICTURES[name]
    if isinstance(sheet, Document):
        assert not any("[U+" in text for text in page_texts(sheet))


def test_that_a_picture_of_a_height_keeps_its_proportion() -> None:
    picture = picture_of_height(leads(), 70.0, "the caption")
    assert picture.height_mm == 70.0
    assert picture.width_mm == pytest.approx(70.0 * 300.0 / 175.0)
    assert picture.caption == "the caption"


def test_that_a_caution_never_stands_last_on_a_page() -> None:
    for lines in range(30, 62):
        blocks = (plain("\n".join("x" * lines)), Caution("caution", "Mind the gap."), plain("what it is about"))
        pages = squeezed_pages(paper(*blocks))
        assert page_of("Mind the gap.", pages) == page_of("what it is about", pages)
