"""A new work order in one form: Enter goes on to the next field, Ctrl+Enter opens the order."""

from itertools import pairwise

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QLabel, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.orders.new_order_fields import COLUMNS, name_of, order_fields
from desktop.viewmodels.orders.new_order_form import NewOrderForm
from desktop.viewmodels.orders.order_desk import OrderDesk
from desktop.viewmodels.pieces.fields import Field
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

KEYS = "Enter: next field   Ctrl+Enter: open the order   Esc: back"
TASK = "Copy what stands on the aircraft, in its logs and on the data plates. What is not marked may stay empty."
LABEL_WIDTH = 152
SHORT, MIDDLE, LONG = 112, 208, 280
TWO_COLUMNS = 1120
SHORTS = ("lag", "since_overhaul", "total_time", "tachometer")
LONGS = ("customer.name", "customer.email", "asked", "complaint", "authorised")


class NewOrderPage(QWidget):
    """Shows the form; what it says is opened at the desk."""

    back_asked = Signal()

    def __init__(self, form: NewOrderForm, desk: OrderDesk, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._form = form
        self._desk = desk
        self._look = look
        self._fields = tuple(order_fields())
        self.rows: dict[str, FieldRow] = {}
        self.foot = PageFoot("Open the order", KEYS, "Back to the orders")
        self._build()
        self.foot.act.clicked.connect(self.open_order)
        self.foot.back.clicked.connect(self.back_asked)
        form.typed_changed.connect(lambda _typed: self.show_typed())
        desk.order_opened.connect(lambda _answer: self._begin_empty())
        desk.refused.connect(self._say_refusal)
        self.set_look(look)

    def _build(self) -> None:
        self._inside = QWidget()
        self._inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(self._inside)
        title = QLabel("New work order")
        title.setObjectName("title")
        task = QLabel(TASK)
        task.setObjectName("quiet")
        task.setWordWrap(True)
        self._sheet.addWidget(title)
        self._sheet.addWidget(task)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._stacks: list[QVBoxLayout] = []
        self._headings: list[QLabel] = []
        for column in COLUMNS:
            stack = QVBoxLayout()
            for group in column:
                heading = QLabel(group.title)
                heading.setObjectName("group")
                heading.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
                self._headings.append(heading)
                stack.addWidget(heading)
                for field in group.fields:
                    stack.addWidget(self._row(field))
            stack.addStretch(1)
            self._stacks.append(stack)
            self._columns.addLayout(stack, 1)
        self._sheet.addLayout(self._columns)
        self._sheet.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setObjectName("sheet")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(self._inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self._scroll, 1)
        outer.addWidget(self.foot)
        order = [*(self.rows[field.path].editor for field in self._fields), self.foot.act, self.foot.back]
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _row(self, field: Field) -> FieldRow:
        short, long = field.path.endswith(SHORTS), field.path in LONGS
        width = SHORT if short else LONG if long else MIDDLE
        row = FieldRow(field, self._look, label_width=LABEL_WIDTH, editor_width=width)
        row.editor.setAccessibleName(f"{name_of(field.path)} {field.unit}".strip())
        row.committed.connect(self._form.commit)
        row.entered.connect(self._go_from)
        row.focused.connect(self._show_field)
        self.rows[field.path] = row
        return row

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        margin = look.pixels(24)
        self._sheet.setContentsMargins(margin, look.pixels(16), margin, margin)
        self._sheet.setSpacing(look.pixels(4))
        for stack in self._stacks:
            stack.setSpacing(look.pixels(6))
        for heading in self._headings:
            heading.setMinimumHeight(look.pixels(40))
        for row in self.rows.values():
            row.set_look(look)
        self._arrange()
        self.show_typed()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange anew: two columns where there is room, else one."""
        super().resizeEvent(event)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Begin in the first field that is empty."""
        super().showEvent(event)
        empty = (field for field in self._fields if self._form.typed.value(field.path) is None)
        self.focus(next(empty, self._fields[0]))

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Hand over what stands in the fields, so that the form waits as it was left."""
        super().hideEvent(event)
        self.commit_all()

    def event(self, event: QEvent) -> bool:
        """Claim Ctrl+Enter for this page before a menu takes it."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _opens(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Open the order, or go back."""
        if _opens(event):
            self.open_order()
        elif event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def open_order(self) -> None:
        """Open the order that the form says; with a fault, go to the first one."""
        self.commit_all()
        new = self._form.finish()
        if new is not None:
            self.foot.say("")
            self._desk.open_order(new)
            return
        first = self._form.first_fault()
        if first is not None:
            self.focus(first)
            self.foot.say("The order is not open yet. Each field that is marked says what to write.", refused=True)

    def focus(self, field: Field) -> None:
        """Put the cursor into a field and show it."""
        self.rows[field.path].editor.setFocus(Qt.FocusReason.TabFocusReason)

    def show_typed(self) -> None:
        """Show what stands in the form and what is wrong with it."""
        for field in self._fields:
            self.rows[field.path].show_state(
                self._form.typed.value(field.path), self._form.note_at(field), field.hint, self._form.fault_at(field)
            )

    def commit_all(self) -> None:
        """Hand over the fields that are being typed in."""
        for row in self.rows.values():
            row.commit()

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        wide = width >= look.pixels(TWO_COLUMNS)
        self._columns.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)
        self._columns.setSpacing(look.pixels(48 if wide else 0))
        self.foot.set_look(look, width)

    def _go_from(self, field: Field) -> None:
        """Go to the next field, past those that the known aircraft filled in; after the last one to the button."""
        after = self._fields[self._fields.index(field) + 1 :]
        asked = next((one for one in after if not self._form.is_filled_in(one)), None)
        if asked is not None:
            self.focus(asked)
        else:
            self.foot.act.setFocus(Qt.FocusReason.TabFocusReason)

    def _show_field(self, field: Field) -> None:
        row = self.rows[field.path]
        QTimer.singleShot(0, row, lambda: self._scroll.ensureWidgetVisible(row))

    def _begin_empty(self) -> None:
        """Begin anew after an order was opened; what was typed stands in the order now."""
        for row in self.rows.values():
            if isinstance(row.editor, QLineEdit):
                row.editor.setModified(False)
        self._form.begin_empty()

    def _say_refusal(self, words: str) -> None:
        if self.isVisible():
            self.foot.say(words, refused=True)


def _opens(event: QKeyEvent) -> bool:
    is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
    return is_enter and bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
