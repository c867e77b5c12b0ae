"""The list of work orders: one line an order, its state by word and ring; two lines where the window is narrow."""

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

from desktop.viewmodels.orders.order_list_model import Column, OrderListModel
from desktop.viewmodels.pieces.order_words import RINGS
from desktop.windows.pieces.finding_list import paint_ring
from desktop.windows.pieces.look import Look

LINE, TWO_LINES = 40, 56
NARROW = 1000
WIDTHS = {
    Column.NUMBER: 112,
    Column.STATE: 156,
    Column.REGISTRATION: 112,
    Column.TYPE: 168,
    Column.CUSTOMER: 208,
    Column.PROMISED: 128,
}
NARROW_WIDTHS = {Column.NUMBER: 104, Column.STATE: 156, Column.REGISTRATION: 148}
BELOW = {Column.STATE: Column.PROMISED, Column.REGISTRATION: Column.TYPE, Column.CUSTOMER: Column.ASKED}
"""What stands in the second line of a column where there is no room for a column of its own."""
PAD, EDGE = 12, 24
RING = 14
QUIET = (Column.TYPE, Column.PROMISED)


class OrderDelegate(QStyledItemDelegate):
    """Paints a cell; the chosen line has a bar at its edge, and its number is bold."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look
        self.is_narrow = False

    def sizeHint(  # noqa: N802 - Qt's name
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the size of the words with room to breathe."""
        hint = super().sizeHint(option, index)
        return QSize(hint.width(), self.look.pixels(TWO_LINES if self.is_narrow else LINE))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint ground, rule, ring and words of a cell."""
        look, pixels, c = self.look, self.look.pixels, self.look.colours
        room: QRect = option.rect
        state: QStyle.StateFlag = option.state
        is_chosen = bool(state & QStyle.StateFlag.State_Selected)
        column = Column(index.column())
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(room, QColor(c.ground if is_chosen else c.sheet))
        painter.fillRect(room.left(), room.bottom(), room.width(), 1, QColor(c.line))
        if is_chosen and column is Column.NUMBER:
            painter.fillRect(room.left(), room.top(), pixels(4), room.height(), QColor(c.act))
        words = room.adjusted(pixels(EDGE if column is Column.NUMBER else PAD), 0, -pixels(4), 0)
        if column is Column.STATE:
            words.setLeft(words.left() + pixels(RING + 8))
        first = words
        below = BELOW.get(column) if self.is_narrow else None
        if self.is_narrow:
            half = room.height() // 2
            first = words.adjusted(0, pixels(6), 0, -half)
            second = words.adjusted(0, half, 0, -pixels(6))
            if below is not None:
                text = str(index.sibling(index.row(), below).data() or "")
                if below is Column.PROMISED and text:
                    text = f"for {text}"
                _write(painter, second, text, look.font(9), c.quiet)
        if column is Column.STATE:
            model = index.model()
            assert isinstance(model, OrderListModel)  # noqa: S101 - the table shows no other
            ring = QRectF(
                room.left() + pixels(PAD), first.center().y() + 0.5 - pixels(RING) / 2, pixels(RING), pixels(RING)
            )
            paint_ring(painter, ring, RINGS[model.line(index.row()).state], look)
        bold = column is Column.REGISTRATION or (is_chosen and column is Column.NUMBER)
        font = look.font(11, bold=bold, code=column is Column.NUMBER)
        _write(painter, first, str(index.data() or ""), font, c.quiet if column in QUIET else c.ink)
        painter.restore()


class OrderTable(QTableView):
    """Shows the orders; Enter or a double click opens the chosen one, letters go on to the search."""

    order_chosen = Signal(int)
    typed = Signal(str)

    def __init__(self, model: OrderListModel, look: Look) -> None:
        super().__init__()
        self._orders = model
        self._look = look
        self._kept: tuple[int, int] | None = None
        self.setAccessibleName("Work orders")
        self._delegate = OrderDelegate(look, self)
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
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.doubleClicked.connect(lambda _index: self.choose())
        model.modelAboutToBeReset.connect(self._keep)
        model.modelReset.connect(self._take_up)
        self.set_look(look, NARROW)

    def set_look(self, look: Look, width: int) -> None:
        """Take another theme or size of text, and the width there is."""
        self._look = look
        narrow = width < look.pixels(NARROW)
        self._delegate.look, self._delegate.is_narrow = look, narrow
        header, rows = self.horizontalHeader(), self.verticalHeader()
        widths = NARROW_WIDTHS if narrow else WIDTHS
        stretched = Column.CUSTOMER if narrow else Column.ASKED
        for column in Column:
            header.setSectionHidden(column, narrow and column in BELOW.values())
            mode = QHeaderView.ResizeMode.Stretch if column is stretched else QHeaderView.ResizeMode.Fixed
            header.setSectionResizeMode(column, mode)
            if column in widths:
                header.resizeSection(column, look.pixels(widths[column]))
        rows.setDefaultSectionSize(look.pixels(TWO_LINES if narrow else LINE))
        self.viewport().update()

    def chosen(self) -> int | None:
        """Return the number of the chosen order."""
        row = self.currentIndex().row()
        return self._orders.line(row).number if 0 <= row < self._orders.rowCount() else None

    def choose(self) -> None:
        """Ask for the chosen order to be opened."""
        if (number := self.chosen()) is not None:
            self.order_chosen.emit(number)

    def forget_chosen(self) -> None:
        """Choose the first line when the list is read again."""
        self.setCurrentIndex(QModelIndex())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Open with Enter; hand letters on."""
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not held:
            self.choose()
        elif event.text().isprintable() and event.text() and not held:
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)

    def _keep(self) -> None:
        number = self.chosen()
        self._kept = None if number is None else (number, self.currentIndex().row())

    def _take_up(self) -> None:
        """Choose the order again that was chosen, or the line in its place; the first line when there was none."""
        row = 0
        if self._kept is not None:
            number, before = self._kept
            now = self._orders.row_of(number)
            row = min(before, self._orders.rowCount() - 1) if now is None else now
        if self._orders.rowCount():
            self.setCurrentIndex(self._orders.index(row, 0))


def _write(painter: QPainter, room: QRect, words: str, font: QFont, colour: str) -> None:
    painter.setFont(font)
    painter.setPen(QPen(QColor(colour)))
    shown = QFontMetrics(font).elidedText(words, Qt.TextElideMode.ElideRight, room.width())
    painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)
