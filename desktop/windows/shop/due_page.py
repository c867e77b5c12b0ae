"""What is coming due, the nearest first; from a line, or by a serial number, to the drift of a magneto."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QStackedWidget, QVBoxLayout, QWidget

from desktop.viewmodels.shop.drift_desk import DriftDesk
from desktop.viewmodels.shop.due_model import HOURS_SAID, READING, DueDesk
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.shop.drift_panel import DriftPanel

KEYS = "Up, Down: choose   Enter: drift of the magneto   Alt+M: a serial number"
ONE_LINE = 1240
"""From this width on, in the grid's pixels, everything about a line has a column of its own."""
NOTHING_DUE = (
    "Nothing is coming due",
    (
        "What is done again after hours or months stands here, the nearest first, once an order holds a recurring "
        "directive or a limits sheet gives an interval. The drift of any magneto is shown by its serial number, above."
    ),
)
NO_SERIAL = "Write the serial number of a magneto first, or choose a line of one."
NOT_A_MAGNETO = "This line is of an engine, and drift is of a magneto. Choose a magneto's line, or write its serial."


class DuePage(QWidget):
    """Shows what comes due in a shop, and the drift of one magneto."""

    is_begun = False

    def __init__(self, desk: DueDesk, drift: DriftDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._desk = desk
        self._drift = drift
        self.list_page = ListPage(
            "Coming due", desk.model, NOTHING_DUE, "Show the &drift", KEYS, look, narrow_below=ONE_LINE
        )
        self.serial = QLineEdit()
        self.serial.setMaxLength(200)
        self.serial.setAccessibleName("Magneto serial number")
        self.serial.setPlaceholderText("serial number")
        self.serial.installEventFilter(self)
        label = QLabel("&Magneto")
        label.setBuddy(self.serial)
        self.list_page.head.addStretch(0)
        self.list_page.head.addWidget(label)
        self.list_page.head.addWidget(self.serial)
        self.panel = DriftPanel(drift, "&Back to what is coming due", look)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.list_page)
        self._stack.addWidget(self.panel)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._stack)
        for one, other in pairwise((self.serial, self.list_page.table, self.list_page.foot.act)):
            QWidget.setTabOrder(one, other)
        self.list_page.line_chosen.connect(self._show_line)
        self.list_page.foot.act.clicked.connect(self._act)
        self.panel.back_asked.connect(self.show_list)
        desk.lines_changed.connect(self._say_how_it_stands)
        desk.went_on.connect(lambda count: self.say(f"{READING}: {count} so far."))
        desk.refused.connect(lambda words: self.say(words, refused=True))
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self.serial.setFixedWidth(look.pixels(168))
        self.list_page.set_look(look)
        self.panel.set_look(look)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the list."""
        self.list_page.foot.say(words, refused=refused)

    def show_list(self) -> None:
        """Show what is coming due."""
        self._drift.rest()
        self._stack.setCurrentWidget(self.list_page)

    def show_begun(self) -> None:
        """Show what is not kept: nothing is written here."""

    def show_drift(self, serial: str) -> None:
        """Show the drift of a magneto."""
        self.say("")
        self._stack.setCurrentWidget(self.panel)
        self._drift.look(serial)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the orders, when something was written since they were read."""
        super().showEvent(event)
        self._desk.look()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Read no more."""
        super().hideEvent(event)
        self._desk.rest()
        self._drift.rest()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Show the drift with Enter in the serial number; Escape leads to the list."""
        if watched is self.serial and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._act()
                return True
            if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Down):
                self.list_page.take_keys()
                return True
        return super().eventFilter(watched, event)

    def _act(self) -> None:
        """Show the drift of the serial number that was typed, or of the chosen line."""
        row = self.list_page.table.chosen()
        if serial := self.serial.text().strip():
            self.show_drift(serial)
        elif row is not None:
            self._show_line(row)
        else:
            self.say(NO_SERIAL, refused=True)
            self.serial.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_line(self, row: int) -> None:
        serial = self._desk.magneto_at(row)
        if serial:
            self.show_drift(serial)
        else:
            self.say(NOT_A_MAGNETO, refused=True)

    def _say_how_it_stands(self) -> None:
        self.say("")
        self.list_page.say_notice(HOURS_SAID if self._desk.model.rowCount() else "")
