"""One field of the card: label, editor, unit and worked-out value, and below it the sentence of a fault."""

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from desktop.core.timing.typed_paths import Value
from desktop.viewmodels.pieces.fields import Field, Kind
from desktop.windows.pieces.editors import ChoiceBox, TickBox
from desktop.windows.pieces.look import Look

ROW_HEIGHT = 38
LABEL_WIDTH = 188
EDITOR_WIDTH = 130
WIDE = ("firing_order", "what", "decision", "by")


class FieldRow(QWidget):
    """Hands typed text over as it was typed; it parses nothing.

    ``committed`` carries the value when the field is left or Enter is pressed; ``entered`` follows on Enter. Enter with
    Ctrl held is left to the page.
    """

    committed = Signal(object, object)
    entered = Signal(object)
    focused = Signal(object)

    def __init__(
        self,
        field: Field,
        look: Look,
        parent: QWidget | None = None,
        *,
        label_width: int = LABEL_WIDTH,
        editor_width: int | None = None,
    ) -> None:
        super().__init__(parent)
        self.field = field
        self._handed: tuple[Value] | None = None
        self._look = look
        wide = field.path.endswith(WIDE) or field.kind is Kind.CHOICE
        self._editor_width = editor_width or (EDITOR_WIDTH * 3 // 2 if wide else EDITOR_WIDTH)
        self._label_width = label_width
        self._label = QLabel(field.label)
        self._label.setWordWrap(True)
        self._unit = QLabel(field.unit)
        self._unit.setObjectName("quiet")
        self._unit.setWordWrap(True)
        self._fault = QLabel()
        self._fault.setObjectName("fault")
        self._fault.setWordWrap(True)
        self._fault.hide()
        self.editor = self._make_editor()
        self.editor.setAccessibleName(f"{field.label} {field.unit}".strip())
        self.editor.installEventFilter(self)
        self._label.setBuddy(self.editor)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.addWidget(self._label, 0, 0)
        self._grid.addWidget(self.editor, 0, 1)
        self._grid.addWidget(self._unit, 0, 2)
        self._grid.addWidget(self._fault, 1, 1, 1, 2)
        self._grid.setColumnStretch(2, 1)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        self._look = look
        if not isinstance(self.editor, QLineEdit):
            self.editor.set_look(look)
        self._label.setFixedWidth(look.pixels(self._label_width))
        self.editor.setFixedWidth(look.pixels(self._editor_width))
        self.editor.setMinimumHeight(look.pixels(ROW_HEIGHT))
        self._label.setMinimumHeight(look.pixels(ROW_HEIGHT))
        self._grid.setHorizontalSpacing(look.pixels(12))

    def show_state(self, value: Value, note: str, hint: str, fault: str) -> None:
        """Show what stands at the field, what was worked out of it, and what is wrong with it.

        Text that is being typed is left alone: it is newer than the card.
        """
        self._show_value(value)
        beside = note if value is not None else hint
        self._unit.setText("   ".join(part for part in (self.field.unit, beside) if part))
        self._fault.setText(fault)
        self._fault.setVisible(bool(fault))
        if self.editor.property("wrong") != bool(fault):
            self.editor.setProperty("wrong", bool(fault))
            self.editor.style().unpolish(self.editor)
            self.editor.style().polish(self.editor)
        self.editor.setAccessibleDescription(fault or note or hint)

    def value(self) -> Value:
        """Return what stands in the editor."""
        if isinstance(self.editor, TickBox):
            return self.editor.isChecked()
        if isinstance(self.editor, ChoiceBox):
            data = self.editor.currentData()
            return data if isinstance(data, str) else None
        assert isinstance(self.editor, QLineEdit)  # noqa: S101 - the three kinds of editor
        return self.editor.text() or None

    def commit(self) -> None:
        """Hand over what stands in the editor."""
        self._handed = (self.value(),)
        self.committed.emit(self.field, self.value())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Commit when the field is left; Enter commits and asks for the next open field."""
        if event.type() == QEvent.Type.FocusIn:
            self._handed = None
            self.focused.emit(self.field)
        if event.type() == QEvent.Type.FocusOut and self._handed != (self.value(),):
            self.commit()
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            held = event.modifiers() & Qt.KeyboardModifier.ControlModifier
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not held:
                self.commit()
                self.entered.emit(self.field)
                return True
            if self.field.kind is Kind.CHOICE and event.key() == Qt.Key.Key_Backspace:
                assert isinstance(self.editor, ChoiceBox)  # noqa: S101 - a choice has a combo box
                self.editor.setCurrentIndex(0)
                return True
        return super().eventFilter(watched, event)

    def _make_editor(self) -> QLineEdit | ChoiceBox | TickBox:
        if self.field.kind is Kind.TICK:
            box = TickBox(self._look)
            box.clicked.connect(self.commit)
            return box
        if self.field.kind is Kind.CHOICE:
            combo = ChoiceBox(self._look)
            combo.addItem("", None)
            for value, words in self.field.choices:
                combo.addItem(words, str(value))
            combo.activated.connect(self.commit)
            return combo
        edit = QLineEdit()
        edit.setMaxLength(200)
        return edit

    def _show_value(self, value: Value) -> None:
        if isinstance(self.editor, TickBox):
            self.editor.setChecked(value is True)
        elif isinstance(self.editor, ChoiceBox):
            text = str(value).lower() if isinstance(value, bool) else value
            place = self.editor.findData(text) if text else 0
            if place < 0 and text:
                self.editor.addItem(f"{text} (?)", text)
                place = self.editor.count() - 1
            self.editor.setCurrentIndex(place)
        elif not self.editor.hasFocus() or not self.editor.isModified():
            if self.editor.text() != str(value or ""):
                self.editor.setText(str(value or ""))
            self.editor.setModified(False)  # the same text is left alone: what was typed can be taken back
            if not self.editor.hasFocus():
                self.editor.setCursorPosition(0)  # a long value shows its beginning
