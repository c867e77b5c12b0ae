"""A new work order in one form: Enter goes on to the next field, Ctrl+Enter opens the order."""

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLineEdit

from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.pieces.fields import Field
from desktop.windows.lists.entry_page import SHORT, EntryPage
from desktop.windows.pieces.look import Look

ACT = "Open the order"
KEYS = "Enter: next field   Space: tick   Ctrl+Enter: open the order   Esc: back"
TASK = (
    "Copy what stands on the aircraft, in its logs and on the data plates. What is not marked may stay empty; "
    'what is missing on a plate can be written later with "Intake…".'
)
MIDDLE, LONG = 208, 280
SHORTS = ("lag", "since_overhaul", "total_time", "tachometer")
LONGS = ("customer.name", "customer.email", "asked", "complaint", "authorised")
NOT_OPEN = "The order is not open yet. Each field that is marked says what to write."


class NewOrderPage(EntryPage):
    """Shows the form; what it says is opened at the desk."""

    not_kept = NOT_OPEN

    def __init__(self, form: NewOrderForm, desk: OrderDesk, look: Look) -> None:
        self._order = form
        super().__init__(form, ACT, "Back to the orders", look)
        self._desk = desk
        self._title.setText("New work order")
        self._task.setText(TASK)
        self.keep_asked.connect(self._open)
        desk.order_opened.connect(lambda _answer: self._begin_empty())
        desk.refused.connect(self._say_refusal)

    def editor_width(self, field: Field) -> int:
        """Return a width for what is written there."""
        return SHORT if field.path.endswith(SHORTS) else LONG if field.path in LONGS else MIDDLE

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Begin in the first field that is empty."""
        super().showEvent(event)
        fields = tuple(self._order.fields())
        self.focus(next((field for field in fields if field.path not in self._order.values), fields[0]))

    def open_order(self) -> None:
        """Open the order that the form says; with a fault, go to the first one."""
        self.keep()

    def _open(self) -> None:
        new = self._order.finish()
        if new is not None:
            self._desk.open_order(new)

    def _begin_empty(self) -> None:
        """Begin anew after an order was opened; what was typed stands in the order now."""
        for row in self.rows.values():
            if isinstance(row.editor, QLineEdit):
                row.editor.setModified(False)
        self._order.begin_empty()

    def _say_refusal(self, words: str) -> None:
        if self.isVisible():
            self.foot.say(words, refused=True)
