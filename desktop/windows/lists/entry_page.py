"""One entry of a list in one form: Enter goes on to the next field, Ctrl+Enter keeps it, Escape leads back."""

from itertools import pairwise

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLabel, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Kind
from desktop.windows.pieces.field_row import FieldRow
from desktop.windows.pieces.look import Look
from desktop.windows.pieces.page_foot import PageFoot

LABEL_WIDTH, EDITOR_WIDTH, SHORT = 152, 288, 112
SHORT_UNITS = ("h", "magneto °")
"""Units of numbers that are short; what is said of them stands behind."""
TWO_COLUMNS = 1120
NOT_KEPT = "This is not kept yet. Each field that is marked says what to write."
KEYS = "Enter: next field   Space: tick   Ctrl+Enter: as the button says   Esc: back"
"""The keys of every form; each says what its own button does."""


def keys_said(act: str) -> str:
    """Return the keys of a form whose button does ``act``."""
    said = act.replace("&", "").rstrip("…")
    return KEYS.replace("as the button says", f"{said[:1].lower()}{said[1:]}")


class EntryPage(QWidget):
    """Shows a form; ``keep_asked`` comes only when nothing in it is wrong; else ``not_kept`` is said."""

    keep_asked = Signal()
    back_asked = Signal()
    not_kept = NOT_KEPT

    def __init__(self, form: EntryForm, act: str, back: str, look: Look) -> None:
        super().__init__()
        self.setObjectName("ground")
        self._form = form
        self._look = look
        self.rows: dict[str, FieldRow] = {}
        self._shown: object = None
        self._title = QLabel()
        self._title.setObjectName("title")
        self._task = QLabel()
        self._task.setObjectName("quiet")
        self._task.setWordWrap(True)
        self.foot = PageFoot(act, keys_said(act), back)
        self._stacks: list[QVBoxLayout] = []
        self._headings: list[QLabel] = []
        self._build()
        self.foot.act.clicked.connect(self.keep)
        self.foot.back.clicked.connect(self.back_asked)
        form.typed_changed.connect(self.show_typed)
        self._make_rows()
        self.set_look(look)

    def _build(self) -> None:
        inside = QWidget()
        inside.setObjectName("sheet")
        self._sheet = QVBoxLayout(inside)
        self._sheet.addWidget(self._title)
        self._sheet.addWidget(self._task)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._sheet.addLayout(self._columns)
        self._sheet.addStretch(1)
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

    @property
    def is_begun(self) -> bool:
        """Whether something stands in the form that is not kept."""
        return self._form.is_begun

    def begin(self, title: str, task: str) -> None:
        """Show the form as it was begun, with the cursor in its first field that is asked for."""
        self._title.setText(title)
        self._task.setText(task)
        if self._shown != self._form.columns:
            self._make_rows()
            self.set_look(self._look)
        self.foot.say("")
        for row in self.rows.values():
            if isinstance(row.editor, QLineEdit):
                row.editor.setModified(False)
        self.show_typed()
        first = next((field for field in self._form.fields() if self._form.is_open(field)), None)
        QTimer.singleShot(0, self, lambda: self.focus(first) if first else self.foot.act.setFocus())

    def _make_rows(self) -> None:
        """Lay the fields out anew: the words to choose from came with the form."""
        self._shown = self._form.columns
        for old in (*self.rows.values(), *self._headings):
            old.hide()
            old.deleteLater()
        for stack in self._stacks:
            self._columns.removeItem(stack)
            stack.deleteLater()
        self.rows, self._headings, self._stacks = {}, [], []
        for column in self._form.columns:
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
        order = [*(row.editor for row in self.rows.values()), self.foot.act, self.foot.back]
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _row(self, field: Field) -> FieldRow:
        row = FieldRow(field, self._look, label_width=LABEL_WIDTH, editor_width=self.editor_width(field))
        row.editor.setAccessibleName(self._form.name_of(field))
        row.committed.connect(self._form.commit)
        row.entered.connect(self._go_from)
        row.focused.connect(self._show_field)
        self.rows[field.path] = row
        return row

    def editor_width(self, field: Field) -> int | None:
        """Return how wide a field's editor is; None for as wide as its kind."""
        if field.unit in SHORT_UNITS:
            return SHORT
        return None if field.kind is Kind.TICK else EDITOR_WIDTH

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

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Hand over what stands in the fields, so that the form waits as it was left."""
        super().hideEvent(event)
        self.commit_all()

    def event(self, event: QEvent) -> bool:
        """Claim Ctrl+Enter for this page before a menu takes it."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _keeps(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the entry, or go back."""
        if _keeps(event):
            self.keep()
        elif event.key() == Qt.Key.Key_Escape:
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    def keep(self) -> None:
        """Ask for the entry to be kept; with a fault, go to the first one."""
        self.commit_all()
        if self._form.try_it():
            self.foot.say("")
            self.keep_asked.emit()
            return
        first = self._form.first_fault()
        if first is not None:
            self.focus(first)
        self.foot.say(self.not_kept, refused=True)

    def say(self, words: str, *, refused: bool = False) -> None:
        """Say something once at the foot."""
        self.foot.say(words, refused=refused)

    def focus(self, field: Field) -> None:
        """Put the cursor into a field and show it."""
        self.rows[field.path].editor.setFocus(Qt.FocusReason.TabFocusReason)

    def show_typed(self) -> None:
        """Show what stands in the form and what is wrong with it."""
        for field in self._form.fields():
            row = self.rows.get(field.path)
            if row is not None:
                value = self._form.values.get(field.path)
                row.show_state(value, self._form.note_at(field), field.hint, self._form.fault_at(field))
                row.editor.setEnabled(self._form.is_open(field))

    def commit_all(self) -> None:
        """Hand over the fields that are being typed in."""
        for row in self.rows.values():
            if row.editor.hasFocus() or (isinstance(row.editor, QLineEdit) and row.editor.isModified()):
                row.commit()

    def _arrange(self) -> None:
        look, width = self._look, self.width()
        wide = width >= look.pixels(TWO_COLUMNS)
        self._columns.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)
        self._columns.setSpacing(look.pixels(48 if wide else 0))
        self.foot.set_look(look, width)

    def _go_from(self, field: Field) -> None:
        """Go to the next field, past those that are filled in; after the last one to the button."""
        fields = list(self._form.fields())
        asked = next((one for one in fields[fields.index(field) + 1 :] if not self._form.is_filled_in(one)), None)
        if asked is not None:
            self.focus(asked)
        else:
            self.foot.act.setFocus(Qt.FocusReason.TabFocusReason)

    def _show_field(self, field: Field) -> None:
        row = self.rows[field.path]
        QTimer.singleShot(0, row, lambda: self._scroll.ensureWidgetVisible(row))


def _keeps(event: QKeyEvent) -> bool:
    is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
    return is_enter and bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
