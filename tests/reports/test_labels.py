from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pypdfium2
import pytest
import zxingcpp
from pypdf import PdfReader

from reports.document_labels import LABEL_SIZES, Label, LabelCode, LabelSheet, LabelSize, PenLine
from reports.document_text import plain
from reports.drawn.labels import SIDE, fits, lines_over
from reports.page import SIZES
from reports.render import render
from tests.reports.sample_papers import label_sheet

POINTS_A_MM = 72.0 / 25.4


def sheet(size: LabelSize, *labels: Label, start: int = 1) -> LabelSheet:
    return LabelSheet("Labels", "for a test", "en", size, labels, start)


def numbered(count: int) -> tuple[Label, ...]:
    return tuple(Label((plain(f"label{number}."),)) for number in range(1, count + 1))


def places(printed: bytes) -> list[dict[str, tuple[float, float]]]:
    """Give left and top of each label's words on each page, in points from the upper left corner."""
    pdf = pypdfium2.PdfDocument(printed)
    pages = []
    for page in pdf:
        text, height = page.get_textpage(), page.get_height()
        rects = [text.get_rect(index) for index in range(text.count_rects())]
        pages.append({text.get_text_bounded(*rect).strip(): (rect[0], height - rect[3]) for rect in rects})
    pdf.close()
    return pages


@pytest.mark.parametrize("size", LABEL_SIZES, ids=lambda size: size.name)
def test_that_labels_of_every_size_stand_in_their_grid(size: LabelSize) -> None:
    (page,) = places(render(sheet(size, *numbered(size.count)), "letter"))
    assert len(page) == size.count
    for number in range(size.count):
        row, column = divmod(number, size.columns)
        left, top = page[f"label{number + 1}."]
        assert left == pytest.approx(
            (size.left + column * (size.width + size.gap_across)) * POINTS_A_MM + SIDE, abs=1.5
        )
        edge = (size.top + row * (size.height + size.gap_down)) * POINTS_A_MM
        assert edge + 5.0 <= top <= edge + 20.0


@pytest.mark.parametrize("size", LABEL_SIZES, ids=lambda size: size.name)
def test_that_a_sheet_is_printed_on_its_own_paper(size: LabelSize) -> None:
    for asked in ("letter", "a4"):
        (page,) = PdfReader(BytesIO(render(sheet(size, *numbered(1)), asked))).pages
        assert (page.mediabox.width, page.mediabox.height) == pytest.approx(SIZES[size.paper], abs=0.01)


def test_that_a_sheet_that_is_begun_goes_on_at_its_first_free_label() -> None:
    size = LABEL_SIZES[0]
    first, second = places(render(sheet(size, *numbered(9), start=9), "letter"))
    assert list(first) == ["label1.", "label2."]
    assert list(second) == [f"label{number}." for number in range(3, 10)]
    assert first["label1."][1] == pytest.approx((12.7 + 4 * 50.8) * POINTS_A_MM + 10.0, abs=5.0)
    full = places(render(sheet(size, *numbered(2), start=10), "letter"))
    assert [len(page) for page in full] == [1, 1]


def test_that_what_does_not_fit_is_said_before_it_is_drawn() -> None:
    size = LABEL_SIZES[0]
    long = Label(tuple(plain(f"line {number}") for number in range(30)), "head", (PenLine("signature"),), ("Reprint",))
    assert lines_over(long, size) > 10
    assert not fits(long, size)
    assert fits(numbered(1)[0], size)
    with pytest.raises(ValueError, match="labels that are too long for their size: 2, 3"):
        render(sheet(size, numbered(1)[0], long, long), "letter")


def test_that_the_last_line_that_fits_stays_inside_its_label() -> None:
    size = LABEL_SIZES[0]

    def of_lines(count: int) -> Label:
        return Label((plain("\n".join(f"line{number}" for number in range(count))),), pen_lines=(PenLine("signed"),))

    most = next(count for count in range(1, 40) if not fits(of_lines(count + 1), size))
    assert lines_over(of_lines(most), size) == 0
    (page,) = places(render(sheet(size, of_lines(most)), "letter"))
    assert len(page) == most + 1
    assert page["signed"][1] > page[f"line{most - 1}"][1]
    assert page["signed"][1] + 8.0 < (size.top + size.height) * POINTS_A_MM


def test_that_head_bands_and_small_words_stand_on_a_label() -> None:
    text = PdfReader(BytesIO(render(label_sheet(3), "a4"))).pages[0].extract_text()
    for words in ("Invented data", "14 Oct 2026, order W-0417", "2 104.6 h", "certificate no. and kind"):
        assert text.count(words) == 4


def test_that_a_sheet_of_labels_says_what_it_is() -> None:
    reader = PdfReader(BytesIO(render(label_sheet(), "letter")))
    assert reader.metadata is not None
    described = reader.metadata
    assert (described.title, described.subject, described.author) == ("Labels", "for a test", "Pinyon Flat")
    assert reader.trailer["/Root"]["/Lang"] == "en-US"  # type: ignore[index]
    assert render(label_sheet(), "letter") == render(label_sheet(), "letter")


def test_that_a_code_on_a_label_is_read_back_and_its_words_stand_beside_it() -> None:
    content = "shop " + "ab" * 16 + "\nrecord 7 of 9\nhead " + "cd" * 32 + "\ndigest " + "ef" * 32
    label = Label((plain("entry."),), code=LabelCode(content, (plain("beside."),)))
    printed = render(sheet(LABEL_SIZES[1], label), "letter")
    page = pypdfium2.PdfDocument(printed)[0].render(scale=200 / 72).to_pil()
    assert [
        code.text
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    ] == [content]
    (page_places,) = places(printed)
    assert page_places["beside."][0] > page_places["entry."][0] + 80.0
    for refused in ("", "x" * 601):
        with pytest.raises(ValueError, match="1 to 600 characters"):
            LabelCode(refused)


def test_that_lines_for_the_pen_stand_two_in_a_row_with_what_is_known_on_them() -> None:
    lines = (PenLine("sign."), PenLine("day."), PenLine("name.", "Ada."), PenLine("paper."))
    (page,) = places(render(sheet(LABEL_SIZES[1], Label((), pen_lines=lines)), "letter"))
    left, right = page["sign."][0], page["paper."][0]
    assert (page["name."][0], page["Ada."][0]) == pytest.approx((left, left), abs=1.5)
    assert right > left + 100.0
    assert page["day."] == pytest.approx((right, page["sign."][1]), abs=3.0)
    assert page["sign."][1] < page["Ada."][1] - 8.0 < page["name."][1] - 8.0
    assert page["paper."][1] == pytest.approx(page["name."][1], abs=3.0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"width": 120.0}, "lie on the paper"),
        ({"rows": 6}, "lie on the paper"),
        ({"height": 0.0}, "above zero"),
        ({"columns": 0}, "above zero"),
        ({"left": -1.0}, "at least zero"),
    ],
)
def test_that_a_grid_that_is_none_is_refused(change: dict[str, float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        replace(LABEL_SIZES[0], **change)  # type: ignore[arg-type]


def test_that_a_sheet_without_labels_or_a_place_that_it_lacks_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one label"):
        sheet(LABEL_SIZES[0])
    for start in (0, 11):
        with pytest.raises(ValueError, match="one of 1 to 10"):
            sheet(LABEL_SIZES[0], *numbered(1), start=start)
