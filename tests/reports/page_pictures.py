"""Page pictures: how a page is drawn small, kept, and held against the kept one."""

from __future__ import annotations

import tempfile
from io import BytesIO
from pathlib import Path

import pypdfium2
from PIL import Image, ImageChops

from reports.document import Paper
from reports.render import render

KEPT = Path(__file__).parent / "pictures"
FAILED = Path(tempfile.gettempdir()) / "sparkwright-page-pictures"
DOTS_PER_INCH = 60
# Another build of the renderer smooths letters a little otherwise; a letter that changed darkens more than this.
_SHADE, _DOTS = 80, 24


def picture_of(paper: Paper, page: int) -> Image.Image:
    """Give one page (counted from 0) of a paper on letter as a small grey picture."""
    pdf = pypdfium2.PdfDocument(render(paper, "letter"))
    picture: Image.Image = pdf[page].render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil()
    pdf.close()
    return picture


def differing_dots(actual: Image.Image, expected: Image.Image) -> int:
    """Give how many dots differ by more than smoothing does; all of them when the sizes differ."""
    if actual.size != expected.size:
        return actual.width * actual.height
    return sum(ImageChops.difference(actual, expected).histogram()[_SHADE:])


def is_same(actual: Image.Image, expected: Image.Image) -> bool:
    return differing_dots(actual, expected) <= _DOTS


def write_failure(name: str, actual: Image.Image, expected: Image.Image) -> Path:
    """Write actual, expected and difference side by side with their names; give the folder."""
    FAILED.mkdir(parents=True, exist_ok=True)
    actual.save(FAILED / f"{name}-actual.png")
    expected.save(FAILED / f"{name}-expected.png")
    size = (max(actual.width, expected.width), max(actual.height, expected.height))
    sheets = [Image.new("L", size, 255) for _ in range(2)]
    sheets[0].paste(actual)
    sheets[1].paste(expected)
    ImageChops.invert(ImageChops.difference(*sheets)).save(FAILED / f"{name}-difference.png")
    return FAILED


def kept(name: str) -> Image.Image:
    return Image.open(BytesIO((KEPT / f"{name}.png").read_bytes())).convert("L")
