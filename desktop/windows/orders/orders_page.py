"""The work orders: found as one types, by state, opened with Enter; the next action opens a new one."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from desktop.viewmodels.orders.listed import Asked, Listed, asked_of, choices
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.windows.orders.order_table import OrderTable
from desktop.windows.pieces.editors import ChoiceBox
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

KEYS = "Up, Down: choose   Enter: open   Alt+S: show   Alt+A: all open   Alt+O: new order"
NO_ORDERS = (
    "No work order yet",
    "Each order stands here in one line, the newest first. Begin with the button at the bottom right, or press Enter.",
)
NOT_FOUND = (
    "Nothing found",
    "No work order that is listed here has all of these words. Take a letter away, or choose every order.",
)
NOTHING_WAITS = ("Nothing waits for you", "No card and no order waits for you now. Alt+A shows all open orders.")
NONE_SO = ("No order here", "No work order is in this list now. Choose another one at Show, or every order.")
FOR_THE_LIST = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
NARROW = 760


class OrdersPage(QWidget):
    """Shows the orders of a desk; looks for changes of others while it is seen."""

    order_chosen = Signal(int)
    new_asked = Signal()

    def __init__(self, desk: OrderDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._desk = desk
        self._look = look
        self._title = QLabel("Work orders")
        self._title.setObjectName("title")
        self.search_field = QLineEdit()
        self.search_field.setMaxLength(200)
        self.search_field.setAccessibleName("Find")
        self.search_field.setPlaceholderText("Customer, registration, serial number, order or any word")
        self.search_field.setClearButtonEnabled(False)
        self.search_field.installEventFilter(self)
        self.state_box = ChoiceBox(look)
        self.state_box.setAccessibleName("Show")
        self.all_open = QPushButton("&All open")
        self.all_open.setAutoDefault(True)
        self._find_label = QLabel("&Find")
        self._find_label.setBuddy(self.search_field)
        self._state_label = QLabel("&Show")
        self._state_label.setBuddy(self.state_box)
        self.table = OrderTable(desk.orders, look)
        self.empty_title = QLabel()
        self.empty_title.setObjectName("group")
        self.empty_words = QLabel()
        self.empty_words.setObjectName("quiet")
        self.empty_words.setWordWrap(True)
        self.foot = PageFoot("&Open a work order", KEYS)
        self._build()
        self.search_field.textEdited.connect(self._search)
        self.state_box.activated.connect(lambda _place: self._choose(asked_of(self.state_box.currentData())))
        self.all_open.clicked.connect(self._choose_all)
        self.table.order_chosen.connect(self.order_chosen)
        self.table.typed.connect(self._type_on)
        self.foot.act.clicked.connect(self.new_asked)
        desk.orders_changed.connect(self._show_orders)
        desk.refused.connect(self._say_refusal)
        self.set_look(look)
        order: tuple[QWidget, ...] = (self.search_field, self.state_box, self.all_open, self.table, self.foot.act)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)
        self._show_orders()

    def _build(self) -> None:
        self._head = QGridLayout()
        empty = QWidget()
        empty.setObjectName("sheet")
        self._empty = QVBoxLayout(empty)
        self._empty.addWidget(self.empty_title)
        self._empty.addWidget(self.empty_words)
        self._empty.addStretch(1)
        self._middle = QStackedWidget()
        self._middle.addWidget(self.table)
        self._middle.addWidget(empty)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._head)
        outer.addWidget(self._middle, 1)
        outer.addWidget(self.foot)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        self.state_box.set_look(look)
        margin = look.pixels(24)
        self._head.setContentsMargins(margin, look.pixels(16), look.pixels(16), look.pixels(16))
        self._head.setSpacing(look.pixels(12))
        self._empty.setContentsMargins(margin, margin, margin, 0)
        self._middle.setMinimumHeight(look.pixels(100))
        self._empty.setSpacing(look.pixels(8))
        self.empty_words.setMaximumWidth(look.pixels(560))
        self.state_box.setFixedWidth(look.pixels(236))
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: what has no room in one line stands in two."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look for changes while the page is seen, and begin in the search."""
        super().showEvent(event)
        self._desk.watch()
        self.table.choose_first()
        self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.search_field.selectAll()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Look no more."""
        super().hideEvent(event)
        self._desk.rest()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Move in the list and open from it while the search has the keyboard; Escape empties the search."""
        if watched is self.search_field and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            key = event.key()
            if key in FOR_THE_LIST:
                QApplication.sendEvent(self.table, event)
                return True
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._enter()
                return True
            if key == Qt.Key.Key_Escape and self.search_field.text():
                self.search_field.clear()
                self._search("")
                return True
        return super().eventFilter(watched, event)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the page."""
        self.foot.say(words, refused=refused)

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        narrow = width < look.pixels(NARROW)
        tools: tuple[QWidget, ...] = (
            self._find_label,
            self.search_field,
            self._state_label,
            self.state_box,
            self.all_open,
        )
        for widget in (self._title, *tools):
            self._head.removeWidget(widget)
        self._title.setVisible(not narrow)  # the bar above says it, and the list needs the room
        self._head.addWidget(self._title, 0, 0)
        for place, widget in enumerate(tools):
            self._head.addWidget(widget, 1 if narrow else 0, place if narrow else place + 1)
        self._head.setColumnStretch(1, 1 if narrow else 0)
        self._head.setColumnStretch(2, 0 if narrow else 1)
        self._title.setMinimumWidth(look.pixels(200))
        self.table.set_look(look, width)
        self.foot.set_look(look, width)

    def _search(self, text: str) -> None:
        self.table.forget_chosen()
        self._desk.search(text)

    def _choose(self, asked: Asked | None) -> None:
        if asked is not None:
            self.table.forget_chosen()
            self._desk.choose(asked)

    def _choose_all(self) -> None:
        """List all open orders, and let the keyboard be in the list."""
        self._choose(Listed.OPEN)
        self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_choices(self) -> None:
        """Offer what the present person can list, and show what is listed."""
        offered = [(words, one.value) for one, words in choices(self._desk.person())]
        if offered != [(self.state_box.itemText(at), self.state_box.itemData(at)) for at in range(len(offered))]:
            self.state_box.clear()
            for words, value in offered:
                self.state_box.addItem(words, value)
        self.state_box.setCurrentIndex(self.state_box.findData(self._desk.asked.value))
        self.all_open.setEnabled(self._desk.asked is not Listed.OPEN)

    def _type_on(self, text: str) -> None:
        """Go on in the search with a letter that was typed in the list."""
        self.search_field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.search_field.end(False)  # noqa: FBT003 - Qt's signature
        self.search_field.insert(text)
        self._search(self.search_field.text())

    def _enter(self) -> None:
        if self._is_new_shop:
            self.new_asked.emit()
        else:
            self.table.choose()

    @property
    def _is_new_shop(self) -> bool:
        return not self._desk.orders.rowCount() and not self._desk.find.strip() and not self._desk.has_orders()

    def _why_empty(self) -> tuple[str, str]:
        if self._desk.find.strip():
            return NOT_FOUND
        if self._is_new_shop:
            return NO_ORDERS
        return NOTHING_WAITS if self._desk.asked is Listed.MINE else NONE_SO

    def _show_orders(self) -> None:
        """Show the list, or why it is empty and what to do."""
        self._show_choices()
        has_lines = bool(self._desk.orders.rowCount())
        self._middle.setCurrentIndex(0 if has_lines else 1)
        if not has_lines:
            title, words = self._why_empty()
            self.empty_title.setText(title)
            self.empty_words.setText(words)
        index = self.table.currentIndex()
        if index.isValid():
            QTimer.singleShot(0, self.table, lambda: self.table.scrollTo(self.table.currentIndex()))

    def _say_refusal(self, words: str) -> None:
        if self.isVisible():
            self.say(words, refused=True)
