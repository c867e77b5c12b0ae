"""The shipped faces on paper: their names in the file, and which part of a text is set in which face.

`missing_signs` tells what paper cannot show; it needs no PDF library. Registering the faces loads reportlab.
"""

from __future__ import annotations

from io import BytesIO
from itertools import groupby
from typing import TYPE_CHECKING

from reports.signs import FACE_FILES, font_bytes, has_sign, missing_signs, visible_code

if TYPE_CHECKING:
    from reports.document_text import Run
    from reports.signs import Face

__all__ = ["face_of", "font_name", "missing_signs", "register_fonts", "split_by_face"]

_FALL_BACK: dict[Face, Face] = {
    "text": "code",
    "text-bold": "code-bold",
    "text-italic": "code",
    "code": "text",
    "code-bold": "text-bold",
}


def face_of(run: Run) -> Face:
    """Give the face in which a run is set where it has the signs; bold goes before italic."""
    if run.code:
        return "code-bold" if run.bold else "code"
    if run.bold:
        return "text-bold"
    return "text-italic" if run.italic else "text"


def font_name(face: Face) -> str:
    """Give the name under which the face is registered with reportlab."""
    return f"sparkwright-{face}"


def split_by_face(text: str, face: Face) -> tuple[tuple[Face, str], ...]:
    """Cut a text without line feeds into pieces by the face that has their signs.

    Single signs that the face lacks go to its fall-back; what neither has becomes a visible code.
    """
    chosen = ((_face_for(sign, face), sign) for sign in text)
    seen = ((found or "code", sign if found else visible_code(sign)) for found, sign in chosen)
    return tuple((found, "".join(part for _, part in group)) for found, group in groupby(seen, lambda pair: pair[0]))


def register_fonts() -> None:
    """Make the shipped faces known to reportlab; a second call changes nothing."""
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415 - loaded only by whoever prints
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415 - the same

    known = set(pdfmetrics.getRegisteredFontNames())
    for face in FACE_FILES:
        if font_name(face) not in known:
            pdfmetrics.registerFont(TTFont(font_name(face), BytesIO(font_bytes(face))))


def _face_for(sign: str, face: Face) -> Face | None:
    return next((one for one in (face, _FALL_BACK[face]) if has_sign(one, sign)), None)
