"""Restoring a copy: what was found in it, who signs, and the restore at the bottom right."""

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.shop.copies_found import found_verdict
from desktop.viewmodels.shop.copies_restore import RestoreDesk
from desktop.windows.pieces.finding_list import VerdictView
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.progress_strip import ProgressStrip
from desktop.windows.shop.copies_dialogs import ask_copy
from desktop.windows.shop.copies_restore_fields import RestoreFields

KEYS = "Alt+C: choose a copy   Space: tick   Enter: restore   Esc: back"
CHOOSE, ACT, BACK = "&Choose a copy…", "&Restore this copy", "&Back"
TASK = "The copy is verified before anything is touched. The present file is kept aside; nothing is erased."
TITLE, VERIFYING, RESTORING = "Restore a copy", "Verifying the copy", "Restoring the copy"
FIRST = "Choose the copy that is to become the shop file. The newest one that is sound is the right one."


class RestorePage(QWidget):
    """Shows a restore of a desk; ``back_asked`` leads away from it."""

    back_asked = Signal()

    def __init__(self, desk: RestoreDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self.desk = desk
        self._look = look
        self._title = QLabel(TITLE)
        self._title.setObjectName("title")
        self._task = QLabel(TASK)
        self.name = QLabel()
        self.name.setObjectName("group")
        self._verdict: VerdictView | None = None
        for label in (self._task, self.name):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self._task.setObjectName("quiet")
        self.choose = QPushButton(CHOOSE)
        self.choose.setAutoDefault(True)
        self.fields = RestoreFields(look, is_new=desk.is_new)
        self.strip = ProgressStrip(look)
        self.foot = PageFoot(ACT, KEYS, BACK)
        self._build()
        self._connect()
        self.set_look(look)
        self.show_found()
        self._show_busy()

    def _build(self) -> None:
        inside = QWidget()
        inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(inside)
        for widget in (self._title, self._task, self.name):
            self._sheet.addWidget(widget)
        self._sheet.addWidget(self.choose, 0, Qt.AlignmentFlag.AlignLeft)
        self._said = QVBoxLayout()
        self._sheet.addLayout(self._said)
        self._sheet.addWidget(self.fields)
        self._sheet.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setObjectName("sheet")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(inside)
        inside.installEventFilter(self)
        self._under_way = QWidget()
        self._under_way.setObjectName("ground")
        self._strip_room = QVBoxLayout(self._under_way)
        self._strip_room.addWidget(self.strip)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._scroll, 1)
        outer.addWidget(self._under_way)
        outer.addWidget(self.foot)
        fields = self.fields
        order = (self.choose, fields.place, fields.older, fields.keeper, fields.secret, self.foot.act, self.foot.back)
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _connect(self) -> None:
        desk, fields = self.desk, self.fields
        self.foot.act.clicked.connect(self.act)
        self.foot.back.clicked.connect(self.back_asked)
        self.choose.clicked.connect(self.ask_which)
        fields.entered.connect(self.act)
        fields.focused.connect(lambda widget: QTimer.singleShot(0, self, lambda: self._see(widget)))
        self.strip.stop_asked.connect(desk.stop)
        desk.went_on.connect(self.strip.show_pace)
        desk.found_changed.connect(self.show_found)
        desk.busy_changed.connect(self._show_busy)
        desk.refused.connect(self._refuse)
        desk.place_refused.connect(self._refuse_place)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._sheet.setContentsMargins(margin, look.pixels(16), margin, margin)
        self._sheet.setSpacing(look.pixels(8))
        self._strip_room.setContentsMargins(margin, look.pixels(8), margin, look.pixels(8))
        for part in (self.fields, self.strip):
            part.set_look(look)
        self._show_verdict()
        self.foot.set_look(look, self.width())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange the foot anew."""
        super().resizeEvent(event)
        self.foot.set_look(self._look, self.width())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep the field in use in sight when what stands above it takes its height."""
        if event.type() == QEvent.Type.Resize and (used := self.focusWidget()) is not None:
            QTimer.singleShot(0, self, lambda: self._see(used))
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Lead back, unless something is under way."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot of the page."""
        self.foot.say(words, refused=refused)

    def leave(self) -> None:
        """Lead back, unless something is under way."""
        if not self.desk.is_busy:
            self.back_asked.emit()

    def ask_which(self) -> None:
        """Ask for a copy, and verify it."""
        copy = self.desk.copy
        ask_copy(self, copy.parent if copy else None, self.desk.examine)

    def act(self) -> None:
        """Restore the copy that was found."""
        fields = self.fields
        self.say("")
        fields.say("")
        place, takes_older = fields.place.text(), fields.older.isChecked()
        if self.desk.restore(fields.keeper_id(), fields.secret.text(), takes_older=takes_older, place=place):
            fields.secret.take()

    def take_keys(self) -> None:
        """Put the keyboard where the page goes on."""
        target: QWidget = self.fields.first() if self.desk.found else self.choose
        target = self.strip.stop if self.desk.is_busy else target
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self) -> None:
        """Show what was found in the copy, or that one is to be chosen."""
        desk, found = self.desk, self.desk.found
        self.name.setText(str(desk.copy) if desk.copy else FIRST)
        self._show_verdict()
        self.fields.setVisible(found is not None)
        self.say("")
        self._show_buttons()
        if found is not None:
            self.fields.begin(found, desk.proposed_place())
            if self.isVisible():
                self.take_keys()

    def _show_verdict(self) -> None:
        """Show how the copy stands to the present file, and what was found in it."""
        if self._verdict is not None:
            self._verdict.hide()
            self._verdict.deleteLater()
            self._verdict = None
        if (found := self.desk.found) is not None:
            self._verdict = VerdictView(found_verdict(found), self._look, 16)
            for label in self._verdict.findChildren(QLabel):
                label.setTextFormat(Qt.TextFormat.PlainText)
            self._said.addWidget(self._verdict)

    def _show_busy(self) -> None:
        is_busy = self.desk.is_busy
        self._under_way.setVisible(is_busy)
        self.fields.setEnabled(not is_busy)
        self._show_buttons()
        if is_busy:
            self.say("")
            self.strip.begin(RESTORING if self.desk.is_restoring else VERIFYING, can_stop=True)
        else:
            self.strip.end()
        if self.isVisible():
            self.take_keys()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Begin where the page goes on."""
        super().showEvent(event)
        self.take_keys()

    def _show_buttons(self) -> None:
        is_free = not self.desk.is_busy
        for button in (self.choose, self.foot.back):
            button.setEnabled(is_free)
        self.foot.act.setEnabled(is_free and self.desk.found is not None)

    def _refuse(self, words: str) -> None:
        if self.desk.found is None:
            self.say(words, refused=True)
        elif self.fields.is_asked_about_older:
            self.say(words, refused=True)
            self.take_keys()
        else:
            self.fields.say(words)
            QTimer.singleShot(0, self, lambda: self._see(self.fields.trouble))

    def _refuse_place(self, words: str) -> None:
        self.fields.say_at_place(words)

    def _see(self, widget: QWidget) -> None:
        if self._scroll.isAncestorOf(widget):
            self._scroll.ensureWidgetVisible(widget)
