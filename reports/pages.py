"""Pages of a PDF as pictures, for the preview and for the printer."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Page:
    """One page as rows of red, green and blue bytes, `stride` bytes a row."""

    width: int
    height: int
    stride: int
    pixels: bytes


def pages_of(pdf: bytes, dots_per_inch: float) -> tuple[Page, ...]:
    """Give each page of a PDF as a picture at so many dots per inch."""
    import pypdfium2  # noqa: PLC0415 - late: only a preview or a printer needs it

    document = pypdfium2.PdfDocument(pdf)
    try:
        pages = []
        for page in document:
            bitmap = page.render(scale=dots_per_inch / 72, rev_byteorder=True)
            pages.append(Page(bitmap.width, bitmap.height, bitmap.stride, bytes(bitmap.buffer)))
        return tuple(pages)
    finally:
        document.close()
