"""Lines of text: runs of plain words broken to a width, with nothing in them that could be read as markup."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

from reportlab.pdfbase.pdfmetrics import stringWidth

from reports.document_text import Run
from reports.fonts import face_of, font_name, split_by_face

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.drawing import Role

SMALL, BODY, STRONG, TITLE, BIG = 7.5, 9.0, 10.5, 13.0, 18.0  # the only sizes of papers, in points
LARGE, HUGE = 28.0, 44.0  # for words that are read across the hangar
LEADING: dict[float, float] = {
    SMALL: 10.0,
    BODY: 12.0,
    STRONG: 14.0,
    TITLE: 17.0,
    BIG: 23.0,
    LARGE: 33.0,
    HUGE: 50.0,
}


@dataclass(frozen=True, slots=True)
class Segment:
    """Some signs of a line in one face, `x` points from the line's left end."""

    x: float
    text: str
    font: str
    role: Role


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line of text and the width that it takes in points."""

    segments: tuple[Segment, ...]
    width: float


@dataclass(frozen=True, slots=True)
class _Sign:
    text: str
    font: str
    role: Role
    width: float


@lru_cache(maxsize=4096)
def lay(runs: tuple[Run, ...], width: float, size: float) -> tuple[TextLine, ...]:
    """Break runs into lines no wider than `width`; a word that is wider than a line is cut where the line ends.

    An empty text gives one empty line, so that a row keeps its height.
    """
    return tuple(_joined(line) for paragraph in _paragraphs(runs, size) for line in _broken(paragraph, width))


def lay_text(text: str, width: float, size: float, *, bold: bool = False, quiet: bool = False) -> tuple[TextLine, ...]:
    """Break one plain text into lines."""
    return lay((Run(text, bold=bold, quiet=quiet),), width, size)


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Give the width of a text on one line, in points."""
    return sum(sign.width for paragraph in _paragraphs((Run(text, bold=bold),), size) for sign in paragraph)


def _paragraphs(runs: tuple[Run, ...], size: float) -> list[list[_Sign]]:
    paragraphs: list[list[_Sign]] = [[]]
    for run in runs:
        role: Role = "quiet" if run.quiet else "ink"
        for number, part in enumerate(run.text.split("\n")):
            if number:
                paragraphs.append([])
            for face, text in split_by_face(part, face_of(run)):
                font = font_name(face)
                paragraphs[-1].extend(_Sign(sign, font, role, _sign_width(sign, font) * size) for sign in text)
    return paragraphs


@lru_cache(maxsize=4096)
def _sign_width(sign: str, font: str) -> float:
    return float(stringWidth(sign, font, 1.0))


def _broken(signs: list[_Sign], width: float) -> Iterator[list[_Sign]]:
    begin = 0
    while True:
        end, after = _line_end(signs, begin, width)
        yield signs[begin:end]
        if after >= len(signs):
            return
        begin = after


def _line_end(signs: list[_Sign], begin: int, width: float) -> tuple[int, int]:
    """Give where the line's ink ends and where the next line begins."""
    used = 0.0
    word_end = next_word = begin
    for index in range(begin, len(signs)):
        if signs[index].text == " ":
            if index == begin or signs[index - 1].text != " ":
                word_end = index
            next_word = index + 1
        elif used + signs[index].width > width + 1e-6 and index > begin:
            if word_end > begin:
                return word_end, next_word
            return index, index
        used += signs[index].width
    if next_word == len(signs):
        return word_end, next_word
    return len(signs), len(signs)


def _joined(signs: list[_Sign]) -> TextLine:
    segments: list[Segment] = []
    x = 0.0
    for (font, role), group in groupby(signs, lambda sign: (sign.font, sign.role)):
        members = list(group)
        segments.append(Segment(x, "".join(sign.text for sign in members), font, role))
        x += sum(sign.width for sign in members)
    return TextLine(tuple(segments), x)
