"""A page with one list: its title, what is to be known of the whole, the lines, and the next action below."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.lines_model import LinesModel
from desktop.windows.lists.list_table import NARROW, ListTable
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

PRINT = "Pr&int the list…"


class ListPage(QWidget):
    """Shows a list, or what comes here and how to begin. ``act`` says what the button at the bottom right does.

    Where the list can be printed, a button at the bottom left asks for that with ``print_asked``.
    """

    line_chosen = Signal(int)
    print_asked = Signal()

    def __init__(
        self,
        title: str,
        model: LinesModel,
        empty: tuple[str, str],
        act: str,
        keys: str,
        look: Look,
        *,
        narrow_below: int = NARROW,
    ) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._look = look
        self._model = model
        self._narrow_below = narrow_below
        self._title = QLabel(title)
        self._title.setObjectName("title")
        self.notice = QLabel()
        self.notice.setObjectName("quiet")
        self.notice.setWordWrap(True)
        self.notice.setTextFormat(Qt.TextFormat.PlainText)
        self.table = ListTable(model, title, look)
        self.empty_title = QLabel()
        self.empty_title.setObjectName("group")
        self.empty_words = QLabel()
        self.empty_words.setObjectName("quiet")
        self.empty_words.setWordWrap(True)
        self.foot = PageFoot(act, keys, PRINT)
        self.print_button = self.foot.back  # this page leads nowhere back: the place of that button is free
        self.print_button.hide()
        self.print_button.clicked.connect(self.print_asked)
        self._build()
        self.show_empty(*empty)
        self.table.line_chosen.connect(self.line_chosen)
        for change in (model.modelReset, model.rowsInserted):
            change.connect(self._show_lines)
        self._show_lines()
        QWidget.setTabOrder(self.table, self.foot.act)
        QWidget.setTabOrder(self.foot.act, self.print_button)
        self.set_look(look)

    def _build(self) -> None:
        self.head = QHBoxLayout()
        self.head.addWidget(self._title)
        self._above = QVBoxLayout()
        self._above.addLayout(self.head)
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
        outer.addLayout(self._above)
        outer.addWidget(self._middle, 1)
        outer.addWidget(self.foot)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._above.setContentsMargins(margin, look.pixels(16), margin, look.pixels(16))
        self._above.setSpacing(look.pixels(4))
        self.head.setSpacing(look.pixels(16))
        self._empty.setContentsMargins(margin, 2 * margin, margin, margin)
        self._empty.setSpacing(look.pixels(8))
        self.empty_words.setMaximumWidth(look.pixels(560))
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: what has no room in one line stands in more."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Begin in the list, or at the button where there is none."""
        super().showEvent(event)
        self.take_keys()

    def take_keys(self) -> None:
        """Put the keyboard into the list, or on the button while there is no line."""
        self.table.choose_first()
        target: QWidget = self.table if self._model.rowCount() else self.foot.act
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def offer_print(self) -> None:
        """Show the button that asks for the list to be printed."""
        self.print_button.show()

    def say_notice(self, words: str) -> None:
        """Say what is to be known of the whole list."""
        self.notice.setText(words)
        self._arrange()

    def show_empty(self, title: str, words: str) -> None:
        """Say what comes here and how to begin, while there is no line."""
        self.empty_title.setText(title)
        self.empty_words.setText(words)

    def _arrange(self) -> None:
        is_narrow = self.width() < self._look.pixels(NARROW)
        self.head.removeWidget(self.notice)
        self._above.removeWidget(self.notice)
        if is_narrow:
            self._above.addWidget(self.notice)
        else:
            self.head.insertWidget(1, self.notice, 1)
        self.notice.setVisible(bool(self.notice.text()) or not is_narrow)
        self._title.setMinimumWidth(self._title.sizeHint().width())
        self.table.set_look(self._look, self.width(), narrow_below=self._narrow_below)
        self.foot.set_look(self._look, self.width())

    def _show_lines(self) -> None:
        has_lines = bool(self._model.rowCount())
        had_keys = self.isVisible() and self.window().focusWidget() in (self.foot.act, self.table)
        self._middle.setCurrentIndex(0 if has_lines else 1)
        if had_keys:
            self.take_keys()
