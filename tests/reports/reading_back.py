"""Reads papers back: the text of each page, and where its letters stand."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

import pypdfium2
from pypdf import PdfReader

from reports.document import Document, Foot, Head, plain
from reports.render import render

if TYPE_CHECKING:
    from PIL import Image

    from reports.document import Block, Paper, PaperSize


def paper(*blocks: Block, head: Head | None = None, foot: Foot | None = None) -> Document:
    return Document("a paper", "for a test", "en", head or Head("A paper", "card X"), foot or Foot("shop"), blocks)


def page_texts(document: Document, size: PaperSize = "letter") -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(render(document, size))).pages]


def squeezed(text: str) -> str:
    """Drop every space and line end: where lines are broken does not matter."""
    return "".join(text.split())


def squeezed_pages(document: Document, size: PaperSize = "letter") -> list[str]:
    return [squeezed(text) for text in page_texts(document, size)]


def page_of(words: str, pages: list[str]) -> int:
    """Give the one page on which some words stand."""
    found = [number for number, text in enumerate(pages) if squeezed(words) in text]
    assert len(found) == 1, (words, found)
    return found[0]


@dataclass(frozen=True)
class Letters:
    """A stretch of text on a page, in points from the page's lower left corner."""

    text: str
    left: float
    bottom: float
    right: float
    top: float


def pictures(document: Paper, size: PaperSize, scale: float) -> list[Image.Image]:
    """Give each page as a grey picture, `scale` dots a point."""
    pdf = pypdfium2.PdfDocument(render(document, size))
    pages: list[Image.Image] = [page.render(scale=scale, grayscale=True).to_pil() for page in pdf]
    pdf.close()
    return pages


def stretches(document: Document, size: PaperSize = "letter") -> list[list[Letters]]:
    pdf = pypdfium2.PdfDocument(render(document, size))
    pages: list[list[Letters]] = []
    for page in pdf:
        text = page.get_textpage()
        rects = [text.get_rect(index) for index in range(text.count_rects())]
        pages.append([Letters(text.get_text_bounded(*rect), *rect) for rect in rects])
    pdf.close()
    return pages


def overlaps(page: list[Letters]) -> list[tuple[str, str]]:
    """Give the pairs of stretches that lie over each other by more than rounding."""
    slack = 0.5
    return [
        (one.text, other.text)
        for number, one in enumerate(page)
        for other in page[number + 1 :]
        if one.left + slack < other.right
        and other.left + slack < one.right
        and one.bottom + slack < other.top
        and other.bottom + slack < one.top
    ]


FILLER = plain("filler")
