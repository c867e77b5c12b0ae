"""Files inside a PDF file, by the small objects that its format asks for (ISO 32000-1, 7.11.4 and 7.9.6)."""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from reports.document_attachments import Attachment


def attach(canvas: Canvas, attachments: tuple[Attachment, ...]) -> None:
    """Put files into the canvas's file; the same files give the same bytes."""
    from reportlab.pdfbase.pdfdoc import (  # noqa: PLC0415 - loaded only by whoever prints
        PDFArray,
        PDFDictionary,
        PDFName,
        PDFStream,
        PDFString,
    )

    if not attachments:
        return
    document = canvas._doc  # type: ignore[attr-defined]  # noqa: SLF001 - the library has no other door to the file's own objects
    names: list[object] = []
    # A name tree is read by halving: its names stand in order.
    for attachment in sorted(attachments, key=lambda one: one.name):
        entries = {
            "Type": PDFName("EmbeddedFile"),
            # The library takes a media type's stroke for the beginning of a second name.
            "Subtype": "/" + PDFName(attachment.mime)[1:].replace("/", "#2f"),
            "Filter": PDFName("FlateDecode"),
            "Params": PDFDictionary({"Size": len(attachment.data)}),
        }
        stream = PDFStream(PDFDictionary(entries), zlib.compress(attachment.data, 9))
        reference = document.Reference(stream)
        name = PDFString(attachment.name)
        described = {"Desc": PDFString(attachment.says)} if attachment.says else {}
        place = PDFDictionary({"F": reference, "UF": reference})
        file = {"Type": PDFName("Filespec"), "F": name, "UF": name, "EF": place, **described}
        names += [name, document.Reference(PDFDictionary(file))]
    tree = PDFDictionary({"Names": PDFArray(names)})
    document.Catalog.Names = PDFDictionary({"EmbeddedFiles": tree})
