"""What can be done on an order besides its next action: buttons in even columns, as many as there is room for."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QWidget

from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.windows.pieces.look import Look

BUTTONS = (
    ("intake", "Inta&ke…"),
    ("discrepancy", "&Discrepancy…"),
    ("part", "Pa&rt off or on…"),
    ("search", "Directive sear&ch…"),
    ("directive", "Directive c&omplied with…"),
    ("time", "Book &time…"),
    ("leave-out", "&Leave a magneto out…"),
    ("issue", "&Issue more cards…"),
    ("not-approved", "&Not approved…"),
    ("void", "Void the ord&er…"),
    ("records", "Si&gned records…"),
    ("papers", "Paper&s…"),
)
"""What can be done besides the next action: the name by which it is asked for, and its button."""
WIDTH = 214
WHILE_OPEN = ("discrepancy", "part", "search", "directive", "time", "leave-out", "void")


class OrderButtons(QWidget):
    """``asked`` carries the name of a button."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.all: dict[str, QPushButton] = {}
        for name, words in BUTTONS:
            button = QPushButton(words, self)
            button.setAutoDefault(True)
            button.clicked.connect(lambda _=False, name=name: self.asked.emit(name))
            self.all[name] = button

    def show_hub(self, hub: OrderHub) -> None:
        """Show what can be done on an order as it is."""
        self.all["intake"].setVisible(hub.may_take_in())
        self.all["issue"].setVisible(hub.may_issue())
        self.all["not-approved"].setVisible(hub.is_open and bool(hub.cards.rowCount()))
        for name in WHILE_OPEN:
            self.all[name].setVisible(hub.is_open)

    def arrange(self, look: Look, width: int) -> None:
        """Lay the buttons out in the room that there is; a button alone is no wider than one of many."""
        self._grid.setSpacing(look.pixels(8))
        for button in self.all.values():
            self._grid.removeWidget(button)
        columns = max(1, width // look.pixels(WIDTH))
        for place, button in enumerate(one for one in self.all.values() if not one.isHidden()):
            self._grid.addWidget(button, place // columns, place % columns)
        for column in range(max(columns, self._grid.columnCount())):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
