"""From a paper to the bytes of a PDF file: the same value gives the same bytes."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from reports.document_labels import LabelSheet

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from reports.document import Document, Paper, PaperSize


def render(paper: Paper, size: PaperSize) -> bytes:
    """Print a paper on letter or A4; a sheet of labels is printed on the paper of its labels, whatever the size.

    Faces are embedded; signs that no face has print as visible codes. No clock, no file and no network is used.
    Raises ValueError for a sheet with a label that is too long: `reports.drawn.labels.fits` tells before.
    """
    # Loading the PDF library takes longer than printing a page; only who prints pays for it.
    from reports.fonts import register_fonts  # noqa: PLC0415

    register_fonts()
    file = BytesIO()
    canvas = _sheet(paper, file) if isinstance(paper, LabelSheet) else _document(paper, size, file)
    canvas.save()
    return file.getvalue()


def _document(document: Document, size: PaperSize, file: BytesIO) -> Canvas:
    from reports.blocks import GAP, Setting, pieces_of  # noqa: PLC0415
    from reports.layout import paginate  # noqa: PLC0415
    from reports.page import LEFT, head_piece, sheet_of  # noqa: PLC0415
    from reports.pen import Pen  # noqa: PLC0415

    sheet = sheet_of(document, size)
    first, page = sheet.bottom - sheet.first_top, sheet.bottom - sheet.next_top
    setting = Setting(sheet.text_width, page, document.words)
    contents = (head_piece(document, sheet.text_width), *pieces_of(document.blocks, setting))
    pages = paginate(contents, first, page, GAP)
    canvas = _canvas(document, document.foot.shop, (sheet.width, sheet.height), file)
    pen = Pen(canvas, sheet.height)
    for number, placed in enumerate(pages, start=1):
        sheet.paint(pen, number, len(pages))
        top = sheet.first_top if number == 1 else sheet.next_top
        for part in placed:
            part.piece.paint(pen, LEFT, top + part.top)
        canvas.showPage()
    return canvas


def _sheet(sheet: LabelSheet, file: BytesIO) -> Canvas:
    from reports.drawn.labels import paint_sheet  # noqa: PLC0415
    from reports.page import SIZES  # noqa: PLC0415

    sides = SIZES[sheet.size.paper]
    canvas = _canvas(sheet, sheet.author, sides, file)
    paint_sheet(canvas, sheet, sides[1])
    return canvas


def _canvas(paper: Paper, author: str, sides: tuple[float, float], file: BytesIO) -> Canvas:
    """Make an empty file that says what it is and carries what is attached."""
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    from reports.drawn.attachments import attach  # noqa: PLC0415
    from reports.fonts import font_name  # noqa: PLC0415

    canvas = Canvas(
        file,
        pagesize=sides,
        pageCompression=1,
        invariant=1,
        initialFontName=font_name("text"),  # type: ignore[arg-type]  # the stubs say number; it is a name
        lang=paper.language,
    )
    canvas.setTitle(paper.title)
    canvas.setSubject(paper.subject)
    canvas.setAuthor(author)
    canvas.setCreator("Sparkwright")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    attach(canvas, paper.attachments)
    return canvas
