"""The first start in a window: three questions, a look round the demo, or a shop file that is there already."""

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMainWindow,
    QMenu,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from desktop.core.guide import GuidePage
from desktop.viewmodels.frame.first_start import FirstStart
from desktop.viewmodels.pieces.fields import Field
from desktop.windows.frame.first_start_secret import EDITOR_WIDTH, LABEL_WIDTH, SecretRow
from desktop.windows.frame.first_start_ways import OtherWays
from desktop.windows.frame.guide_door import GuideDoor
from desktop.windows.frame.present_place import FIRST_START
from desktop.windows.paper.paper_desk import ask_file
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot
from desktop.windows.pieces.progress_strip import ProgressStrip

TWO_COLUMNS = 1080
KEYS = "Enter: next field   Ctrl+Enter: make the shop file   Tab: on"
ACT = "Make the shop file"
TASK = (
    "Three questions make a shop. Everything can be changed later, but the secret, which only you know: it signs in "
    "your name, and nobody can give it back. Write it down and lock it away."
)
NOT_MADE = "The shop file is not made yet. Each field that is marked says what to write."
MAKING, DEMO_MADE = "Making the shop file", "Making the demo"
DEMO_COMES = "An invented shop with aircraft, cards and signed records. It takes half a minute."
SHOP_FILES = "Shop files (*.shop);;All files (*)"


class FirstStartPage(QWidget):
    """Shows the questions of a first start."""

    card_asked = Signal()
    restore_asked = Signal()

    def __init__(self, first: FirstStart, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._first = first
        self._look = look
        self._title = QLabel("A new shop")
        self._title.setObjectName("title")
        self._task = QLabel(TASK)
        self._task.setObjectName("quiet")
        self._task.setWordWrap(True)
        self.ways = OtherWays(has_demo=first.has_demo)
        self.demo, self.card = self.ways.demo, self.ways.card
        self.secret, self.again = SecretRow("Your secret", "Your secret"), SecretRow("The same again", "The same again")
        self.again.hint.setText("so that no slip locks you out")
        self.trouble = QLabel()
        self.trouble.setObjectName("fault")
        self.trouble.setWordWrap(True)
        self.strip = ProgressStrip(look)
        self.foot = PageFoot(ACT, KEYS)
        self.rows: dict[str, FieldRow] = {}
        self._stacks: list[QVBoxLayout] = []
        self._headings: list[QLabel] = []
        self._build()
        self._connect()
        self.set_look(look)
        self._show_busy()

    def _build(self) -> None:
        self._inside = QWidget()
        self._inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(self._inside)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        for column in self._first.form.columns:
            stack = QVBoxLayout()
            for group in column:
                heading = QLabel(group.title)
                heading.setObjectName("group")
                heading.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
                self._headings.append(heading)
                stack.addWidget(heading)
                for field in group.fields:
                    stack.addWidget(self._row(field))
            self._columns.addLayout(stack, 1)
            self._stacks.append(stack)
        for widget in (self.secret, self.again, self.trouble):
            self._stacks[-1].addWidget(widget)
        for stack in self._stacks:
            stack.addStretch(1)
        for part in (self._title, self._task):
            self._sheet.addWidget(part)
        self._sheet.addLayout(self._columns)
        self._sheet.addStretch(1)
        self._sheet.addWidget(self.ways)
        self._scroll = QScrollArea()
        self._scroll.setObjectName("sheet")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(self._inside)
        self._making = QHBoxLayout()
        self._making.addWidget(self.strip)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._scroll, 1)
        outer.addLayout(self._making)
        outer.addWidget(self.foot)
        order = [*(row.editor for row in self.rows.values()), self.secret.field, self.again.field, self.foot.act]
        for one, other_one in pairwise([*order, *self.ways.buttons]):
            QWidget.setTabOrder(one, other_one)

    def _connect(self) -> None:
        first = self._first
        self.foot.act.clicked.connect(self.make)
        self.ways.reached.connect(lambda button: QTimer.singleShot(0, self, lambda: self._see(button)))
        self.ways.demo_asked.connect(first.make_demo)
        self.ways.restore_asked.connect(self.restore_asked)
        self.ways.open_asked.connect(self._ask_which)
        self.ways.card_asked.connect(self.card_asked)
        self.strip.stop_asked.connect(first.stop)
        self.secret.field.returnPressed.connect(self.again.field.setFocus)
        self.again.field.returnPressed.connect(self.foot.act.setFocus)
        first.form.typed_changed.connect(self.show_typed)
        first.refused.connect(lambda words: self.foot.say(words, refused=True))
        first.secret_refused.connect(self._say_secret)
        first.busy_changed.connect(self._show_busy)
        first.went_on.connect(self.strip.show_pace)

    def _row(self, field: Field) -> FieldRow:
        row = FieldRow(field, self._look, label_width=LABEL_WIDTH, editor_width=EDITOR_WIDTH)
        row.editor.setAccessibleName(field.label)
        row.committed.connect(self._first.form.commit)
        row.entered.connect(self._go_from)
        row.focused.connect(lambda _field, row=row: QTimer.singleShot(0, row, lambda: self._see(row)))
        self.rows[field.path] = row
        return row

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._sheet.setContentsMargins(margin, look.pixels(16), margin, margin)
        self._sheet.setSpacing(look.pixels(8))
        self._task.setMaximumWidth(look.pixels(880))
        for stack in self._stacks:
            stack.setSpacing(look.pixels(6))
        for row in self.rows.values():
            row.set_look(look)
        for part in (self.secret, self.again, self.strip):
            part.set_look(look)
        for heading in self._headings:
            heading.setMinimumHeight(look.pixels(40))
        self.trouble.setIndent(look.pixels(LABEL_WIDTH + 12))
        self._making.setContentsMargins(margin, look.pixels(8), margin, look.pixels(8))
        self._making.setSpacing(margin)
        self._arrange()
        self.show_typed()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: two columns where there is room, else one."""
        super().resizeEvent(event)
        self._arrange()

    def event(self, event: QEvent) -> bool:
        """Claim Ctrl+Enter for this page."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _makes(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Make the shop with Ctrl+Enter."""
        if _makes(event):
            self.make()
        else:
            super().keyPressEvent(event)

    def begin(self) -> None:
        """Put the cursor into the first field."""
        next(iter(self.rows.values())).editor.setFocus(Qt.FocusReason.OtherFocusReason)

    def make(self) -> None:
        """Ask for the shop; with a fault, go to the first one."""
        for row in self.rows.values():
            if row.editor.hasFocus() or (isinstance(row.editor, QLineEdit) and row.editor.isModified()):
                row.commit()
        self.trouble.setText("")
        self.foot.say("")
        form = self._first.form
        if self._first.make_shop(self.secret.field.text(), self.again.field.text()):
            self.secret.field.take()
            self.again.field.take()
            return
        wrong = form.first_fault()
        if wrong is not None:
            self.rows[wrong.path].editor.setFocus(Qt.FocusReason.TabFocusReason)
            self.foot.say(NOT_MADE, refused=True)

    def show_typed(self) -> None:
        """Show what stands in the form and what is wrong with it."""
        form = self._first.form
        for field in form.fields():
            value = form.values.get(field.path)
            self.rows[field.path].show_state(value, form.note_at(field), field.hint, form.fault_at(field))

    def _say_secret(self, words: str) -> None:
        self.trouble.setText(words)
        self.secret.field.setAccessibleDescription(words)
        self.secret.field.take()
        self.again.field.take()
        self.secret.field.setFocus(Qt.FocusReason.OtherFocusReason)
        QTimer.singleShot(0, self, lambda: self._see(self.trouble))

    def _show_busy(self) -> None:
        busy, is_demo = self._first.is_busy, self._first.makes_demo
        self._inside.setEnabled(not busy)
        self.foot.act.setEnabled(not busy)
        self.foot.say((DEMO_COMES if is_demo else "") if busy else "")
        if busy:
            self.strip.begin(DEMO_MADE if is_demo else MAKING, can_stop=is_demo)
            self.strip.stop.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.strip.end()

    def _ask_which(self) -> None:
        ask_file(self, "Open a shop file", SHOP_FILES, "", self._first.open_shop, saving=False)

    def _go_from(self, field: Field) -> None:
        order = list(self.rows)
        after = order[order.index(field.path) + 1 :]
        target = self.rows[after[0]].editor if after else self.secret.field
        target.setFocus(Qt.FocusReason.TabFocusReason)

    def _see(self, widget: QWidget) -> None:
        self._scroll.ensureWidgetVisible(widget)

    def _arrange(self) -> None:
        wide = self.width() >= self._look.pixels(TWO_COLUMNS)
        way = QBoxLayout.Direction
        self._columns.setDirection(way.LeftToRight if wide else way.TopToBottom)
        self._columns.setSpacing(self._look.pixels(48 if wide else 8))
        self.ways.set_look(self._look, self.width())
        self.foot.set_look(self._look, self.width())


