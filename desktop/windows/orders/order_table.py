"""The list of work orders: as every list, but letters go on to the search, and all lines are of one height."""

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHeaderView

from desktop.viewmodels.orders.order_list_model import OrderListModel
from desktop.windows.lists.list_table import LINE, MORE, ListTable
from desktop.windows.pieces.look import Look


class OrderTable(ListTable):
    """Shows the orders; ``order_chosen`` carries the number of the one that was opened, ``typed`` letters."""

    order_chosen = Signal(int)
    typed = Signal(str)

    def __init__(self, model: OrderListModel, look: Look) -> None:
        self._orders = model
        super().__init__(model, "Work orders", look)
        self.line_chosen.connect(lambda row: self.order_chosen.emit(model.line(row).number))

    def chosen_order(self) -> int | None:
        """Return the number of the chosen order."""
        row = self.chosen()
        return None if row is None else self._orders.line(row).number

    def forget_chosen(self) -> None:
        """Choose the first line when the list is read again."""
        self.setCurrentIndex(QModelIndex())

    def fit_rows(self, look: Look, *, is_narrow: bool) -> None:
        """Give all lines one height: a list that is read page by page is not measured line by line."""
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(look.pixels(LINE + MORE if is_narrow else LINE))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Hand letters on."""
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        is_text = bool(event.text()) and event.text().isprintable() and not held
        if is_text and event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)
