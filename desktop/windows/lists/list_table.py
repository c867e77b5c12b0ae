"""A list in a table: one line an entry, its state by word and ring; more lines where the window is narrow."""

from collections.abc import Hashable

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from desktop.viewmodels.pieces.lines_model import LinesModel, ListColumn
from desktop.windows.pieces.finding_list import paint_ring
from desktop.windows.pieces.look import Look

LINE, MORE = 40, 20
NARROW = 1000
PAD, EDGE, RING = 12, 24, 14


class LineDelegate(QStyledItemDelegate):
    """Paints a cell; the chosen line has a bar at its edge."""

    def __init__(self, model: LinesModel, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.is_narrow = False
        self._model = model

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint ground, rule, ring and words of a cell."""
        look, pixels, c = self.look, self.look.pixels, self.look.colours
        room: QRect = option.rect
        state: QStyle.StateFlag = option.state
        is_chosen = bool(state & QStyle.StateFlag.State_Selected)
        column = self._model.columns[index.column()]
        is_first = index.column() == 0
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(room, QColor(c.ground if is_chosen else c.sheet))
        painter.fillRect(room.left(), room.bottom(), room.width(), 1, QColor(c.line))
        if is_chosen and is_first:
            painter.fillRect(room.left(), room.top(), pixels(4), room.height(), QColor(c.act))
        words = room.adjusted(pixels(EDGE if is_first else PAD), 0, -pixels(4), 0)
        first = words
        if self.is_narrow:
            first = QRect(words.left(), words.top() + pixels(6), words.width(), pixels(MORE + 2))
            for place, text in enumerate(self._below(column, index.row()), 1):
                second = first.translated(0, place * pixels(MORE))
                _write(painter, second, text, look.font(9), c.quiet)
        if column.ring is not None:
            side = pixels(RING)
            ring = QRectF(first.left(), first.center().y() + 0.5 - side / 2, side, side)
            paint_ring(painter, ring, column.ring(self._model.line(index.row())), look)
            first = first.adjusted(side + pixels(8), 0, 0, 0)
        font = look.font(11, bold=column.strong or (is_chosen and is_first), code=column.code)
        _write(painter, first, str(index.data() or ""), font, c.quiet if column.quiet else c.ink)
        painter.restore()

    def sizeHint(  # noqa: N802 - Qt's name
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the height of the line with what stands below its words."""
        lines = max(len(self._below(column, index.row())) for column in self._model.columns) if self.is_narrow else 0
        return QSize(super().sizeHint(option, index).width(), self.look.pixels(LINE + lines * MORE))

    def _below(self, column: ListColumn, row: int) -> list[str]:
        """Return what stands under a column's own words, without what is empty."""
        line = self._model.line(row)
        named = {one.heading: one for one in self._model.columns}
        below = [named[heading] for heading in column.below]
        return [f"{one.said_below}{text}" for one in below if (text := one.words(line))]


class ListTable(QTableView):
    """Shows the lines of a model; Enter or a double click opens the chosen one."""

    line_chosen = Signal(int)

    def __init__(self, model: LinesModel, name: str, look: Look) -> None:
        super().__init__()
        self._lines = model
        self._kept: tuple[Hashable, int] | None = None
        self.setAccessibleName(name)
        self._delegate = LineDelegate(model, look, self)
        self.setItemDelegate(self._delegate)
        self.setModel(model)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(1)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setMinimumSectionSize(1)
        self.doubleClicked.connect(lambda _index: self.choose())
        model.modelAboutToBeReset.connect(self._keep)
        model.modelReset.connect(self._take_up)
        self.set_look(look, NARROW)

    def set_look(self, look: Look, width: int, *, narrow_below: int = NARROW) -> None:
        """Take another theme or size of text, and the width there is."""
        narrow = width < look.pixels(narrow_below)
        self._delegate.look, self._delegate.is_narrow = look, narrow
        below = {heading for column in self._lines.columns for heading in column.below}
        header = self.horizontalHeader()
        for place, column in enumerate(self._lines.columns):
            here = column.narrow_width if narrow and column.narrow_width is not None else column.width
            header.setSectionHidden(place, narrow and column.heading in below)
            fixed = QHeaderView.ResizeMode.Fixed if here else QHeaderView.ResizeMode.Stretch
            header.setSectionResizeMode(place, fixed)
            if here:
                header.resizeSection(place, look.pixels(here))
        self.fit_rows(look, is_narrow=narrow)
        self.viewport().update()

    def fit_rows(self, look: Look, *, is_narrow: bool) -> None:  # noqa: ARG002 - a longer list looks at them
        """Give each line the height of what it says."""
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.resizeRowsToContents()

    def chosen(self) -> int | None:
        """Return the chosen row."""
        row = self.currentIndex().row()
        return row if 0 <= row < self._lines.rowCount() else None

    def choose(self) -> None:
        """Ask for the chosen line to be opened."""
        if (row := self.chosen()) is not None:
            self.line_chosen.emit(row)

    def choose_first(self) -> None:
        """Choose the first line where none is chosen."""
        if self.chosen() is None and self._lines.rowCount():
            self.setCurrentIndex(self._lines.index(0, 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Open with Enter."""
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not held:
            self.choose()
        elif event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def _keep(self) -> None:
        row = self.chosen()
        self._kept = None if row is None else (self._lines.key_at(row), row)

    def _take_up(self) -> None:
        """Choose the line again that was chosen, or the one in its place; the first one when there was none."""
        row = 0
        if self._kept is not None:
            key, before = self._kept
            now = self._lines.row_of(key)
            row = min(before, self._lines.rowCount() - 1) if now is None else now
        if self._lines.rowCount():
            self.setCurrentIndex(self._lines.index(row, 0))


def _write(painter: QPainter, room: QRect, words: str, font: QFont, colour: str) -> None:
    painter.setFont(font)
    painter.setPen(QPen(QColor(colour)))
    shown = QFontMetrics(font).elidedText(words, Qt.TextElideMode.ElideRight, room.width())
    painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)
