"""A list under a field from which several can be picked: letters find, and typing the whole stays possible."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem

from desktop.windows.pieces.look import Look

MOST_LINES = 5
_ROW = 26


class PickList(QListWidget):
    """Shows what fits the letters after the last comma. Enter takes the one that is marked, a click takes any.

    A number that is typed whole marks nothing, so that Enter keeps the field.
    """

    def __init__(self, editor: QLineEdit, picks: tuple[tuple[str, str], ...], look: Look) -> None:
        super().__init__()
        self._editor = editor
        self._picks = picks
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Tools to pick from")
        self.itemClicked.connect(self._take)
        editor.textChanged.connect(lambda _text: self.show_matches())
        editor.installEventFilter(self)
        self.set_look(look)
        self.show_matches()

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        c = look.colours
        self.setStyleSheet(
            f"QListWidget {{ background: {c.sheet}; border: 1px solid {c.line}; }}"
            f"QListWidget::item:selected {{ background: {c.act}; color: {c.sheet}; }}"
        )
        lines = min(MOST_LINES, max(1, len(self._picks)))
        self.setFixedHeight(lines * look.pixels(_ROW) + look.pixels(8))
        self.setMaximumWidth(look.pixels(480))

    def show_matches(self) -> None:
        """Show the lines that fit what is being typed."""
        done, part = self._parts()
        self.clear()
        for number, name in self._picks:
            words = f"{number} {name}".casefold()
            if number not in done and all(word in words for word in part.casefold().split()):
                item = QListWidgetItem(f"{number}   {name}")
                item.setData(Qt.ItemDataRole.UserRole, number)
                self.addItem(item)
        is_whole = part in [number for number, _ in self._picks]
        self.setCurrentRow(0 if part and not is_whole and self.count() else -1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Let the arrows move the mark, and Enter take what is marked."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            key, held = event.key(), event.modifiers() & Qt.KeyboardModifier.ControlModifier
            if key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
                self._move(1 if key == Qt.Key.Key_Down else -1)
                return True
            item = self.currentItem()
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not held and item is not None:
                self._take(item)
                return True
        return super().eventFilter(watched, event)

    def _move(self, by: int) -> None:
        if self.count():
            self.setCurrentRow(min(max(self.currentRow() + by, 0), self.count() - 1))

    def _take(self, item: QListWidgetItem) -> None:
        done, _ = self._parts()
        self._editor.setText(", ".join((*done, str(item.data(Qt.ItemDataRole.UserRole)))) + ", ")
        self._editor.setModified(True)
        self._editor.setFocus()

    def _parts(self) -> tuple[tuple[str, ...], str]:
        """Return what was picked or typed before the last comma, and what is being typed after it."""
        *done, part = self._editor.text().split(",")
        return tuple(one.strip() for one in done if one.strip()), part.strip()
