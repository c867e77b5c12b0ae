"""Copies of the shop: those that are known, how the shop file stands, and the next one below."""

from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.shop.copies_desk import CopiesDesk
from desktop.windows.lists.list_table import ListTable
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.progress_strip import ProgressStrip
from desktop.windows.shop.copies_dialogs import ask_copy, ask_folder
from desktop.windows.shop.copies_doctor import DoctorPanel

KEYS = "Enter: restore it   Alt+M: make a copy   Alt+E: copy elsewhere   Alt+R: restore   Alt+L: look again"
ACT, RESTORE, ELSEWHERE, AGAIN = "&Make a copy now", "&Restore a copy…", "Copy &elsewhere…", "&Look again"
MAKING = "Copying, and reading the copy back"
NO_COPY = "No copy is known here. Make one now: the folder for copies is named at Settings, on another disk."
ONE_LINE = 1240
"""From this width on, in the grid's pixels, everything about a copy has a column of its own."""


class CopiesPage(QWidget):
    """Shows the copies of a desk. ``copy_chosen`` carries the one that is to be restored."""

    copy_chosen = Signal(object)

    def __init__(self, desk: CopiesDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._look = look
        self._title = QLabel("Copies")
        self._title.setObjectName("title")
        self.table = ListTable(desk.model, "Copies", look)
        self.table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.empty = QWidget()
        words = QLabel(NO_COPY)
        words.setObjectName("quiet")
        words.setWordWrap(True)
        self._empty = QVBoxLayout(self.empty)
        self._empty.addWidget(words)
        self.doctor = DoctorPanel(look)
        self.area = QScrollArea()
        self.restore, self.elsewhere, self.again = QPushButton(RESTORE), QPushButton(ELSEWHERE), QPushButton(AGAIN)
        self.strip = ProgressStrip(look)
        self.foot = PageFoot(ACT, KEYS)
        self._build()
        self._connect()
        self.set_look(look)

    def _build(self) -> None:
        inside = QWidget()
        inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(inside)
        self._sheet.setContentsMargins(0, 0, 0, 0)
        self._sheet.setSpacing(0)
        for widget in (self.table, self.empty, self.doctor):
            self._sheet.addWidget(widget)
        self._sheet.addStretch(1)
        self.area.setObjectName("sheet")
        self.area.setAccessibleName("Copies, and how the shop file stands")
        self.area.setWidgetResizable(True)
        self.area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.area.setWidget(inside)
        self._head = QVBoxLayout()
        self._head.addWidget(self._title)
        self._buttons = QWidget()
        self._row = QHBoxLayout(self._buttons)
        self._row.setContentsMargins(0, 0, 0, 0)
        for button in (self.restore, self.elsewhere, self.again):
            button.setAutoDefault(True)
            self._row.addWidget(button)
        self._row.addStretch(1)
        self._tools = QVBoxLayout()
        self._tools.addWidget(self._buttons)
        self._tools.addWidget(self.strip)
        self.strip.hide()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._head)
        outer.addWidget(self.area, 1)
        outer.addLayout(self._tools)
        outer.addWidget(self.foot)
        order = (self.table, self.area, self.restore, self.elsewhere, self.again, self.strip.stop, self.foot.act)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _connect(self) -> None:
        desk = self.desk
        self.table.line_chosen.connect(lambda row: self.copy_chosen.emit(desk.model.line(row).place))
        self.table.selectionModel().currentRowChanged.connect(self._see)
        self.foot.act.clicked.connect(self._make)
        self.restore.clicked.connect(lambda: ask_copy(self, desk.folder(), self.copy_chosen.emit))
        self.elsewhere.clicked.connect(self._ask_folder)
        self.again.clicked.connect(self._look_again)
        self.strip.stop_asked.connect(desk.stop)
        desk.went_on.connect(self.strip.show_pace)
        desk.looked.connect(self._show_looked)
        desk.made.connect(self.say)
        desk.refused.connect(lambda words: self.say(words, refused=True))
        desk.busy_changed.connect(self._show_busy)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._head.setContentsMargins(margin, look.pixels(16), margin, look.pixels(12))
        self._empty.setContentsMargins(margin, look.pixels(16), margin, look.pixels(8))
        self._tools.setContentsMargins(margin, look.pixels(8), margin, look.pixels(8))
        for row in (self._tools, self._row):
            row.setSpacing(look.pixels(8))
        self.area.setStyleSheet(f"QScrollArea#sheet:focus {{ border: 2px solid {look.colours.act}; }}")
        self.doctor.set_look(look)
        self.strip.set_look(look)
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: what has no room in one line stands in more."""
        super().resizeEvent(event)
        self._arrange()

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the page."""
        self.foot.say(words, refused=refused)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Look at the shop file and its copies again."""
        super().showEvent(event)
        self._look_again()
        self.take_keys()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Look no more; a copy that is being made goes on."""
        super().hideEvent(event)
        self.desk.leave()

    def take_keys(self) -> None:
        """Put the keyboard into the list, on Stop while a copy is made, or on the button while there is no line."""
        target: QWidget = self.table if self.desk.model.rowCount() else self.foot.act
        target = self.strip.stop if self.desk.is_busy else target
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _look_again(self) -> None:
        self.desk.look()
        self._show_looked()

    def _show_looked(self) -> None:
        has_keys = self.isVisible() and self.window().focusWidget() in (self.table, self.foot.act)
        self.doctor.show_lines(self.desk.doctor, *self.desk.verdict)
        self.table.choose_first()
        self._arrange()
        if has_keys:
            self.take_keys()

    def _arrange(self) -> None:
        """Give the list the height of its lines: the page as a whole is what scrolls."""
        self.table.set_look(self._look, self.width(), narrow_below=ONE_LINE)
        rows = sum(self.table.rowHeight(row) for row in range(self.desk.model.rowCount()))
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + rows)
        self.table.setVisible(bool(rows))
        self.empty.setVisible(not rows and not self.desk.is_looking)
        self.foot.set_look(self._look, self.width())

    def _see(self, index: QModelIndex) -> None:
        room, inside = self.table.visualRect(index), self.area.widget()
        if inside is not None:
            at = self.table.viewport().mapTo(inside, room.center())
            self.area.ensureVisible(at.x(), at.y(), 0, room.height())

    def _make(self) -> None:
        folder = self.desk.folder()
        if folder is None:
            self._ask_folder()
        else:
            self._make_in(folder)

    def _make_in(self, folder: Path) -> None:
        self.say("")
        self.desk.make(folder)

    def _ask_folder(self) -> None:
        ask_folder(self, self.desk.folder(), self._make_in)

    def _show_busy(self) -> None:
        is_busy = self.desk.is_busy
        had_keys = self.strip.stop.hasFocus()
        self._buttons.setVisible(not is_busy)
        self.foot.act.setEnabled(not is_busy)
        if is_busy:
            self.strip.begin(MAKING, can_stop=True)
        else:
            self.strip.end()
        if self.isVisible() and (is_busy or had_keys):
            self.take_keys()
