"""Rows of text in reading order, to be read and selected: headings, labels, and a shape with a word where marked."""

from collections.abc import Iterable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QTextBlockFormat, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QTextEdit

from desktop.viewmodels.pieces.card_words import Progress
from desktop.windows.pieces.finding_list import paint_ring, ring_colour
from desktop.windows.pieces.look import Look

RING = 13
Line = tuple[str, str, tuple[tuple[str, Progress], ...]]
"""A label, its text, and the marks beside them, each a word and a shape."""


class ReadText(QTextEdit):
    """Shows sections of lines. Text is put in as text: nothing in it is read as markup."""

    def __init__(self, name: str, look: Look) -> None:
        super().__init__()
        self._look = look
        self._sections: tuple[tuple[str, tuple[Line, ...]], ...] = ()
        self.setReadOnly(True)
        self.setTabChangesFocus(True)
        self.setAcceptRichText(False)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        c = look.colours
        self.setStyleSheet(
            f"QTextEdit {{ background: {c.sheet}; color: {c.ink}; border: 1px solid {c.line}; }}"
            f"QTextEdit:focus {{ border: 2px solid {c.act}; }}"
        )
        self.document().setDocumentMargin(look.pixels(12))
        self._write()

    def show_sections(self, sections: Iterable[tuple[str, tuple[Line, ...]]]) -> None:
        """Show these sections; where the text stood is kept."""
        self._sections = tuple(sections)
        self._write()

    def _write(self) -> None:
        where = self.verticalScrollBar().value()
        look, c = self._look, self._look.colours
        self.clear()
        cursor = self.textCursor()
        for number, (title, lines) in enumerate(self._sections):
            if number:
                cursor.insertBlock()
            self._block(cursor, above=12 if number else 0)
            cursor.insertText(title, _format(look.font(13, bold=True), c.ink))
            for label, text, marks in lines:
                cursor.insertBlock()
                self._block(cursor, above=2)
                for word, progress in marks:
                    cursor.insertImage(self._ring(progress))
                    colour = ring_colour(progress, look)
                    cursor.insertText(f" {word}.  ", _format(look.font(11, bold=True), colour))
                cursor.insertText(f"{label}: ", _format(look.font(11), c.quiet))
                cursor.insertText(text, _format(look.font(11, bold=bool(marks)), c.ink))
        self.moveCursor(QTextCursor.MoveOperation.Start)
        self.verticalScrollBar().setValue(where)

    def _block(self, cursor: QTextCursor, above: int) -> None:
        block = QTextBlockFormat()
        block.setTopMargin(self._look.pixels(above))
        cursor.setBlockFormat(block)

    def _ring(self, progress: Progress) -> QImage:
        side = self._look.pixels(RING)
        image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_ring(painter, QRectF(0, 0, side, side), progress, self._look)
        painter.end()
        return image


def _format(font: QFont, colour: str) -> QTextCharFormat:
    form = QTextCharFormat()
    form.setFont(font)
    form.setForeground(QColor(colour))
    return form
