"""The work orders as a list, the newest first, read from the shop page by page."""

from PySide6.QtCore import QModelIndex, QObject

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order_line import OrderLine, order_name
from desktop.usecases.shop.lists.look_up import MOST_LINES, PAGE
from desktop.usecases.shop.ports import ShopStore
from desktop.viewmodels.orders.listed import Asked, Listed, Waiting, lines_in
from desktop.viewmodels.pieces.lines_model import NOWHERE, Index, LinesModel, ListColumn
from desktop.viewmodels.pieces.order_words import RINGS, day_words


def _type_words(line: OrderLine) -> str:
    engine = "" if line.position is EnginePosition.SINGLE else f"{line.position} engine"
    return ", ".join(part for part in (line.aircraft_type, engine) if part)


class OrderListModel(LinesModel):
    """Lines of the orders in which every word that is looked for begins a word, and that are asked for.

    While what waits for somebody is listed, a line says what that is in the place of what is asked. Reading may raise
    the store's Refusal; the lines that stand here then stay.
    """

    def __init__(self, store: ShopStore, parent: QObject | None = None, waiting: Waiting | None = None) -> None:
        columns = (
            ListColumn("Order", lambda line: order_name(line.number), 112, narrow_width=104, code=True),
            ListColumn(
                "State",
                lambda line: line.state.value,
                156,
                ring=lambda line: RINGS[line.state],
                below=("Promised",),
                narrow_width=156,
            ),
            ListColumn("Aircraft", lambda line: line.registration, 112, below=("Type",), strong=True, narrow_width=148),
            ListColumn("Type", _type_words, 168, quiet=True),
            ListColumn("Customer", lambda line: line.customer, 208, below=("Asked",), narrow_width=0),
            ListColumn("Asked", self._asked_words),
            ListColumn("Promised", lambda line: day_words(line.promised), 128, quiet=True, said_below="for "),
        )
        super().__init__(columns, lambda line: line.number, parent)
        self._store, self._waiting = store, waiting or Waiting(store)
        self._find = ""
        self._asked: Asked = Listed.EVERY
        self._is_whole = True
        self._is_changing = False

    def show_orders(self, find: str, asked: Asked | None) -> None:
        """Show the newest orders with these words that are asked for; None for every order."""
        before = self._find, self._asked
        self._find, self._asked = find, asked or Listed.EVERY
        try:
            lines = self._page((), PAGE)
        except Exception:
            self._find, self._asked = before
            raise
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
        self._become(lines, is_whole=len(lines) < wanted)

    def line(self, row: int) -> OrderLine:
        """Return the line of a row."""
        line: OrderLine = self._lines[row]
        return line

    def canFetchMore(self, parent: Index = NOWHERE) -> bool:  # noqa: N802 - Qt's name
        """Tell whether older orders may follow; not while those who watch are still told of another change."""
        return not (parent.isValid() or self._is_whole or self._is_changing)

    def fetchMore(self, parent: Index = NOWHERE) -> None:  # noqa: N802 - Qt's name
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

    def _asked_words(self, line: OrderLine) -> str:
        return (self._waiting.words(line) if self._asked is Listed.MINE else "") or line.asked

    def _page(self, after: tuple[OrderLine, ...], limit: int) -> tuple[OrderLine, ...]:
        before = after[-1].number if after else None
        if self._asked is not Listed.MINE:
            return lines_in(self._store, self._find, self._asked, limit, before)
        if after:
            return ()
        open_lines = lines_in(self._store, self._find, self._asked, MOST_LINES, None)
        return tuple(line for line in open_lines if self._waiting.words(line))

    def _become(self, lines: tuple[OrderLine, ...], *, is_whole: bool) -> None:
        self._is_changing, self._is_whole = True, is_whole
        self.show_lines(lines)
        self._is_changing = False
