"""The work orders as a table, the newest first, read from the shop page by page."""

from collections.abc import Callable
from enum import IntEnum

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order_line import OrderLine, order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.lists.look_up import MOST_LINES, PAGE, look_up
from desktop.usecases.shop.ports import ShopStore
from desktop.viewmodels.pieces.order_words import day_words

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class Column(IntEnum):
    """What the list shows of an order, in this order."""

    NUMBER = 0
    STATE = 1
    REGISTRATION = 2
    TYPE = 3
    CUSTOMER = 4
    ASKED = 5
    PROMISED = 6


HEADINGS = {
    Column.NUMBER: "Order",
    Column.STATE: "State",
    Column.REGISTRATION: "Aircraft",
    Column.TYPE: "Type",
    Column.CUSTOMER: "Customer",
    Column.ASKED: "Asked",
    Column.PROMISED: "Promised",
}


def _type_words(line: OrderLine) -> str:
    engine = "" if line.position is EnginePosition.SINGLE else f"{line.position} engine"
    return ", ".join(part for part in (line.aircraft_type, engine) if part)


_CELLS: dict[Column, Callable[[OrderLine], str]] = {
    Column.NUMBER: lambda line: order_name(line.number),
    Column.STATE: lambda line: line.state.value,
    Column.REGISTRATION: lambda line: line.registration,
    Column.TYPE: _type_words,
    Column.CUSTOMER: lambda line: line.customer,
    Column.ASKED: lambda line: line.asked,
    Column.PROMISED: lambda line: day_words(line.promised),
}


class OrderListModel(QAbstractTableModel):
    """Lines of the orders in which every word that is looked for begins a word, and that are in the state asked for.

    Reading may raise the store's Refusal; the lines that stand here then stay.
    """

    def __init__(self, store: ShopStore, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self._find = ""
        self._state: OrderState | None = None
        self._lines: tuple[OrderLine, ...] = ()
        self._is_whole = True
        self._is_changing = False

    def show_orders(self, find: str, state: OrderState | None) -> None:
        """Show the newest orders with these words and in this state; None for every state."""
        lines = look_up(self._store, find, state)
        self._find, self._state = find, state
        self._become(lines, is_whole=len(lines) < PAGE)

    def refresh(self) -> None:
        """Read again as many lines as stand here; lines that stay in their places are changed there."""
        wanted = max(len(self._lines), PAGE)
        lines: tuple[OrderLine, ...] = ()
        while len(lines) < wanted:
            page = self._page(lines, min(wanted - len(lines), MOST_LINES))
            lines += page
            if not page:
                break
        is_whole = len(lines) < wanted
        if [line.number for line in lines] != [line.number for line in self._lines]:
            self._become(lines, is_whole=is_whole)
            return
        before, self._lines, self._is_whole = self._lines, lines, is_whole
        for row, (old, new) in enumerate(zip(before, lines, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(row, 0), self.index(row, len(Column) - 1))

    def line(self, row: int) -> OrderLine:
        """Return the line of a row."""
        return self._lines[row]

    def row_of(self, number: int) -> int | None:
        """Return the row of an order; None when it does not stand here."""
        return next((row for row, line in enumerate(self._lines) if line.number == number), None)

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many lines were read."""
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many things a line says."""
        return 0 if parent.isValid() else len(Column)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return the words of a cell, the same as its tool tip, and its name for a reader of the screen."""
        if not index.isValid() or not 0 <= index.row() < len(self._lines):
            return None
        words = _CELLS[Column(index.column())](self._lines[index.row()])
        if role == Qt.ItemDataRole.DisplayRole:
            return words
        if role == Qt.ItemDataRole.ToolTipRole:
            return words or None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{HEADINGS[Column(index.column())]}: {words or 'nothing'}"
        return None

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[Column(section)]
        return None

    def canFetchMore(self, parent: Index) -> bool:  # noqa: N802 - Qt's name
        """Tell whether older orders may follow; not while those who watch are still told of another change."""
        return not (parent.isValid() or self._is_whole or self._is_changing)

    def fetchMore(self, parent: Index) -> None:  # noqa: N802 - Qt's name
        """Read the next page of older orders."""
        if not self.canFetchMore(parent):
            return
        page = self._page(self._lines, PAGE)
        self._is_whole = len(page) < PAGE
        if page:
            first = len(self._lines)
            self._is_changing = True
            self.beginInsertRows(QModelIndex(), first, first + len(page) - 1)
            self._lines += page
            self.endInsertRows()
            self._is_changing = False

    def _page(self, after: tuple[OrderLine, ...], limit: int) -> tuple[OrderLine, ...]:
        before = after[-1].number if after else None
        return look_up(self._store, self._find, self._state, limit, before)

    def _become(self, lines: tuple[OrderLine, ...], *, is_whole: bool) -> None:
        self._is_changing = True
        self.beginResetModel()
        self._lines, self._is_whole = lines, is_whole
        self.endResetModel()
        self._is_changing = False
