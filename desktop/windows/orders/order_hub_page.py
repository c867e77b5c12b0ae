"""An open order: its head and board large, its cards, what stands around them, and the one next action below."""

from itertools import pairwise

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from desktop.viewmodels.orders.order_hub import OrderHub
from desktop.viewmodels.pieces.board_words import board_words
from desktop.windows.lists.list_table import ListTable
from desktop.windows.orders.against_panel import AgainstPanel
from desktop.windows.orders.board_view import BoardView
from desktop.windows.orders.order_buttons import OrderButtons
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

LOOK_EVERY_MS = 1500
MOST_CHANGES = 4
BESIDE, BOARD_WIDTH, ONE_LINE = 1080, 372, 1120
KEYS = "Up, Down: choose   Enter: open   Space: set the board   Esc: back"
NO_CARDS = "No card is issued yet. They stand here, in the order of the work, once the job is chosen."
NOTHING_AROUND = (
    "Discrepancies, parts, directives and time stand here once they are written down with the buttons below."
)


class OrderHubPage(QWidget):
    """Shows one hub; looks for changes of others while it is seen.

    ``next_asked`` carries the next action, ``card_chosen`` a card's number, ``settle_asked`` a discrepancy's, and
    ``form_asked`` the name of a button; ``papers_asked`` comes from that of the papers.
    """

    next_asked = Signal(object)
    card_chosen = Signal(int)
    settle_asked = Signal(int)
    form_asked = Signal(str)
    papers_asked = Signal()
    back_asked = Signal()

    def __init__(self, hub: OrderHub, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.hub = hub
        self._look = look
        self._name = QLabel()
        self._name.setObjectName("title")
        self.position = QLabel()
        self._head = QLabel()
        self._changed = QLabel()
        self._changed.hide()
        self._cards_title = QLabel("Cards")
        self._around_title = QLabel("Around the cards")
        self._safe = QLabel()
        for label in (self._cards_title, self._around_title, self._safe):
            label.setObjectName("group")
        self._no_cards = QLabel(NO_CARDS)
        self._nothing = QLabel(NOTHING_AROUND)
        for label in (self._no_cards, self._nothing):
            label.setObjectName("quiet")
        self._safe.setWordWrap(True)
        for label in (self._name, self.position, self._head, self._changed, self._no_cards, self._nothing):
            label.setWordWrap(label not in (self._name, self.position))
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.cards = ListTable(hub.cards, "Cards", look)
        self.around = ListTable(hub.around, "Around the cards", look)
        self.board = BoardView(hub.board, look)
        self.against = AgainstPanel()
        self._grid = OrderButtons()
        self.buttons = self._grid.all
        self.foot = PageFoot("", KEYS, "Work orders")
        self._build()
        self.cards.line_chosen.connect(lambda row: self.card_chosen.emit(hub.cards.line(row).number))
        self.around.line_chosen.connect(self._open_around)
        self.board.set_asked.connect(self._set_board)
        self._grid.asked.connect(self._ask)
        self.cards.selectionModel().currentChanged.connect(lambda *_: self._keep_in_sight(self.cards))
        self.foot.act.clicked.connect(lambda: self.next_asked.emit(hub.next_act()))
        self.foot.back.clicked.connect(self.back_asked)
        hub.changed.connect(self.show_hub)
        hub.refused.connect(lambda words: self.foot.say(words, refused=True))
        hub.told.connect(self._tell)
        hub.changed_elsewhere.connect(self._show_changes)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(hub.look)
        self.set_look(look)
        self._set_order()

    def _build(self) -> None:
        self._left, self._right = QWidget(), QWidget()
        self._lists, self._beside = QVBoxLayout(self._left), QVBoxLayout(self._right)
        for widget in (self._safe, self._cards_title, self._no_cards):
            self._lists.addWidget(widget)
        self._lists.addWidget(self.cards, 300)
        for widget in (self._around_title, self._nothing):
            self._lists.addWidget(widget)
        self._lists.addWidget(self.around, 200)
        self._lists.addWidget(self._grid)
        self._lists.addStretch(1)
        self._beside.addWidget(self.board)
        self._beside.addWidget(self.against)
        self._beside.addStretch(1)
        inside = QWidget()
        inside.setObjectName("sheet")
        self._column = QVBoxLayout(inside)
        self._names = QHBoxLayout()
        self._names.addWidget(self._name)
        self._names.addWidget(self.position, 1)
        self._column.addLayout(self._names)
        self._column.addWidget(self._head)
        self._column.addWidget(self._changed)
        self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._right_area = QScrollArea()
        self._right_area.setObjectName("sheet")
        self._right_area.setWidgetResizable(True)
        self._right_area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._right_area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._right.setObjectName("sheet")
        self._left.setObjectName("sheet")
        self._right_area.setWidget(self._right)
        self._body.addWidget(self._left, 1)
        self._body.addWidget(self._right_area)
        self._column.addLayout(self._body, 1)
        self._scroll = QScrollArea()
        self._scroll.setObjectName("sheet")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._scroll, 1)
        outer.addWidget(self.foot)

    def _set_order(self) -> None:
        """Let Tab go down the page."""
        order: tuple[QWidget, ...] = (
            self.cards,
            self.around,
            *self.buttons.values(),
            *self.board.rows,
            self.foot.act,
            self.foot.back,
        )
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._column.setContentsMargins(margin, look.pixels(12), margin, look.pixels(8))
        self._column.setSpacing(look.pixels(4))
        self._body.setSpacing(margin)
        self._names.setSpacing(margin)
        self._lists.setContentsMargins(0, look.pixels(8), 0, look.pixels(8))
        self._lists.setSpacing(look.pixels(6))
        self._beside.setContentsMargins(0, 0, look.pixels(4), 0)
        self._beside.setSpacing(look.pixels(8))
        self.position.setStyleSheet(f"font-size: {look.points(28)}pt; font-weight: bold")
        self.board.set_look(look)
        self._arrange()
        self.show_hub()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: the board stands beside the cards where there is room, else below them."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look for changes while the page is seen."""
        super().showEvent(event)
        self.hub.look()
        self._timer.start()
        self.take_keys()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Look no more."""
        super().hideEvent(event)
        self._timer.stop()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def take_keys(self) -> None:
        """Put the keyboard where the next action is: on its card, or else on the button."""
        act = self.hub.next_act()
        row = self.hub.cards.row_of(act.card) if act.card else None
        if row is not None:
            self.cards.setCurrentIndex(self.hub.cards.index(row, 0))
            self.cards.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.cards.choose_first()
            self.foot.act.setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot."""
        self.foot.say(words, refused=refused)

    def show_hub(self) -> None:
        """Show the order as it is."""
        hub = self.hub
        self._name.setText(hub.name)
        self.position.setText(hub.position_words)
        self.position.setVisible(bool(hub.position_words))
        self._safe.setText(board_words(hub.board))
        self._head.setText("     ".join(f"{label}: {words}" for label, words in hub.head_lines()))
        self.board.show_board(hub.board)
        has_cards, has_around = bool(hub.cards.rowCount()), bool(hub.around.rowCount())
        self.cards.setVisible(has_cards)
        self._no_cards.setVisible(not has_cards)
        self.around.setVisible(has_around)
        self._nothing.setVisible(not has_around)
        self.foot.act.setText(hub.next_act().words)
        self.against.show_hub(hub, self._look)
        self._grid.show_hub(hub)
        self._arrange()

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        is_wide = width >= look.pixels(BESIDE)
        self._body.setDirection(QBoxLayout.Direction.LeftToRight if is_wide else QBoxLayout.Direction.TopToBottom)
        self._safe.setVisible(not is_wide)
        lists = width - 2 * look.pixels(24) - (look.pixels(BOARD_WIDTH + 24) if is_wide else 0)
        self._right_area.setFixedWidth(look.pixels(BOARD_WIDTH) if is_wide else width - 2 * look.pixels(24) - 20)
        high = self._beside.totalHeightForWidth(width - 2 * look.pixels(24) - 20)
        self._right_area.setMinimumHeight(0 if is_wide else max(high, self._right.sizeHint().height()) + 8)
        for table in (self.cards, self.around):
            table.set_look(look, lists, narrow_below=ONE_LINE)
            rows = table.model().rowCount()
            whole = table.horizontalHeader().sizeHint().height() + sum(table.rowHeight(row) for row in range(rows)) + 4
            table.setMinimumHeight(min(whole, look.pixels(132)) if is_wide else whole)
            table.setMaximumHeight(whole)
        self._grid.arrange(look, lists)
        self.foot.set_look(look, width)

    def _keep_in_sight(self, table: ListTable) -> None:
        """Let the page follow the line that is chosen, where the page and not the table scrolls."""
        line = table.visualRect(table.currentIndex())
        inside = self._scroll.widget()
        if inside is not None and inside.height() > self._scroll.height():
            place = table.viewport().mapTo(inside, line.center())
            self._scroll.ensureVisible(0, place.y(), 0, line.height())

    def _ask(self, name: str) -> None:
        if name == "papers":
            self.papers_asked.emit()
        else:
            self.form_asked.emit(name)

    def _open_around(self, row: int) -> None:
        line = self.hub.around.line(row)
        if line.discrepancy and self.hub.is_open:
            self.settle_asked.emit(line.discrepancy)
        else:
            self.say("This stands on the order and stays. Write down what is new with a button below the list.")

    def _set_board(self, place: int) -> None:
        standing = self.hub.board[place]
        self.hub.set_board(place, is_normal=not standing.is_normal)

    def _tell(self, words: str) -> None:
        self._changed.hide()
        self.foot.say(words)

    def _show_changes(self, changes: tuple[str, ...]) -> None:
        """Say what another window changed, until something is done here."""
        shown = "; ".join(changes[:MOST_CHANGES])
        more = f"; and {len(changes) - MOST_CHANGES} more" if len(changes) > MOST_CHANGES else ""
        self._changed.setText(f"Changed in another window: {shown}{more}.")
        self._changed.setStyleSheet(f"color: {self._look.colours.ask}; font-weight: bold")
        self._changed.show()
