"""The safe-state board, large: what is not as it flies stands out by its word, its half ring and its frame.

Nothing here is green or red: as it flies is no safe state, and leads off and plugs out make turning safer.
"""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QLabel, QVBoxLayout, QWidget

from desktop.core.shop.orders.safe_state import Board, SafeState
from desktop.core.words import day_words
from desktop.viewmodels.pieces.board_words import NOT_AS_IT_FLIES, board_words
from desktop.viewmodels.pieces.card_words import Progress
from desktop.windows.pieces.finding_list import paint_ring
from desktop.windows.pieces.look import Look

ROW, RING, PAD = 40, 22, 10


class BoardRow(QAbstractButton):
    """One thing on the board; Space or a click asks to set it the other way."""

    def __init__(self, standing: SafeState, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.show_standing(standing)

    def show_standing(self, standing: SafeState) -> None:
        """Show how it stands."""
        self.standing = standing
        says = standing.word if standing.is_normal else f"{standing.word}, {NOT_AS_IT_FLIES}"
        self.setAccessibleName(f"{standing.item.capitalize()}: {says}")
        when = f"{day_words(standing.by.at.date())} {standing.by.at:%H:%M}"
        self.setToolTip(f"Set by {standing.by.person}, {when}. Space: the other way")
        self.updateGeometry()
        self.update()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room for its words in bold."""
        look, pixels = self._look, self._look.pixels
        bold = QFontMetrics(look.font(13, bold=True))
        width = bold.horizontalAdvance(self.standing.item.capitalize()) + bold.horizontalAdvance(self.standing.word)
        return QSize(width + pixels(RING + 5 * PAD), pixels(ROW))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same: no word is cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802, ARG002 - Qt's name and signature
        """Paint ring, thing and word; a thick frame where it is not normal, a bar where the keyboard is."""
        look, pixels, c = self._look, self._look.pixels, self._look.colours
        standing = self.standing
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            room = QRectF(self.rect()).adjusted(2, 2, -2, -2)
            if not standing.is_normal:
                painter.setPen(QPen(QColor(c.ink), pixels(2)))
                painter.drawRect(room)
            if self.hasFocus():
                painter.fillRect(0, 0, pixels(4), self.height(), QColor(c.act))
            side = pixels(RING)
            ring = QRectF(pixels(PAD), room.center().y() - side / 2, side, side)
            if not standing.is_normal:
                paint_ring(painter, ring, Progress.OPEN, look)
            words = room.adjusted(side + pixels(2 * PAD), 0, -pixels(PAD), 0)
            painter.setFont(look.font(13, bold=not standing.is_normal))
            painter.setPen(QColor(c.ink))
            middle = Qt.AlignmentFlag.AlignVCenter
            painter.drawText(words, int(middle | Qt.AlignmentFlag.AlignLeft), standing.item.capitalize())
            painter.drawText(words, int(middle | Qt.AlignmentFlag.AlignRight), standing.word)


class BoardView(QWidget):
    """All of the board; ``set_asked`` carries the place of the thing that is to be set the other way."""

    set_asked = Signal(int)

    def __init__(self, board: Board, look: Look) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.title = QLabel()
        self.title.setObjectName("group")
        self.title.setWordWrap(True)
        self._column = QVBoxLayout(self)
        self._column.addWidget(self.title)
        self.rows: list[BoardRow] = []
        for place, standing in enumerate(board):
            row = BoardRow(standing, look)
            row.clicked.connect(lambda _=False, place=place: self.set_asked.emit(place))
            self._column.addWidget(row)
            self.rows.append(row)
        self.show_board(board)
        self.set_look(look)

    def show_board(self, board: Board) -> None:
        """Show the board as it stands now."""
        self.title.setText(board_words(board))
        for row, standing in zip(self.rows, board, strict=True):
            row.show_standing(standing)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._column.setContentsMargins(0, look.pixels(8), look.pixels(8), look.pixels(8))
        self._column.setSpacing(look.pixels(2))
        for row in self.rows:
            row.set_look(look)
