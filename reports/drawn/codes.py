"""The seal and the check code: what binds the paper to the record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.document_signing import Seal
from reports.document_text import Run
from reports.drawn.pieces import Drawn, Lines, Piece, Stack
from reports.drawn.rows import Cell, Row
from reports.drawn.symbols import QUIET_MODULES, qr_drawing
from reports.text import BIG, SMALL, lay, lay_text

if TYPE_CHECKING:
    from reports.document import PaperWords
    from reports.document_signing import CheckCode

_POINTS_A_MM = 72.0 / 25.4
_MODULE_MM = 0.6  # 2.55 dots at 108 dots per inch: from there on a code is read from a scan of the page


def seal_piece(seal: Seal, lines: tuple[Piece, ...]) -> Piece:
    """Build a QR code with lines at its right."""
    return _beside_code(seal, Stack(lines, 1.0))


def check_code_piece(code: CheckCode, lines: tuple[Piece, ...], width: float, words: PaperWords) -> Piece:
    """Build the check code in large letters with its label above and lines below; at its left the QR code."""
    room = width - code_text_x(code)
    label = Lines(lay_text(words.code, room, SMALL, quiet=True), SMALL)
    letters = Lines(lay((Run(code.code, code=True, bold=True),), room, BIG), BIG)
    text = Stack((label, letters, *lines), 1.0)
    return _beside_code(code, text) if code.content else text


def code_text_x(code: Seal | CheckCode) -> float:
    """Give where the text beside a QR code begins; at the left edge where there is no QR code."""
    return _side(code) + 4.0 if code.content else 0.0


def _side(code: Seal | CheckCode) -> float:
    """Give a code's side in points, its white border included; a check code's modules are never too small to read."""
    least = 0.0 if isinstance(code, Seal) else qr_drawing(code.content).width * _MODULE_MM
    return max(code.size_mm, least) * _POINTS_A_MM


def _beside_code(code: Seal | CheckCode, text: Piece) -> Piece:
    drawing, side = qr_drawing(code.content), _side(code)
    # The code's white border may lie in the margin: its ink stands on the text's left edge.
    qr = Cell(-QUIET_MODULES * side / drawing.width, Drawn(drawing, side), "middle")
    return Stack((Row((qr, Cell(side + 4.0, text, "middle"))),), whole=True)
