"""The card inside its order: whose it is and how it stands above, what changed elsewhere, the card page below."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, order_name
from desktop.viewmodels.orders.order_session import OrderSession
from desktop.windows.card.card_page import CardPage
from desktop.windows.pieces.look import Look

LOOK_EVERY_MS = 1500
MOST_CHANGES = 4


class OrderPage(QWidget):
    """Shows one card of one order; looks at the shop file often enough to mark a change within two seconds."""

    left = Signal()

    def __init__(self, session: OrderSession, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.session = session
        self._back = QPushButton("Back to the order")
        self._back.clicked.connect(self.left)
        self._name = QLabel()
        self._name.setObjectName("group")
        self._whose = QLabel()
        self._whose.setObjectName("quiet")
        self._state = QLabel()
        self._safe = QLabel()
        self._returned = QLabel()
        self._changed = QLabel()
        self._changed.setObjectName("changed")
        for label in (self._name, self._whose, self._state, self._safe, self._returned, self._changed):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self._changed.hide()
        self.page = CardPage(session, look)
        self._head = QHBoxLayout()
        self._head.addWidget(self._back)
        for widget, share in ((self._name, 3), (self._whose, 3), (self._state, 2)):
            self._head.addWidget(widget, share)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._head)
        for line in (self._safe, self._returned, self._changed):
            outer.addWidget(line)
        outer.addWidget(self.page, 1)
        session.order_changed.connect(self._show_order)
        session.changed_elsewhere.connect(self._show_changes)
        session.told.connect(self._take_told)
        self.page.act_asked.connect(session.act)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(session.look)
        self._timer.start()
        self.set_look(look)
        self._show_order(session.order)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        side = look.pixels(16)
        self._head.setContentsMargins(side, look.pixels(8), side, look.pixels(8))
        self._head.setSpacing(side)
        self.page.set_look(look)
        self._show_order(self.session.order)

    def begin(self) -> None:
        """Go to where the work goes on: the first open field, or the last place when nothing stands against it."""
        places = self.session.places
        first = None if self.session.is_ready() else self.session.next_open(None)
        number = next((n for n, place in enumerate(places) if first and place.id == first.place), len(places) - 1)
        self.page.show_place(number, first.field if first else None)

    def changed_words(self) -> str:
        """Return what is said of changes in another window."""
        return self._changed.text()

    def rest(self) -> None:
        """Look at the shop file no more."""
        self._timer.stop()

    def _take_told(self, words: str) -> None:
        """Take away what another window changed when the next field is kept, which tells nothing."""
        if not words:
            self._changed.hide()

    def _show_order(self, order: WorkOrder) -> None:
        card = self.session.card
        self._name.setText(f"{order_name(order.number)}  {card.task.title}")
        self._whose.setText(f"{aircraft_words(order)}, {order.position} engine")
        self._state.setText(self.session.head_words())
        self._returned.setText(self.session.returned())
        self._returned.setVisible(bool(self._returned.text()))
        self._returned.setStyleSheet(f"color: {self._look.colours.ask}; font-weight: bold; padding: 8px 16px")
        open_items = self.session.not_normal()
        self._safe.setVisible(bool(open_items))
        self._safe.setText("Not as it flies: " + ", ".join(open_items) if open_items else "")
        colour = self._look.colours.ink
        self._safe.setStyleSheet(f"color: {colour}; border: 2px solid {colour}; padding: 4px 16px; font-weight: bold")

    def _show_changes(self, changes: tuple[str, ...]) -> None:
        """Say what another window changed, until the next field is kept."""
        shown = "; ".join(changes[:MOST_CHANGES])
        more = f"; and {len(changes) - MOST_CHANGES} more" if len(changes) > MOST_CHANGES else ""
        self._changed.setText(f"Changed in another window: {shown}{more}.")
        colour = self._look.colours.ask
        self._changed.setStyleSheet(f"color: {colour}; font-weight: bold; padding: 8px 16px")
        self._changed.show()
