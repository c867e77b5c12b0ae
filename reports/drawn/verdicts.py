"""Verdicts in big words, and findings with their bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document_text import Run
from reports.drawn.lists import paragraph_piece
from reports.drawn.pieces import Drawn, Lines, Piece, Stack
from reports.drawn.rows import Bar, Cell, Row
from reports.drawn.symbols import ring
from reports.text import BIG, BODY, LEADING, SMALL, lay, lay_text, width_of

if TYPE_CHECKING:
    from reports.document_steps import Finding, Result

_BARS = {"stop": 5.0, "ask": 3.0, "note": 1.0}


def result_piece(result: Result, width: float) -> Piece:
    """Build a verdict in big words with its ring."""
    text_x = LEADING[BIG] + 8.0
    verdict = Lines(lay_text(result.verdict, width - text_x, BIG, bold=True), BIG)
    # The ring is as high as the verdict's first line, so its middle is the middle of the words.
    big = Row((Cell(0.0, Drawn(ring(result.shape), LEADING[BIG]), "top"), Cell(text_x, verdict, "top")))
    lines = tuple(Row((Cell(text_x, paragraph_piece(line, width - text_x)),)) for line in result.lines)
    return Stack((big, *lines), 2.0, whole=True)


def finding_piece(finding: Finding, width: float) -> Piece:
    """Build a finding: a bar at the edge, the word, the sentence with its reason and source."""
    word_x = 13.0
    text_x = min(word_x + max(width_of(finding.word, BODY, bold=True) + 12.0, 74.0), width / 3.0)
    runs = [Run(finding.sentence)]
    if finding.reason:
        runs.append(Run(f" {finding.reason}", italic=True))
    text: Piece = Lines(lay(tuple(runs), width - text_x, BODY), BODY)
    if finding.source:
        text = Stack((text, Lines(lay_text(finding.source, width - text_x, SMALL, quiet=True), SMALL)))
    word = Lines(lay_text(finding.word, text_x - word_x - 6.0, BODY, bold=True), BODY)
    return Row((Cell(word_x, word), Cell(text_x, text)), (Bar(_BARS[finding.weight]),), 2.0, 2.0)