class FirstStartWindow(QMainWindow):
    """The page in a window of its own."""

    def __init__(self, first: FirstStart, pages: tuple[GuidePage, ...], look: Look) -> None:
        super().__init__()
        self.first = first
        self.look = look
        first.setParent(self)
        self.setWindowTitle("Sparkwright")
        self.resize(1280, 800)
        self.page = FirstStartPage(first, look)
        self.setCentralWidget(self.page)
        self.door = GuideDoor(self, pages, lambda: FIRST_START, tuple, lambda: self.look)
        self._looks: QMenu = self.menuBar().addMenu("&View")
        self.door.add_to(self.menuBar().addMenu("&Help"))
        self._view("Light, &dark or high contrast", "Ctrl+L", lambda: self.set_look(self.look.other_theme()))
        self._view("&Larger text", "Ctrl++", lambda: self.set_look(self.look.resized(1)))
        self._view("&Smaller text", "Ctrl+-", lambda: self.set_look(self.look.resized(-1)))
        self.set_look(look)
        self.page.begin()

    def set_look(self, look: Look) -> None:
        """Take a theme and a size of text, everywhere at once."""
        self.look = look
        look.dress(self)
        self.page.set_look(look)
        self.door.set_look(look)

    def _view(self, words: str, keys: str, act: Callable[[], None]) -> None:
        action = self._looks.addAction(words)
        action.setShortcut(keys)
        action.triggered.connect(lambda _checked=False: act())

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Stop what is being made."""
        self.first.end()
        self.door.close()
        super().closeEvent(event)


def _makes(event: QKeyEvent) -> bool:
    is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
    return is_enter and bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
