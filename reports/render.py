"""From a document to the bytes of a PDF file: the same value gives the same bytes."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.document import Document, PaperSize


def render(document: Document, size: PaperSize) -> bytes:
    """Print a document on letter or A4 paper.

    Faces are embedded; signs that no face has print as visible codes. No clock, no file and no network is used.
    """
    # Loading the PDF library takes longer than printing a page; only who prints pays for it.
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    from reports.blocks import GAP, Setting, pieces_of  # noqa: PLC0415
    from reports.fonts import font_name, register_fonts  # noqa: PLC0415
    from reports.layout import paginate  # noqa: PLC0415
    from reports.page import LEFT, head_piece, sheet_of  # noqa: PLC0415
    from reports.pen import Pen  # noqa: PLC0415

    register_fonts()
    sheet = sheet_of(document, size)
    first, page = sheet.bottom - sheet.first_top, sheet.bottom - sheet.next_top
    setting = Setting(sheet.text_width, page, document.words)
    contents = (head_piece(document, sheet.text_width), *pieces_of(document.blocks, setting))
    pages = paginate(contents, first, page, GAP)
    file = BytesIO()
    canvas = Canvas(
        file,
        pagesize=(sheet.width, sheet.height),
        pageCompression=1,
        invariant=1,
        initialFontName=font_name("text"),  # type: ignore[arg-type]  # the stubs say number; it is a name
        lang=document.language,
    )
    canvas.setTitle(document.title)
    canvas.setSubject(document.subject)
    canvas.setAuthor(document.foot.shop)
    canvas.setCreator("Sparkwright")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    pen = Pen(canvas, sheet.height)
    for number, placed in enumerate(pages, start=1):
        sheet.paint(pen, number, len(pages))
        top = sheet.first_top if number == 1 else sheet.next_top
        for part in placed:
            part.piece.paint(pen, LEFT, top + part.top)
        canvas.showPage()
    canvas.save()
    return file.getvalue()
