"""An order that has no card yet: what it is about, and the card to issue."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from desktop.core.shop.order import WorkOrder
from desktop.core.shop.order_line import aircraft_words, engine_words, order_name
from desktop.windows.look import Look
from desktop.windows.page_foot import PageFoot


class IssuePage(QWidget):
    """Shows an order in a few lines and issues its card."""

    issue_asked = Signal()
    back_asked = Signal()

    def __init__(self, order: WorkOrder, title: str, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        sheet = QWidget()
        sheet.setObjectName("sheet")
        self._column = QVBoxLayout(sheet)
        heading = QLabel(order_name(order.number))
        heading.setObjectName("title")
        self._column.addWidget(heading)
        for line in _lines(order):
            label = QLabel(line)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            self._column.addWidget(label)
        task = QLabel(f"Nothing is issued on this order yet. The card is: {title}.")
        task.setObjectName("task")
        task.setWordWrap(True)
        self._column.addWidget(task)
        self._column.addStretch(1)
        self.foot = PageFoot("Issue the card", "Enter: issue the card", "Back to the orders")
        self.foot.act.setAutoDefault(True)
        self.foot.act.clicked.connect(self.issue_asked)
        self.foot.back.clicked.connect(self.back_asked)
        outer.addWidget(sheet, 1)
        outer.addWidget(self.foot)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        side = look.pixels(24)
        self._column.setContentsMargins(side, side, side, side)
        self._column.setSpacing(look.pixels(8))
        self.foot.set_look(look, self.width())


def _lines(order: WorkOrder) -> list[str]:
    complaint = order.taken_in.intake.complaint if order.taken_in else ""
    said = (
        ("Customer", order.customer.name),
        ("Aircraft", aircraft_words(order)),
        ("Engine", engine_words(order)),
        ("Asked", order.asked),
        ("Complaint", complaint),
    )
    return [f"{label}: {words}" for label, words in said if words]
